#include "server/command/shed_link.h"

#include "server/command/known_sheds.h"
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
  return KnownShed{*named, *known ? (*known)->token : std::string()};
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
  if (!hidden) return link;

  const std::string address = std::string(encrypted) + link.host;
  auto pin = pinOf(line, address);
  if (!pin) return tl::unexpected(pin.error());
  link.wire = tlsWire(std::move(link.wire), pin->fingerprint);
  if (!line.fingerprint.empty()) {
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
