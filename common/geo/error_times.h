#pragma once

#include <array>
#include <span>

#include "common/geo/drift.h"
#include "common/geo/position.h"

namespace swardwalk::geo {

/// How long a receiver's error may last (Gauss-Markov time constant), and how likely that
/// is; the weights of a set sum to 1.
struct ErrorTime {
  double seconds = 0.0;
  double weight = 0.0;
};

inline constexpr std::size_t errorTimeCount = 12;
using ErrorTimes = std::array<ErrorTime, errorTimeCount>;
using PerErrorTime = std::array<double, errorTimeCount>;

/// What is known of it where nobody has looked: from 30 to 900 s, density falling as
/// tau^(-1/4), between "every second alike" and "every doubling alike". (Handheld
/// receivers bend at about one minute, D. L. Wilson; code multipath 10 to 900 s, Joerger &
/// Pervan, NAVIGATION (ION).)
ErrorTimes possibleErrorTimes();

/// What the fixes of somebody who stands still add: the faster the receiver's place
/// wanders, the shorter its error lasts. Steps of 3 s are judged, since a receiver smooths
/// out shorter ones: |d|^2 between two fixes is normal on each axis with the variance
/// u_i^2 + u_j^2 - 2 u_i u_j exp(-dt / tau) (Bayes on the weights above).
/// `points` and `errors` one a fix, in order of time.
ErrorTimes likelyErrorTimes(std::span<const LocalPoint> points, std::span<const TimedError> errors);

/// The mean over the time constants.
double meanOver(const ErrorTimes& times, const PerErrorTime& values);

/// The standard uncertainty to state on each axis where the variance on each axis is one of
/// `variances_m2`: so large that the circle of 95 % of a normal error (2.4477 times it)
/// holds the truth 19 times of 20 over all of them. The root of the mean variance would
/// promise too much, since a mixture has longer tails. 0 or more each.
double statedDoubt_m(const ErrorTimes& times, const PerErrorTime& variances_m2);

}  // namespace swardwalk::geo
