#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "common/failure.h"
#include "common/journal/journal.h"

namespace swardwalk::interchange {

namespace limits {
inline constexpr std::size_t courseFileBytes = 64 * 1024 * 1024;
}  // namespace limits

/// A file handed to an import, with the name that messages use.
struct SourceFile {
  std::string name;
  std::string bytes;
};

struct ImportTally {
  std::uint64_t added = 0;  ///< "new"; 0 where a refusal kept everything out
  std::uint64_t known = 0;
  std::uint64_t refused = 0;      ///< features, and files that could not be read
  std::vector<Failure> refusals;  ///< named by file and index
};

struct ImportOptions {
  bool skipBad = false;  ///< take the good features although some are refused
  std::int64_t wall_ms = 0;
  journal::PersonId author{};
};

/// Takes course files (GeoJSON as contract.md describes): checks every feature, compares
/// with what is there, and appends what is new in one transaction. Names that a feature
/// refers to may stand anywhere in the files of the call or in the journal. What was ever
/// recorded is known; a thing with a name whose last version in the call is another than
/// the living one is recorded again, so that the files' last word holds.
/// Fails only where the journal does, and `refused` for a blank one.
Result<ImportTally> importCourseFiles(journal::Journal& journal,
                                      const std::vector<SourceFile>& files,
                                      const ImportOptions& options);

/// Every living feature as one GeoJSON FeatureCollection (RFC 7946), one feature a line.
Result<std::string> exportGeoJson(const journal::Journal& journal);

}  // namespace swardwalk::interchange
