#include "common/geo/drawn.h"

#include <cassert>
#include <cmath>

#include "common/geo/outline.h"

namespace swardwalk::geo {

measure::Measured drawnArea_m2(const LocalRing& corners, std::span<const double> corners_u_m,
                               double edge_u_m) {
  assert(corners.size() >= 3 && corners.size() == corners_u_m.size());
  const measure::Measured placed = outlineArea_m2({corners, {}}, edge_u_m);
  double variance = placed.u.value_or(0.0) * placed.u.value_or(0.0);
  const std::size_t size = corners.size();
  for (std::size_t i = 0; i < size; ++i) {
    const LocalPoint& before = corners[(i + size - 1) % size];
    const LocalPoint& after = corners[(i + 1) % size];
    const double across_m =
        std::hypot(after.east_m - before.east_m, after.north_m - before.north_m);
    const double own_m2 = corners_u_m[i] * corners_u_m[i];
    const double next_m2 = corners_u_m[(i + 1) % size] * corners_u_m[(i + 1) % size];
    variance += own_m2 * across_m * across_m / 4.0 + own_m2 * next_m2 / 2.0;
  }
  return {placed.value, std::sqrt(variance)};
}

}  // namespace swardwalk::geo
