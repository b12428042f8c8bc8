#pragma once

#include "common/interchange/outline_file.h"

namespace swardwalk::fuzz {

/// What a reader took from a file can be measured or is refused, and what is measured is a
/// finite number; the program ends where it is not.
void measureAll(const interchange::OutlineFile& file);

/// The bytes as a file without a folder.
std::string bytesOf(const std::uint8_t* data, std::size_t size);

}  // namespace swardwalk::fuzz
