#pragma once

#include <string>
#include <string_view>

#include "common/failure.h"

namespace swardwalk::exchange {

/// Zstandard (RFC 8878) with a window of at most 1 MiB, so that memory stays bounded.
std::string compress(std::string_view bytes);

/// Refuses more than `maxBytes` of output, a larger window, and damaged input.
Result<std::string> decompress(std::string_view bytes, std::size_t maxBytes);

}  // namespace swardwalk::exchange
