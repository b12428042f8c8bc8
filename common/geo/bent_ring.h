#pragma once

#include <vector>

#include "common/geo/walk_steps.h"

namespace swardwalk::geo {

/// Steps longer than this are gaps, over which neighbours say nothing about bends.
inline constexpr double longestBend_m = 3.0;

/// The ring through the steps of a walk with a point amid each step, where the edge
/// bends: chosen so that the area is that under a bend of even curvature. Every point is
/// a weighted sum of fixes, so derivatives go back the same way. Use from one thread.
class BentRing {
 public:
  explicit BentRing(const std::vector<Step>& steps);

  const LocalRing& points() const { return points_; }

  /// Keeps some of the points only, named in ascending order.
  void keep(const std::vector<std::size_t>& kept);

  /// Derivatives by the points of the ring, turned into those by the fixes.
  std::vector<LocalPoint> byFix(const std::vector<LocalPoint>& byPoint) const;

 private:
  /// What a point was made of: one fix, or four about the middle of a step.
  struct Source {
    std::size_t before, from, to, after;
    bool bent;
  };
  std::size_t fixes_;
  LocalRing points_;
  std::vector<Source> sources_;
};

}  // namespace swardwalk::geo
