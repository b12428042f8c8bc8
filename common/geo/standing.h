#pragma once

#include <optional>
#include <span>
#include <vector>

#include "common/geo/drift.h"
#include "common/geo/error_times.h"
#include "common/geo/local_plane.h"
#include "common/geo/position.h"

namespace swardwalk::geo {

/// Accuracy taken for a fix that states none, each axis: as for walks.
inline constexpr double assumedAccuracy_m = 4.0;

/// The fixes of somebody who stands still, and how they weigh in their mean.
struct StandingFixes {
  LocalPlane plane;
  LocalPoint mean;  ///< on `plane`
  std::vector<TimedError> errors;
  std::vector<double> weights;  ///< sum 1; inverse to the stated variances
  ErrorTimes times;             ///< how long the receiver's error may last
  measure::Instant from;
  measure::Instant to;  ///< of the last fix used
  int dropped = 0;

  /// Variance of the mean on each axis for one time constant: neighbouring fixes err
  /// together, so that sixty fixes a second apart are not sixty measurements.
  double variance_m2(double errorTime_s) const;
};

/// Puts fixes in order and weighs them. Left out are fixes without a place, of a time
/// already taken, and those farther from the middle of all than both errors explain (1 in
/// 1,000): who stands does not move. Nothing where no fix is left.
std::optional<StandingFixes> standingFixes(std::span<const Fix> fixes);

/// A place found by standing on it.
struct StandingPlace {
  Position position;
  double u_m = 0.0;     ///< each axis
  double bare_m = 0.0;  ///< what the last fix alone would have given
  int used = 0;
  int dropped = 0;
  double lasted_s = 0.0;
};

/// The weighted mean of the fixes, and what it is worth with the time constant unknown
/// (`likelyErrorTimes`, `statedDoubt_m`). Nothing where no fix is left. Cheap enough to
/// be asked after every fix for ten minutes.
std::optional<StandingPlace> averagedStanding(std::span<const Fix> fixes);

/// One visit to a mark: the place found by standing on it, or read from a plan.
struct Visit {
  measure::Instant time;
  Position position;
  double u_m = 0.0;  ///< each axis, above 0
};

/// The mean of several visits, weighed by their uncertainties. Visits within minutes of
/// each other err together; those of another day are new measurements. `visits` must hold
/// one at least.
StandingPlace averagedVisits(std::vector<Visit> visits);

}  // namespace swardwalk::geo
