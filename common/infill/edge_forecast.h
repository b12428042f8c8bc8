#pragma once

#include <optional>
#include <vector>

#include "common/infill/creep_fit.h"

namespace swardwalk::infill {

/// Where the edge of a gap is on any day: its place at the middle of the sizes seen, a
/// distribution of creep, and drift that grows with the distance looked ahead.
/// Plain value; safe to share between threads.
struct EdgeForecast {
  double day = 0.0;  ///< of the place
  double lastDay = 0.0;
  double inset_mm = 0.0;
  double inset_u_mm = 0.0;
  double closingInset_mm = 0.0;
  std::vector<double> likely_mm_d;  ///< equally likely creep, ascending, above 0

  /// Quantile of how far the edge has crept on a day, 0 < share < 1; a small share is
  /// slow creep. The spreads of place, creep and drift are added in squares; creep and
  /// drift in the logarithm, so that the creep stays above 0. Drift is a random walk of
  /// the logarithm of the rate: the mean rate over s days ahead varies by a third of
  /// what the rate does at their end (variance s/3). It grows for a year, then no more.
  double inset_mmOn(double day, double share) const;

  /// The day by which it touches with this probability, no earlier than the last size;
  /// nothing beyond ten years.
  std::optional<double> closesDay(double share) const;
};

/// Nothing where the fit knows no creep.
std::optional<EdgeForecast> edgeForecast(const CreepFit& fit, const GapShape& shape);

}  // namespace swardwalk::infill
