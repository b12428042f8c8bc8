#pragma once

#include <memory>
#include <optional>
#include <vector>

#include "common/infill/creep_fit.h"

namespace swardwalk::infill {

/// One of equally likely ways in which an edge goes on.
struct EdgePath {
  double inset_mm = 0.0;  ///< on the last day
  double creep_mm_d = 0.0;
  double passing = 0.0;  ///< of its logarithm, what is the weather of now
  double drift_z = 0.0;  ///< standard normal: how the rate wanders from there
};

/// Where the edge of a gap is on any day: equally likely paths from its place and creep on
/// the day of the last size, with drift that grows with the distance looked ahead.
/// Plain value; safe to share between threads.
struct EdgeForecast {
  double lastDay = 0.0;
  double closingInset_mm = 0.0;
  double passing_u = 0.0;
  std::vector<EdgePath> paths;
  std::shared_ptr<const GrowingTime> time;  ///< null: calendar days

  /// How far the edge has crept on a day, for all paths, ascending. Before the last day it
  /// goes back along the same paths.
  std::vector<double> insets_mmOn(double day) const;

  /// The same by path.
  std::vector<double> inset_mmByPath(double day) const;

  /// The day on which each path touches, ascending; infinite beyond ten years.
  std::vector<double> closesDays() const;
};

/// How many paths stand for what is likely.
inline constexpr std::size_t edgePaths = 128;

/// Nothing where the fit knows no creep. The edge has not touched on the last day, because
/// it was seen open then: the part of its place beyond that is cut off.
std::optional<EdgeForecast> edgeForecast(const CreepFit& fit, const GapShape& shape,
                                         std::shared_ptr<const GrowingTime> time);

}  // namespace swardwalk::infill
