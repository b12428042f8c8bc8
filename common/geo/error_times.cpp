#include "common/geo/error_times.h"

#include <algorithm>
#include <cassert>
#include <cmath>

#include "common/geo/place_doubt.h"

namespace swardwalk::geo {

namespace {

constexpr double shortest_s = 30.0;
constexpr double longest_s = 900.0;
constexpr double judgedStep_s = 3.0;
/// What a receiver's last digit rounds away, m2: keeps two equal fixes from proving much.
constexpr double rounding_m2 = 1e-6;

void makeSumOne(ErrorTimes& times) {
  double sum = 0.0;
  for (const ErrorTime& time : times) sum += time.weight;
  for (ErrorTime& time : times) time.weight /= sum;
}

/// Share of errors beyond the radius.
double beyond(const ErrorTimes& times, const PerErrorTime& variances_m2, double squared_m2) {
  double share = 0.0;
  for (std::size_t i = 0; i < times.size(); ++i) {
    if (variances_m2[i] > 0.0)
      share += times[i].weight * std::exp(-0.5 * squared_m2 / variances_m2[i]);
  }
  return share;
}

}  // namespace

ErrorTimes possibleErrorTimes() {
  ErrorTimes times{};
  // The middles of equal parts of the logarithm, of which each holds a share as its power of 3/4.
  for (std::size_t i = 0; i < times.size(); ++i) {
    const double share = (static_cast<double>(i) + 0.5) / static_cast<double>(times.size());
    times[i].seconds = shortest_s * std::pow(longest_s / shortest_s, share);
    times[i].weight = std::pow(times[i].seconds, 0.75);
  }
  makeSumOne(times);
  return times;
}

ErrorTimes likelyErrorTimes(std::span<const LocalPoint> points,
                            std::span<const TimedError> errors) {
  assert(points.size() == errors.size());
  ErrorTimes times = possibleErrorTimes();
  PerErrorTime logarithms{};
  std::size_t last = 0;
  for (std::size_t i = 1; i < points.size(); ++i) {
    const double step_s = errors[i].time_s - errors[last].time_s;
    if (step_s < judgedStep_s) continue;
    const double east = points[i].east_m - points[last].east_m;
    const double north = points[i].north_m - points[last].north_m;
    const double both = errors[i].u_m * errors[i].u_m + errors[last].u_m * errors[last].u_m;
    const double product = errors[i].u_m * errors[last].u_m;
    for (std::size_t k = 0; k < times.size(); ++k) {
      const double variance =
          both - 2.0 * product * std::exp(-step_s / times[k].seconds) + rounding_m2;
      logarithms[k] -= std::log(variance) + 0.5 * (east * east + north * north) / variance;
    }
    last = i;
  }
  const double best = *std::max_element(logarithms.begin(), logarithms.end());
  for (std::size_t k = 0; k < times.size(); ++k) times[k].weight *= std::exp(logarithms[k] - best);
  makeSumOne(times);
  return times;
}

double meanOver(const ErrorTimes& times, const PerErrorTime& values) {
  double sum = 0.0;
  for (std::size_t i = 0; i < times.size(); ++i) sum += times[i].weight * values[i];
  return sum;
}

double statedDoubt_m(const ErrorTimes& times, const PerErrorTime& variances_m2) {
  double low = 0.0;
  double high = chiSquare95OfPlace * *std::max_element(variances_m2.begin(), variances_m2.end());
  if (high <= 0.0) return 0.0;
  // Each halving gives a bit; 40 are far finer than anything shown.
  for (int halving = 0; halving < 40; ++halving) {
    const double middle = 0.5 * (low + high);
    (beyond(times, variances_m2, middle) > 0.05 ? low : high) = middle;
  }
  return std::sqrt(high / chiSquare95OfPlace);
}

}  // namespace swardwalk::geo
