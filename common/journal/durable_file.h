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

/// Adds bytes to the end of a file, which is made where there is none. On disk when it
/// returns; where it fails, the file is as long as it was before, if the disk allows.
Result<void> appendDurably(const std::string& file, std::string_view bytes);

/// Makes the names in a directory durable.
Result<void> syncDirectory(const std::string& directory);

}  // namespace swardwalk::journal
