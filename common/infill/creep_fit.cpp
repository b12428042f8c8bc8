#include "common/infill/creep_fit.h"

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>

#include "common/infill/spread.h"
#include "common/infill/weighted_line.h"

namespace swardwalk::infill {
namespace {

constexpr double sharpestEdge_mm = 1.0;
// Sizes nearer in time than this say nothing about a rate.
constexpr double shortestSpan_d = 0.5;
constexpr double usualCreep_mm_d = 0.5;
// How many sizes' worth of belief the stated uncertainties get against the scatter seen.
constexpr double beliefInStatedU = 4.0;
constexpr std::size_t gridPoints = 301;

double insetU_mm(const GapShape& shape, double inset_m, const measure::Measured& area) {
  const double edge_m = shape.edge_m(inset_m);
  const double area_u =
      area.u ? *area.u : std::hypot(assumedAreaShare_u * area.value, assumedEdge_u_m * edge_m);
  // Near touching the edge shrinks to nothing and first order would say "anything".
  const double widest_mm = 1000.0 * shape.closingInset_m();
  if (!(edge_m > 0.0)) return std::max(sharpestEdge_mm, widest_mm);
  return std::clamp(1000.0 * area_u / edge_m, sharpestEdge_mm,
                    std::max(sharpestEdge_mm, widest_mm));
}

std::vector<WeightedPoint> insets(const GapShape& shape, std::span<const SizeSeen> sizes,
                                  double creep_mm_d) {
  // A rate that walks by q a root day moves an edge s days back by q sqrt(s^3 / 3).
  const double q = drift_per_month / std::sqrt(month_d) * creep_mm_d;
  std::vector<WeightedPoint> points;
  points.reserve(sizes.size());
  for (const SizeSeen& size : sizes) {
    const double inset_m = shape.inset_m(size.area_m2.value);
    const double ago_d = sizes.back().day - size.day;
    const double walked_mm = q * std::sqrt(ago_d * ago_d * ago_d / 3.0);
    points.push_back({size.day, 1000.0 * inset_m,
                      std::hypot(insetU_mm(shape, inset_m, size.area_m2), walked_mm)});
  }
  return points;
}

// Weighted mean of all insets, where there is no rate to fit.
void placeWithoutRate(CreepFit& fit, std::span<const WeightedPoint> points) {
  double weights = 0.0;
  double days = 0.0;
  double sum_mm = 0.0;
  for (const WeightedPoint& point : points) {
    const double weight = 1.0 / (point.u * point.u);
    weights += weight;
    days += weight * point.x;
    sum_mm += weight * point.y;
  }
  fit.day = days / weights;
  fit.inset_mm = sum_mm / weights;
  fit.inset_u_mm = 1.0 / std::sqrt(weights);
}

// Logarithm of the prior's density in log creep: two halves of a normal curve.
double logPrior(const turf::Range& prior, double creep_mm_d) {
  const bool upper = creep_mm_d > prior.best;
  const double low = prior.low > 0.0 ? prior.low : prior.best / 20.0;
  const double spread = std::max(
      1e-3, (upper ? std::log(prior.high / prior.best) : std::log(prior.best / low)) / z80);
  const double off = std::log(creep_mm_d / prior.best) / spread;
  return -0.5 * off * off - std::log(spread);
}

struct Grid {
  std::array<double, gridPoints> creep_mm_d;
  std::array<double, gridPoints> density;  ///< in log creep, the largest is 1
};

// Where prior and fit both leave something; where they contradict each other, all of both.
std::pair<double, double> gridEnds(const turf::Range& prior,
                                   const std::optional<measure::Measured>& seen) {
  double from = rangeQuantile(prior, 1e-5);
  double to = rangeQuantile(prior, 1.0 - 1e-5);
  if (seen) {
    const double seenFrom = seen->value - 6.0 * *seen->u;
    const double seenTo = seen->value + 6.0 * *seen->u;
    if (seenFrom < to && seenTo > from) {
      from = std::max(from, seenFrom);
      to = std::min(to, seenTo);
    } else {
      to = std::max(to, seenTo);
    }
  }
  return {from, std::max(to, from * 1.001)};
}

Grid posterior(const turf::Range& prior, const std::optional<measure::Measured>& seen) {
  const auto [from, to] = gridEnds(prior, seen);
  Grid grid;
  double most = -1e300;
  for (std::size_t i = 0; i < gridPoints; ++i) {
    const double part = static_cast<double>(i) / static_cast<double>(gridPoints - 1);
    const double creep = from * std::exp(part * std::log(to / from));
    double log = logPrior(prior, creep);
    if (seen) {
      const double off = (creep - seen->value) / *seen->u;
      log -= 0.5 * off * off;
    }
    grid.creep_mm_d[i] = creep;
    grid.density[i] = log;
    most = std::max(most, log);
  }
  for (double& density : grid.density) density = std::exp(density - most);
  return grid;
}

void learn(CreepFit& fit, const Grid& grid) {
  // Steps are equal in log creep, so the trapezoid's width cancels.
  std::array<double, gridPoints> upTo{};
  double mean = 0.0;
  double square = 0.0;
  for (std::size_t i = 1; i < gridPoints; ++i) {
    const double mass = grid.density[i - 1] + grid.density[i];
    const double middle = 0.5 * (grid.creep_mm_d[i - 1] + grid.creep_mm_d[i]);
    upTo[i] = upTo[i - 1] + mass;
    mean += mass * middle;
    square += mass * middle * middle;
  }
  const double all = upTo.back();
  mean /= all;
  square /= all;
  fit.creep_mm_d = measure::Measured{mean, std::sqrt(std::max(0.0, square - mean * mean))};
  fit.likely_mm_d.reserve(likelyValues);
  std::size_t i = 1;
  for (std::size_t k = 0; k < likelyValues; ++k) {
    const double target = shareOf(k) * all;
    while (i + 1 < gridPoints && upTo[i] < target) ++i;
    const double width = upTo[i] - upTo[i - 1];
    const double part = width > 0.0 ? (target - upTo[i - 1]) / width : 0.5;
    fit.likely_mm_d.push_back(grid.creep_mm_d[i - 1] +
                              part * (grid.creep_mm_d[i] - grid.creep_mm_d[i - 1]));
  }
}

// The fit alone, cut off below 0.
void learnFromSizesAlone(CreepFit& fit) {
  const double value = fit.free_mm_d->value;
  const double u = *fit.free_mm_d->u;
  const double belowZero = normalShare(-value / u);
  fit.creep_mm_d = fit.free_mm_d;
  fit.likely_mm_d.reserve(likelyValues);
  for (std::size_t k = 0; k < likelyValues; ++k) {
    const double share = belowZero + shareOf(k) * (1.0 - belowZero);
    fit.likely_mm_d.push_back(std::max(1e-6, value + u * normalQuantile(share)));
  }
}

}  // namespace

CreepFit fitCreep(const GapShape& shape, std::span<const SizeSeen> sizes,
                  const std::optional<CreepPrior>& prior) {
  assert(!sizes.empty());
  CreepFit fit;
  fit.lastDay = sizes.back().day;
  fit.span_d = sizes.back().day - sizes.front().day;
  const bool hasPrior = prior && usable(prior->creep_mm_d);
  const std::vector<WeightedPoint> points =
      insets(shape, sizes, hasPrior ? prior->creep_mm_d.best : usualCreep_mm_d);
  placeWithoutRate(fit, points);

  const auto line = fit.span_d >= shortestSpan_d ? fitLine(points) : std::nullopt;
  if (line) {
    const double freedom = beliefInStatedU + line->freedom;
    const double scatter = std::sqrt((beliefInStatedU + line->chiSquared) / freedom);
    const double u = scatter * line->slope_u;
    fit.free_mm_d = measure::Measured{line->slope, u};
    fit.freeLow_mm_d = line->slope - studentQuantile(0.9, freedom) * u;
    fit.freeHigh_mm_d = line->slope + studentQuantile(0.9, freedom) * u;
    fit.freeSurely_mm_d = line->slope + studentQuantile(0.975, freedom) * u;
    fit.inset_u_mm = scatter * line->meanY_u;
  }
  if (hasPrior) {
    learn(fit, posterior(prior->creep_mm_d, fit.free_mm_d));
  } else if (fit.free_mm_d && fit.freeLow_mm_d > 0.0) {
    learnFromSizesAlone(fit);
  }
  return fit;
}

}  // namespace swardwalk::infill
