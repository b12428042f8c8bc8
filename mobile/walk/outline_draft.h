#pragma once

#include <optional>
#include <string>
#include <vector>

#include "common/course/features.h"
#include "common/geo/position.h"

namespace swardwalk::mobile {

/// An outline while it is walked: what it is of, and every step. Kept as a note of the
/// journal at each step, so that a tablet that dies loses none.
struct OutlineDraft {
  bool ofGreen = false;  ///< a new green instead of a patch
  std::string greenName;
  course::Sighting sighting;  ///< as far as it was entered in Mark
  bool newPatch = true;
  std::vector<geo::Fix> fixes;

  std::string write() const;
  static std::optional<OutlineDraft> read(const std::string& note);
};

}  // namespace swardwalk::mobile
