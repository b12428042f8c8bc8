#pragma once

#include <map>
#include <set>
#include <string>

#include "common/course/features.h"
#include "common/course/living.h"
#include "common/interchange/references.h"

namespace swardwalk::interchange {

/// What a journal holds, as far as an import has to compare with it.
struct Recorded {
  /// Every feature that was ever recorded, withdrawn ones too: what somebody took back
  /// does not return with the next import.
  std::set<journal::Digest> features;
  /// The last version of each thing with a name.
  struct Version {
    course::Source source;
    journal::Digest feature{};
  };
  std::map<std::string, Version> last;
  Names names;

  /// How `last` calls a thing.
  static std::string keyOf(std::string_view role, std::string_view nameKey);
};

Result<Recorded> readRecorded(const journal::Journal& journal);

}  // namespace swardwalk::interchange
