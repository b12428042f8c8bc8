#pragma once

#include <optional>
#include <vector>

#include "common/course/features.h"

namespace swardwalk::course {

/// Where a sighting lies by its tape readings to marks: least squares on the plane at the
/// first mark. Two readings meet in two places, so they need a green that holds exactly
/// one of them; `green` may be nullptr. Nothing where marks are unknown, lie in one line,
/// or the tapes do not meet within half a metre.
std::optional<geo::Position> placeByTapes(const Sighting& sighting, const std::vector<Mark>& marks,
                                          const Green* green);

}  // namespace swardwalk::course
