#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "common/failure.h"
#include "common/journal/journal.h"

namespace swardwalk::interchange {

/// A file handed to an import, with the name that messages use.
struct SourceFile {
  std::string name;
  std::string bytes;
};

struct ImportTally {
  std::uint64_t added = 0;    ///< "new"
  std::uint64_t known = 0;
  std::uint64_t refused = 0;
  std::vector<Failure> refusals;  ///< named by file and index
};

struct ImportOptions {
  bool skipBad = false;  ///< take the good features although some are refused
  std::int64_t wall_ms = 0;
  journal::PersonId author{};
};

/// Takes course files (GeoJSON as contract.md describes): checks every feature, compares
/// with what is there, and appends what is new in one transaction. Names that a feature
/// refers to may stand anywhere in the files of the call or in the journal.
/// Fails only where the journal does.
Result<ImportTally> importCourseFiles(journal::Journal& journal,
                                      const std::vector<SourceFile>& files,
                                      const ImportOptions& options);

/// Every living feature as one GeoJSON FeatureCollection (RFC 7946), one feature a line.
Result<std::string> exportGeoJson(const journal::Journal& journal);

}  // namespace swardwalk::interchange
