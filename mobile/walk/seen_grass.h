#pragma once

#include <vector>

#include "common/geo/position.h"

namespace swardwalk::mobile {

/// How much of a green a walker has passed within sight, counted on a grid of points
/// inside the green. Use from one thread.
class SeenGrass {
 public:
  /// From how far one sees what is wrong with turf cut short: common practice, no source.
  static constexpr double reach_m = 4.0;

  SeenGrass() = default;
  explicit SeenGrass(const geo::LocalShape& green);

  void walk(geo::LocalPoint from, geo::LocalPoint to);
  void walk(const geo::LocalRing& track);
  /// 0..1; 0 for a green without area.
  double share() const;

 private:
  std::vector<geo::LocalPoint> unseen_;
  std::size_t points_ = 0;
};

}  // namespace swardwalk::mobile
