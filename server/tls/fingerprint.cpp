#include "server/tls/fingerprint.h"

#include <fmt/format.h>
#include <openssl/err.h>

#include <cassert>

namespace swardwalk::server {

std::string opensslReason() {
  const unsigned long code = ERR_get_error();
  ERR_clear_error();
  const char* reason = code != 0 ? ERR_reason_error_string(code) : nullptr;
  return reason ? reason : "no reason given";
}

Fingerprint fingerprintOf(const X509& certificate) {
  Fingerprint fingerprint{};
  [[maybe_unused]] unsigned size = 0;
  [[maybe_unused]] const int done =
      X509_digest(&certificate, EVP_sha256(), fingerprint.data(), &size);
  assert(done == 1 && size == fingerprint.size());
  return fingerprint;
}

std::string written(const Fingerprint& fingerprint) {
  std::string text;
  for (const std::uint8_t byte : fingerprint) text += fmt::format("{:02x}", byte);
  return text;
}

std::optional<Fingerprint> parseFingerprint(std::string_view text) {
  Fingerprint fingerprint{};
  std::size_t digits = 0;
  for (std::size_t at = 0; at < text.size(); ++at) {
    const char c = text[at];
    const bool between = digits > 0 && digits % 2 == 0 && at + 1 < text.size();
    if (c == ':' && between && text[at - 1] != ':') continue;
    int value = 0;
    if (c >= '0' && c <= '9') {
      value = c - '0';
    } else if (c >= 'a' && c <= 'f') {
      value = c - 'a' + 10;
    } else if (c >= 'A' && c <= 'F') {
      value = c - 'A' + 10;
    } else {
      return std::nullopt;
    }
    if (digits >= 2 * fingerprint.size()) return std::nullopt;
    auto& byte = fingerprint[digits / 2];
    byte = static_cast<std::uint8_t>(byte * 16 + value);
    ++digits;
  }
  if (digits != 2 * fingerprint.size()) return std::nullopt;
  return fingerprint;
}

}  // namespace swardwalk::server
