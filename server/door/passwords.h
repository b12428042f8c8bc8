#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "common/failure.h"

namespace swardwalk::server {

/// Passwords: 12 characters or more of any kind, 256 bytes at most (OWASP ASVS 4.0.3,
/// 2.1.1 to 2.1.4), not the person's name, not one character again and again.
/// The reason why it is none, in words for people; nothing: it is one.
std::optional<std::string> passwordTrouble(std::string_view password, std::string_view name);

/// argon2id (RFC 9106) with its salt and cost in the text: 19 MiB and three passes, a tenth
/// of a second or so. At least what OWASP's cheat sheet on storing passwords asks for
/// (19 MiB, two passes; from memory), and small enough for the server's memory.
std::string passwordDigest(std::string_view password);

/// Takes as long whether it fits or not.
bool passwordFits(const std::string& digest, std::string_view password);

/// The digest of nobody's password: looking at it takes as long as at one of somebody's.
std::string nobodysDigest();

}  // namespace swardwalk::server
