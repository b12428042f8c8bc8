#pragma once

#include <cstddef>
#include <functional>
#include <limits>
#include <string>
#include <string_view>

#include "common/failure.h"

namespace swardwalk::server {

/// The whole file, or its first `mostBytes`, so that a reader which refuses what is larger need
/// not hold it; `notFound` or `io` in words.
Result<std::string> readFile(const std::string& file,
                             std::size_t mostBytes = std::numeric_limits<std::size_t>::max());

/// Writes a file so that after a power loss the old or the new one is there whole: what
/// `fill` hands to its writer goes to a file beside it, which is synced and renamed.
Result<void> replaceFile(
    const std::string& file,
    const std::function<Result<void>(const std::function<Result<void>(std::string_view)>&)>& fill);

}  // namespace swardwalk::server
