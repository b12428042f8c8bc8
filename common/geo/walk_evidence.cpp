#include "common/geo/walk_evidence.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <utility>
#include <vector>

#include "common/geo/bent_ring.h"
#include "common/geo/compass.h"

namespace swardwalk::geo {
namespace {

constexpr double spacing_m = 1.0;      // between the fixes of a comparison
constexpr double evidenceOfOne = 0.4;  // of a comparison, since neighbours share fixes
constexpr double keptOfPrior = 0.05;
constexpr std::size_t mostComparisons = 600;

// A remainder of more than this, as half its square over the variance, is a corner's: from
// there its density falls slowly. The other number makes the scale right for normal errors:
// the mean of min(k x, c) is 1 for x spread as exp(-x).
constexpr double cornersBeyond = 1.5;
constexpr double consistent = 1.715;

/// How near to their start walkers stop, along the edge: about a step (common practice, no
/// source).
constexpr double closing_u_m = 0.35;

/// The walker's deviation as shares of the setting, with their prior weights.
struct Swerve {
  double share;
  double weight;
};
constexpr std::array<Swerve, 4> swerves = {{{0.25, 0.15}, {0.5, 0.25}, {1.0, 0.35}, {2.0, 0.25}}};

constexpr std::size_t fixesCompared = 5;
constexpr std::size_t middle = fixesCompared / 2;
using Weights = std::array<double, fixesCompared>;

/// A fix less the cubic in time through its neighbours, and what makes up its variance.
struct Comparison {
  Weights weights{};
  Weights u_m{};
  std::array<double, fixesCompared - 1> elapsed_s{};
  double swerve = 0.0;      ///< variance for a walker of 1 m
  double squared_m2 = 0.0;  ///< of the remainder, both axes

  /// Variance on each axis of what a drift of this error time leaves.
  double driftVariance(double errorTime_s) const {
    double variance = 0.0;
    double earlier = 0.0;
    for (std::size_t i = 0; i < fixesCompared; ++i) {
      if (i > 0) {
        earlier =
            (earlier + weights[i - 1] * u_m[i - 1]) * std::exp(-elapsed_s[i - 1] / errorTime_s);
      }
      const double own = weights[i] * u_m[i];
      variance += own * (own + 2.0 * earlier);
    }
    return variance;
  }
};

/// How many fixes make about `spacing_m`, and the usual speed, which a pause leaves as it is.
struct Pace {
  std::size_t stride = 1;
  double speed_m_s = 0.0;
  double way_m = 0.0;  ///< of the whole walk
};

Pace paceOf(std::span<const Step> steps) {
  double length_m = 0.0;
  std::vector<double> elapsed_s;
  for (std::size_t i = 1; i < steps.size(); ++i) {
    length_m += distance_m(steps[i - 1].point, steps[i].point);
    elapsed_s.push_back(steps[i].error.time_s - steps[i - 1].error.time_s);
  }
  if (length_m <= 0.0) return {};
  const double step_m = length_m / static_cast<double>(elapsed_s.size());
  // No more than one part in ten of the walk, however short its steps are.
  const double most = std::max(1.0, static_cast<double>(steps.size()) / 10.0);
  return {static_cast<std::size_t>(std::clamp(std::round(spacing_m / step_m), 1.0, most)),
          step_m / median(std::move(elapsed_s)), length_m};
}

std::optional<Comparison> compare(std::span<const Step> steps, std::size_t at, const Pace& pace,
                                  double correlation_m) {
  std::array<const Step*, fixesCompared> near{};
  for (std::size_t i = 0; i < fixesCompared; ++i) {
    near[i] = &steps[at + i * pace.stride - middle * pace.stride];
  }
  Comparison comparison;
  for (std::size_t i = 0; i + 1 < fixesCompared; ++i) {
    if (distance_m(near[i]->point, near[i + 1]->point) > longestBend_m) return std::nullopt;
    comparison.elapsed_s[i] = near[i + 1]->error.time_s - near[i]->error.time_s;
  }
  LocalPoint rest;
  for (std::size_t i = 0; i < fixesCompared; ++i) {
    double weight = i == middle ? -1.0 : 1.0;
    for (std::size_t j = 0; i != middle && j < fixesCompared; ++j) {
      if (j == i || j == middle) continue;
      weight *= (near[middle]->error.time_s - near[j]->error.time_s) /
                (near[i]->error.time_s - near[j]->error.time_s);
    }
    comparison.weights[i] = -weight;
    comparison.u_m[i] = near[i]->error.u_m;
    rest.east_m -= weight * near[i]->point.east_m;
    rest.north_m -= weight * near[i]->point.north_m;
  }
  comparison.squared_m2 = rest.east_m * rest.east_m + rest.north_m * rest.north_m;
  Comparison walker = comparison;
  walker.u_m.fill(1.0);
  comparison.swerve = walker.driftVariance(correlation_m / pace.speed_m_s);
  return comparison;
}

/// Half a square over its variance, growing slowly from `reason` on.
double tamed(double off, double reason) {
  return off <= reason ? off : reason * (1.0 + std::log(off / reason));
}

/// Logarithm of the density of a remainder with this variance on each axis, but for a
/// constant.
double likelihood(double squared_m2, double variance) {
  const double off = 0.5 * consistent * squared_m2 / variance;
  return -std::log(variance) - tamed(off, cornersBeyond);
}

/// From where a walk began to where it ended, seen along its first metres.
struct Closing {
  LocalPoint gap;  ///< east: along the way; north: to its left
  TimedError first, last;

