#pragma once

#include <string>
#include <string_view>

#include "common/failure.h"

namespace swardwalk::journal {

/// Writes a file that only its owner may read (mode 0600) and that must not exist yet:
/// after a power loss it is there whole or not at all. `refused` where there is one.
Result<void> writeNewDurably(const std::string& file, std::string_view bytes);

/// The same, in the place of the file that is there.
Result<void> replaceDurably(const std::string& file, std::string_view bytes);

/// Makes the names in a directory durable.
Result<void> syncDirectory(const std::string& directory);

}  // namespace swardwalk::journal
