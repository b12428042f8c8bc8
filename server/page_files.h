#pragma once

#include <string_view>

namespace swardwalk::server {

/// A file of the review page, as it was built into the program.
struct PageFile {
  std::string_view name;
  std::string_view contentType;
  std::string_view bytes;
};

/// By its name, or nullptr.
const PageFile* pageFile(std::string_view name);

/// By "DIGEST/NAME", or nullptr. The digest is over all files, so that they refer to each
/// other by relative names and an old page never mixes with new files.
const PageFile* assetFile(std::string_view digestAndName);

}  // namespace swardwalk::server