  double driftVariance(double errorTime_s) const {
    const double fade = std::exp((first.time_s - last.time_s) / errorTime_s);
    return first.u_m * first.u_m + last.u_m * last.u_m - 2.0 * fade * first.u_m * last.u_m;
  }
};

/// Nothing where the walk has hardly a direction, or where the way from its last fix to its
/// first is a side of the patch.
std::optional<Closing> closingOf(std::span<const Step> steps, const Pace& pace) {
  constexpr double firstMetres = 2.0;
  constexpr double leftOpen = 0.25;  // of the way
  const Step& first = steps.front();
  if (distance_m(first.point, steps.back().point) > leftOpen * pace.way_m) return std::nullopt;
  const auto ahead = std::find_if(steps.begin(), steps.end(), [&](const Step& step) {
    return distance_m(first.point, step.point) >= firstMetres;
  });
  if (ahead == steps.end()) return std::nullopt;
  const double way_m = distance_m(first.point, ahead->point);
  if (way_m > longestBend_m + firstMetres) return std::nullopt;
  const double east = (ahead->point.east_m - first.point.east_m) / way_m;
  const double north = (ahead->point.north_m - first.point.north_m) / way_m;
  const Step& last = steps.back();
  const double toEast = last.point.east_m - first.point.east_m;
  const double toNorth = last.point.north_m - first.point.north_m;
  return Closing{
      {east * toEast + north * toNorth, east * toNorth - north * toEast}, first.error, last.error};
}

/// A gap of more than this, likewise, was left open on purpose.
constexpr double leftOpenBeyond = 4.0;

/// Likewise of a gap: where it ends is where it began, but for the drift between, the walker's
/// swerve, and what was left out or walked twice along the edge.
double likelihood(const Closing& closing, double drift, double edge_u_m) {
  const double across = drift + 2.0 * edge_u_m * edge_u_m;
  const double along = across + closing_u_m * closing_u_m;
  const auto ofOne = [](double off_m, double variance) {
    return -0.5 * std::log(variance) - tamed(0.5 * off_m * off_m / variance, leftOpenBeyond);
  };
  return ofOne(closing.gap.north_m, across) + ofOne(closing.gap.east_m, along);
}

using Likelihoods = std::array<std::array<double, swerves.size()>, errorTimeCount>;

WalkErrors weighed(const Likelihoods& likelihoods, const WalkSettings& settings) {
  double best = likelihoods[0][0];
  for (const auto& row : likelihoods) {
    best = std::max(best, *std::max_element(row.begin(), row.end()));
  }
  WalkErrors errors{settings.errorTimes, 0.0};
  double total = 0.0;
  double squares = 0.0;
  for (std::size_t time = 0; time < errorTimeCount; ++time) {
    const double before = settings.errorTimes[time].weight;
    errors.times[time].weight = 0.0;
    for (std::size_t i = 0; i < swerves.size(); ++i) {
      const double weight = before * swerves[i].weight * std::exp(likelihoods[time][i] - best);
      errors.times[time].weight += weight;
      squares += weight * swerves[i].share * swerves[i].share;
      total += weight;
    }
  }
  for (std::size_t time = 0; time < errorTimeCount; ++time) {
    errors.times[time].weight = (1.0 - keptOfPrior) * errors.times[time].weight / total +
                                keptOfPrior * settings.errorTimes[time].weight;
  }
  errors.edge_u_m = settings.edge_u_m * std::sqrt(squares / total);
  return errors;
}

}  // namespace

WalkErrors errorsOf(std::span<const Step> steps, const WalkSettings& settings) {
  Likelihoods likelihoods{};
  const Pace pace = steps.empty() ? Pace{} : paceOf(steps);
  const std::size_t reach = middle * pace.stride;
  if (pace.speed_m_s > 0.0 && steps.size() > 2 * reach) {
    const std::size_t places = steps.size() - 2 * reach;
    const std::size_t next = std::max((pace.stride + 1) / 2, places / mostComparisons + 1);
    const double evidence =
        evidenceOfOne * std::min(1.0, static_cast<double>(next) / static_cast<double>(pace.stride));
    for (std::size_t at = reach; at + reach < steps.size(); at += next) {
      const auto comparison = compare(steps, at, pace, settings.edgeCorrelation_m);
      if (!comparison) continue;
      for (std::size_t time = 0; time < errorTimeCount; ++time) {
        const double drift = comparison->driftVariance(settings.errorTimes[time].seconds);
        for (std::size_t i = 0; i < swerves.size(); ++i) {
          const double edge_u_m = swerves[i].share * settings.edge_u_m;
          likelihoods[time][i] +=
              evidence *
              likelihood(comparison->squared_m2, drift + edge_u_m * edge_u_m * comparison->swerve);
        }
      }
    }
  }
  if (const auto closing = steps.empty() ? std::nullopt : closingOf(steps, pace)) {
    for (std::size_t time = 0; time < errorTimeCount; ++time) {
      const double drift = closing->driftVariance(settings.errorTimes[time].seconds);
      // One gap says nothing of the walker: a corner at the start looks like a swerve.
      const double ofGap = likelihood(*closing, drift, settings.edge_u_m);
      for (double& likelihoodOf : likelihoods[time]) likelihoodOf += ofGap;
    }
  }
  return weighed(likelihoods, settings);
}

}  // namespace swardwalk::geo
