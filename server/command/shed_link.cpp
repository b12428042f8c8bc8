#include "server/command/shed_link.h"

#include <boost/asio/ip/host_name.hpp>

#include "common/exchange/pairing.h"
#include "server/command/known_sheds.h"
#include "server/http/exchange_client.h"
#include "server/tls/tls_wire.h"

namespace swardwalk::server {
namespace {

constexpr std::string_view plain = "http://";
constexpr std::string_view encrypted = "https://";

/// The certificate to expect: the one named now, else the remembered one.
Result<KnownShed> pinOf(const CommandLine& line, const std::string& address) {
  auto known = knownShed(line.data, address);
  if (!known) return tl::unexpected(known.error());
  if (line.fingerprint.empty()) {
    if (*known) return **known;
    return fail(FailureKind::refused, line.with, "this shed was not met before",
                "give the fingerprint that it shows when it starts with --fingerprint");
  }
  const auto named = parseFingerprint(line.fingerprint);
  if (!named) {
    return fail(FailureKind::invalid, line.fingerprint, "this is no fingerprint",
                "give all 64 of its digits");
  }
  // A token is for the shed that gave it: another certificate does not get it.
  const bool same = *known && (*known)->fingerprint == *named;
  return KnownShed{*named, same ? (*known)->token : std::string()};
}

std::string ownName(const CommandLine& line) {
  if (!line.device.empty()) return line.device;
  boost::system::error_code error;  // a machine without a name is shown by its key
  const std::string name = boost::asio::ip::host_name(error);
  return error ? std::string() : name;
}

/// A token for the code: shows that the directory's key is ours, and nothing else.
Result<std::string> pair(const CommandLine& line, std::unique_ptr<Wire> wire,
                         const std::string& host, const std::string& fingerprint) {
  const auto code = exchange::parseCode(line.code);
  const auto signer = journal::Signer::read(line.data + "/origin.key");
  if (!signer) return tl::unexpected(signer.error());
  ExchangeClient client(std::move(wire), host);
  const auto question = exchange::pairingQuestion(*signer, *code, ownName(line), fingerprint);
  const auto answer = client.pair(exchange::write(question));
  if (!answer) return tl::unexpected(answer.error());
  return exchange::parsePairingAnswer(*answer);
}

}  // namespace

bool isShedAddress(const std::string& with) {
  return with.starts_with(plain) || with.starts_with(encrypted);
}

Result<ShedLink> linkTo(const CommandLine& line) {
  const bool hidden = line.with.starts_with(encrypted);
  std::string_view rest = std::string_view(line.with).substr((hidden ? encrypted : plain).size());
  if (rest.ends_with('/')) rest.remove_suffix(1);
  auto endpoint = parseEndpoint(rest);
  if (!endpoint) return tl::unexpected(endpoint.error());
  ShedLink link;
  link.host = written(*endpoint);
  link.wire = plainWire(*endpoint, {});
  if (!hidden) {
    // An open door asks for no token; using up the code shows that the way is right.
    if (line.code.empty()) return link;
    auto token = pair(line, plainWire(*endpoint, {}), link.host, "");
    if (!token) return tl::unexpected(token.error());
    link.token = std::move(*token);
    return link;
  }

  const std::string address = std::string(encrypted) + link.host;
  auto pin = pinOf(line, address);
  if (!pin) return tl::unexpected(pin.error());
  if (!line.code.empty()) {
    auto token = pair(line, tlsWire(plainWire(*endpoint, {}), pin->fingerprint), link.host,
                      written(pin->fingerprint));
    if (!token) return tl::unexpected(token.error());
    pin->token = std::move(*token);
  }
  link.wire = tlsWire(std::move(link.wire), pin->fingerprint);
  if (!line.fingerprint.empty() || !line.code.empty()) {
    // Whether it is the right one shows at once; it is kept only if the shed has it.
    if (auto met = link.wire->open(); !met) return tl::unexpected(met.error());
    if (auto kept = rememberShed(line.data, address, *pin); !kept) {
      return tl::unexpected(kept.error());
    }
  }
  link.token = pin->token;
  return link;
}

}  // namespace swardwalk::server
