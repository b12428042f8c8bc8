#pragma once

#include <cstddef>
#include <vector>

#include "common/geo/position.h"

namespace swardwalk::geo {

/// Which points of a ring stay, ascending, where it is cut short wherever it comes back
/// across an edge within `longest_m` along itself. Such loops are the shiver of a receiver or
/// of a hand; longer ones stay.
std::vector<std::size_t> keptWithoutSmallLoops(const LocalRing& ring, double longest_m);

}  // namespace swardwalk::geo
