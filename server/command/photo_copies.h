#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "common/journal/journal.h"
#include "common/journal/photo_folder.h"

namespace swardwalk::server {

/// Where the pictures of a file lie: of a stick, or of a backup.
journal::PhotoFolder photosBeside(const std::string& file);

/// How many pictures were copied, and why others were not.
struct PhotoCopies {
  std::uint64_t copied = 0;
  std::vector<std::string> troubles;
};

/// Copies every picture that `journal` names and that lies in `from` and not in `to`. One that
/// is damaged is left out and named; fails where `to` cannot be written.
Result<PhotoCopies> copyPhotos(const journal::Journal& journal, const journal::PhotoFolder& from,
                               journal::PhotoFolder& to);

}  // namespace swardwalk::server
