#include "common/geo/small_loops.h"

#include <algorithm>
#include <numeric>

#include "common/geo/compass.h"

namespace swardwalk::geo {
namespace {

/// Twice the area of the triangle, positive counter-clockwise.
double turn(LocalPoint a, LocalPoint b, LocalPoint c) {
  return (b.east_m - a.east_m) * (c.north_m - a.north_m) -
         (c.east_m - a.east_m) * (b.north_m - a.north_m);
}

bool cross(LocalPoint a, LocalPoint b, LocalPoint c, LocalPoint d) {
  return (turn(a, b, c) > 0.0) != (turn(a, b, d) > 0.0) &&
         (turn(c, d, a) > 0.0) != (turn(c, d, b) > 0.0);
}

/// What is left of the points, in their order, with loops about the last one untouched.
std::vector<std::size_t> cutShort(const LocalRing& ring, const std::vector<std::size_t>& points,
                                  double longest_m) {
  const auto at = [&](std::size_t i) { return ring[points[i]]; };
  std::vector<std::size_t> kept;
  for (std::size_t i = 0; i < points.size();) {
    kept.push_back(points[i]);
    std::size_t next = i + 1;
    double along_m = 0.0;
    for (std::size_t j = i + 2; j + 1 < points.size(); ++j) {
      along_m += distance_m(at(j - 1), at(j));
      if (along_m > longest_m) break;
      if (cross(at(i), at(i + 1), at(j), at(j + 1))) next = j + 1;
    }
    i = next;
  }
  return kept;
}

}  // namespace

std::vector<std::size_t> keptWithoutSmallLoops(const LocalRing& ring, double longest_m) {
  std::vector<std::size_t> kept(ring.size());
  std::iota(kept.begin(), kept.end(), std::size_t{0});
  kept = cutShort(ring, kept, longest_m);
  // Once more from the far side, where the ring closes.
  std::rotate(kept.begin(), kept.begin() + static_cast<std::ptrdiff_t>(kept.size() / 2),
              kept.end());
  kept = cutShort(ring, kept, longest_m);
  std::sort(kept.begin(), kept.end());
  return kept;
}

}  // namespace swardwalk::geo
