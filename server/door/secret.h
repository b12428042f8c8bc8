#pragma once

#include <string>
#include <string_view>

#include "common/journal/record.h"

namespace swardwalk::server {

/// 32 random bytes in hexadecimal: a device's token, a session, nothing that a person types.
std::string newSecret();

/// What the shed keeps instead of a secret that was drawn at random. Nobody gets the secret
/// back from it; what a person chose needs a slow digest instead (passwords.h).
journal::Digest digestOf(std::string_view secret);

}  // namespace swardwalk::server
