#pragma once

#include <cstddef>
#include <vector>

#include "common/geo/position.h"

namespace swardwalk::geo {

/// The ring without those points that lie within `tolerance_m` of the line which the
/// kept ones make (Douglas & Peucker 1973, Cartographica 10(2):112-122). Keeps three
/// points at least where there are three.
LocalRing thinned(const LocalRing& ring, double tolerance_m);

/// Which points `thinned` keeps, ascending.
std::vector<std::size_t> keptByThinning(const LocalRing& ring, double tolerance_m);

/// The shape thinned with the smallest tolerance, doubled from a hundred-thousandth of
/// its perimeter, that leaves at most `mostPoints`. A shape of fewer comes back as it is.
LocalShape thinnedTo(const LocalShape& shape, std::size_t mostPoints);

}  // namespace swardwalk::geo
