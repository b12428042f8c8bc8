#pragma once

#include <string_view>

namespace swardwalk::journal {

/// Is this well-formed UTF-8 (RFC 3629: no surrogates, nothing overlong, at most U+10FFFF)?
bool isUtf8(std::string_view text);

}  // namespace swardwalk::journal
