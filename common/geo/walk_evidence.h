#pragma once

#include <span>

#include "common/geo/error_times.h"
#include "common/geo/walk_steps.h"

namespace swardwalk::geo {

/// What is believed of a walk's errors: how long the receiver's last, and how well the
/// walker kept to the edge. Nobody is told either, so both are weighed.
struct WalkErrors {
  ErrorTimes times;
  /// Standard uncertainty of the walker's distance from the edge, on each axis.
  double edge_u_m = 0.0;

  /// The mean of `value(errorTime_s)` over the times.
  template <class Value>
  double mean(Value value) const {
    double sum = 0.0;
    for (const ErrorTime& time : times) sum += time.weight * value(time.seconds);
    return sum;
  }
};

/// Weighs the settings' error times, and the walker's deviation, by how rough the walk is.
///
/// Each fix is compared with the
/// cubic through its four neighbours about a metre apart, which follows any bend of a
/// green's size: what remains is the receiver's drift, of variance w' S(errorTime) w, and
/// the walker's swerve. The likelihood of all remainders gives the weights; corners
/// count little. So does the gap: a walk ends where it began, but for the drift between, the
/// swerve, and a step along the edge. A twentieth stays with the prior whatever the walk
/// says: a receiver that smooths its positions looks calmer than it errs.
/// `steps` in order of time; few of them leave the prior as it was.
WalkErrors errorsOf(std::span<const Step> steps, const WalkSettings& settings);

}  // namespace swardwalk::geo
