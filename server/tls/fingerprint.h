#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

#include "server/tls/openssl.h"

namespace swardwalk::server {

/// SHA-256 over a certificate's bytes (DER): what tablets pin.
using Fingerprint = std::array<std::uint8_t, 32>;

Fingerprint fingerprintOf(const X509& certificate);

/// 64 hexadecimal digits, in lower case.
std::string written(const Fingerprint& fingerprint);

/// Reads digits of either case, with or without colons between pairs; nothing where it is
/// no fingerprint.
std::optional<Fingerprint> parseFingerprint(std::string_view text);

}  // namespace swardwalk::server
