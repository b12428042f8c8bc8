#include "common/infill/spread.h"

#include <algorithm>
#include <boost/math/distributions/normal.hpp>
#include <boost/math/distributions/students_t.hpp>
#include <cassert>
#include <cmath>

namespace swardwalk::infill {
namespace {

// Double is enough here, and long double several times slower and another number on
// another machine.
using InDouble = boost::math::policies::policy<boost::math::policies::promote_double<false>>;
using Normal = boost::math::normal_distribution<double, InDouble>;
using Student = boost::math::students_t_distribution<double, InDouble>;

double lowOf(const turf::Range& range) { return range.low > 0.0 ? range.low : range.best / 20.0; }

// Log standard deviation of the half of the range on one side of its best.
double logSpread(const turf::Range& range, bool upper) {
  return (upper ? std::log(range.high / range.best) : std::log(range.best / lowOf(range))) / z80;
}

}  // namespace

double normalQuantile(double share) {
  assert(share > 0.0 && share < 1.0);
  return boost::math::quantile(Normal(), share);
}

double normalShare(double z) {
  if (std::isinf(z)) return z > 0.0 ? 1.0 : 0.0;
  return boost::math::cdf(Normal(), z);
}

double studentQuantile(double share, double freedom) {
  assert(share > 0.0 && share < 1.0 && freedom >= 1.0);
  return boost::math::quantile(Student(freedom), share);
}

bool usable(const turf::Range& range) {
  return std::isfinite(range.low) && std::isfinite(range.high) && range.best > 0.0 &&
         range.low <= range.best && range.best <= range.high;
}

double rangeQuantile(const turf::Range& range, double share) {
  assert(usable(range));
  const double z = normalQuantile(share);
  return range.best * std::exp(z * logSpread(range, z > 0.0));
}

double rangeShare(const turf::Range& range, double value) {
  assert(usable(range));
  if (!(value > 0.0)) return 0.0;
  const bool upper = value > range.best;
  const double spread = logSpread(range, upper);
  if (!(spread > 0.0)) return value >= range.best ? 1.0 : 0.0;
  return normalShare(std::log(value / range.best) / spread);
}

double rangeU(const turf::Range& range) { return (range.high - range.low) / (2.0 * z80); }

double likelyQuantile(std::span<const double> values, double share) {
  assert(!values.empty());
  const double count = static_cast<double>(values.size());
  const double place = std::clamp(share * count - 0.5, 0.0, count - 1.0);
  const auto below = static_cast<std::size_t>(place);
  const std::size_t above = std::min(below + 1, values.size() - 1);
  const double part = place - static_cast<double>(below);
  if (part == 0.0 || values[below] == values[above]) return values[below];
  if (std::isinf(values[above])) return values[above];
  return values[below] + part * (values[above] - values[below]);
}

double likelyShare(std::span<const double> values, double value) {
  assert(!values.empty());
  const auto above = std::upper_bound(values.begin(), values.end(), value);
  const auto count = static_cast<double>(values.size());
  if (above == values.begin()) return 0.0;
  if (above == values.end()) return 1.0;
  const double from = *(above - 1);
  double place = static_cast<double>(above - values.begin());
  place += std::isinf(*above) ? 0.0 : (value - from) / (*above - from) - 0.5;
  return std::clamp(place / count, 0.0, 1.0);
}

}  // namespace swardwalk::infill
