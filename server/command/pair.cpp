#include <boost/json.hpp>
#include <filesystem>

#include "common/exchange/pairing.h"
#include "common/measure/instant.h"
#include "server/command/commands.h"
#include "server/command/csv.h"
#include "server/command/files.h"
#include "server/door/devices.h"
#include "server/door/qr_picture.h"
#include "server/tls/server_tls.h"

namespace swardwalk::server {
namespace {

/// What somebody at the shed reads out or shows.
struct Invitation {
  NewCode code;
  std::string address;      ///< empty: the shed was never opened
  std::string fingerprint;  ///< empty: it was opened without encryption
};

std::string endOf(const NewCode& code) {
  const auto end = measure::Instant(std::chrono::milliseconds(code.ends_ms));
  return measure::Zone::utc().write(end);
}

Result<Invitation> invite(const CommandLine& line, Console& console) {
  std::error_code ignored;  // what cannot be looked at fails when it is opened
  if (!std::filesystem::exists(line.data + "/journal.sqlite", ignored)) {
    return fail(FailureKind::notFound, line.data, "there is no journal in this directory",
                "open the shed with serve first");
  }
  auto door = DoorFile::open(line.data);
  if (!door) return tl::unexpected(door.error());
  Invitation invitation;
  auto address = (*door)->fact("address");
  if (!address) return tl::unexpected(address.error());
  auto fingerprint = (*door)->fact("fingerprint");
  if (!fingerprint) return tl::unexpected(fingerprint.error());
  invitation.address = std::move(*address);
  invitation.fingerprint = std::move(*fingerprint);
  if (!line.qr.empty() && (invitation.address.empty() || invitation.fingerprint.empty())) {
    return fail(FailureKind::refused, line.qr,
                "there is no address and no certificate to draw, since the shed was not opened on "
                "a network yet",
                "open it with serve, and pair again");
  }
  auto code = Devices(**door).makeCode(console.now_ms());
  if (!code) return tl::unexpected(code.error());
  invitation.code = std::move(*code);
  return invitation;
}

boost::json::value orNull(const std::string& text) {
  return text.empty() ? boost::json::value(nullptr) : boost::json::value(text);
}

void print(const CommandLine& line, Console& console, const Invitation& invitation) {
  const std::string code = exchange::writtenCode(invitation.code.code);
  const std::string ends = endOf(invitation.code);
  switch (line.format) {
    case Format::text:
      console.out << "Code         " << code << "\nGood until   " << ends
                  << ", for one device\nAddress      "
                  << (invitation.address.empty() ? "not known: open the shed with serve"
                                                 : invitation.address)
                  << "\nFingerprint  "
                  << (invitation.fingerprint.empty() ? "none: this shed is not encrypted"
                                                     : invitation.fingerprint)
                  << '\n';
      break;
    case Format::json:
      console.out << boost::json::serialize(
                         boost::json::object{{"code", code},
                                             {"ends", ends},
                                             {"address", orNull(invitation.address)},
                                             {"fingerprint", orNull(invitation.fingerprint)}})
                  << '\n';
      break;
    case Format::csv:
      console.out << csvLine({"code", "ends", "address", "fingerprint"})
                  << csvLine({code, ends, invitation.address, invitation.fingerprint});
      break;
  }
}

}  // namespace

int runPair(const CommandLine& line, Console& console) {
  const auto invitation = invite(line, console);
  if (!invitation) return refuse(console, invitation.error());
  if (!line.qr.empty()) {
    const std::string picture = qrPicture(exchange::write(exchange::PairingCard{
        invitation->address, invitation->fingerprint, invitation->code.code}));
    const auto drawn = replaceFile(line.qr, [&](const auto& emit) { return emit(picture); });
    if (!drawn) return refuse(console, drawn.error());
  }
  print(line, console, *invitation);
  return 0;
}

}  // namespace swardwalk::server
