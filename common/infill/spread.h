#pragma once

#include <cstddef>
#include <span>

#include "common/turf/species.h"

/// Distributions as the rooms infill and repair use them: the normal one, a range of the
/// trade as a distribution, and a list of equally likely values.
namespace swardwalk::infill {

/// Quantile of the standard normal distribution at 0.9: a central 80 % reaches from
/// -1.2816 to 1.2816 standard deviations.
inline constexpr double z80 = 1.2815515655446004;

/// How many equally likely values stand for a distribution: the k-th is its quantile at
/// (k + 0.5) / likelyValues.
inline constexpr std::size_t likelyValues = 64;

/// The share at which the k-th of the equally likely values is taken.
constexpr double shareOf(std::size_t k) {
  return (static_cast<double>(k) + 0.5) / static_cast<double>(likelyValues);
}

/// Standard normal quantile, 0 < share < 1, and distribution function.
double normalQuantile(double share);
double normalShare(double z);

/// Quantile of Student's t with `freedom` (1 or more) degrees of freedom.
double studentQuantile(double share, double freedom);

/// A range as a distribution over positive values: its best is the median, low and high
/// are the 10 % and 90 % quantiles, each half is log-normal. A low that is not positive
/// counts as a twentieth of the best. `usable` says whether there is a distribution:
/// finite, low <= best <= high, best above 0.
bool usable(const turf::Range& range);
double rangeQuantile(const turf::Range& range, double share);
double rangeShare(const turf::Range& range, double value);

/// Standard uncertainty of a range taken as a central 80 %:
/// (high - low) / (2 z80).
double rangeU(const turf::Range& range);

/// Quantile of equally likely values (ascending, not empty) at a share, in straight lines
/// between them and held outside; and the share of values up to `value`. Values may end
/// in infinity, for what never happens.
double likelyQuantile(std::span<const double> values, double share);
double likelyShare(std::span<const double> values, double value);

}  // namespace swardwalk::infill
