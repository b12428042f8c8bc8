#include "common/geo/walk.h"

#include <fmt/format.h>

#include <algorithm>
#include <cassert>
#include <cmath>
#include <optional>

#include "common/geo/bent_ring.h"
#include "common/geo/compass.h"
#include "common/geo/drift.h"
#include "common/geo/small_loops.h"
#include "common/geo/thinning.h"
#include "common/geo/walk_evidence.h"
#include "common/geo/walk_steps.h"
#include "common/geo/wound_ring.h"

namespace swardwalk::geo {
namespace {

/// A corner is not a bend of even curvature; so much of what bends add is in doubt.
constexpr double bendDoubt = 0.25;

/// Loops up to this long, or to the accuracy, are no part of a patch's edge.
constexpr double longestShiver_m = 1.0;

constexpr std::size_t mostPointsOfOutline = 1000;
constexpr double smallestPart = 0.01;

/// Derivatives of the resolved area by the ring's points.
std::vector<LocalPoint> areaGradient(const LocalRing& ring, const std::vector<double>& sides) {
  std::vector<LocalPoint> gradient(ring.size());
  for (std::size_t i = 0; i < ring.size(); ++i) {
    const std::size_t next = (i + 1) % ring.size();
    const double east = 0.5 * sides[i] * (ring[next].east_m - ring[i].east_m);
    const double north = 0.5 * sides[i] * (ring[next].north_m - ring[i].north_m);
    for (const std::size_t end : {i, next}) {
      gradient[end].east_m += north;
      gradient[end].north_m -= east;
    }
  }
  return gradient;
}

measure::Measured perimeterOf(const std::vector<Step>& steps, const WalkErrors& walkErrors,
                              double edgeCorrelation_m) {
  const std::size_t size = steps.size();
  std::vector<LocalPoint> gradient(size);
  std::vector<TimedError> errors;
  double length_m = 0.0;
  double added_m = 0.0;
  double fadedOver_s = 0.0;
  double fade = 1.0;
  for (std::size_t i = 0; i < size; ++i) {
    const Step& from = steps[i];
    const Step& to = steps[(i + 1) % size];
    errors.push_back(from.error);
    const double step_m = distance_m(from.point, to.point);
    if (step_m == 0.0) continue;
    length_m += step_m;
    const double east = (to.point.east_m - from.point.east_m) / step_m;
    const double north = (to.point.north_m - from.point.north_m) / step_m;
    gradient[i].east_m -= east;
    gradient[i].north_m -= north;
    gradient[(i + 1) % size].east_m += east;
    gradient[(i + 1) % size].north_m += north;
    // Errors across a step make it longer, whichever side they fall on.
    const double elapsed_s = std::abs(to.error.time_s - from.error.time_s);
    if (std::abs(elapsed_s - fadedOver_s) > 1e-9) {  // the same but for the rounding of times
      fadedOver_s = elapsed_s;
      fade =
          walkErrors.mean([&](double errorTime_s) { return std::exp(-elapsed_s / errorTime_s); });
    }
    const double swerve = 1.0 - std::exp(-step_m / edgeCorrelation_m);
    const double across_m2 = from.error.u_m * from.error.u_m + to.error.u_m * to.error.u_m -
                             2.0 * fade * from.error.u_m * to.error.u_m +
                             2.0 * walkErrors.edge_u_m * walkErrors.edge_u_m * swerve;
    added_m += std::min(0.5 * across_m2 / step_m, 0.5 * step_m);
  }
  const double variance = walkErrors.mean(
      [&](double errorTime_s) { return driftVariance(gradient, errors, errorTime_s); });
  // The walker's way in or out of the edge: as that of two measured sides.
  const double swerves_m2 = 4.0 * walkErrors.edge_u_m * walkErrors.edge_u_m;
  // Fixes cut sharp corners: four right ones by a fifth of a step each, if there are any.
  const double cut_m = 4.0 * 0.2 * length_m / static_cast<double>(size);
  return {length_m - added_m,
          std::sqrt(variance + swerves_m2 + (added_m * added_m + cut_m * cut_m) / 3.0)};
}

LocalShape withoutShiver(LocalShape shape) {
  const double least_m2 = smallestPart * area_m2(shape);
  std::erase_if(shape, [&](const LocalPolygon& part) { return area_m2(part) < least_m2; });
  return shape;
}

std::string lengthText(double value_m, measure::UnitSystem units) {
  return measure::write({value_m, std::nullopt}, measure::Quantity::length, units).text();
}

void warn(WalkedOutline& outline, std::span<const Fix> fixes, bool crossed,
          const WalkSettings& settings) {
  std::vector<std::string>& warnings = outline.warnings;
  if (outline.tooSmall) {
    warnings.push_back(fmt::format(
        "This patch is too small for this receiver ({}): measure length and width by tape",
        measure::write(outline.area_m2, measure::Quantity::area, settings.units).text()));
  }
  if (outline.closedGap_m > std::max(longestBend_m, 0.1 * outline.perimeter_m.value)) {
    warnings.push_back(
        fmt::format("The walk ends {} from where it began; a straight line closes it",
                    lengthText(outline.closedGap_m, settings.units)));
  }
  if (crossed) warnings.push_back("The walk crosses itself; what it encloses counts once");
  if (outline.shape.size() > 1) {
    warnings.push_back(fmt::format("The walk encloses {} parts", outline.shape.size()));
  }
  if (outline.fixesDropped > outline.fixesUsed / 4) {
    warnings.push_back(fmt::format("{} of {} positions were not believable and left out",
                                   outline.fixesDropped, fixes.size()));
  }
  const bool silent = std::none_of(fixes.begin(), fixes.end(),
                                   [](const Fix& fix) { return fix.accuracy_m.has_value(); });
  if (silent) {
    warnings.push_back(fmt::format("The receiver did not say how accurate it is; {} was assumed",
                                   lengthText(settings.assumedAccuracy_m, settings.units)));
  }
}

}  // namespace

Result<WalkedOutline> walkedOutline(std::span<const Fix> fixes, const WalkSettings& settings) {
  assert(settings.fastest_m_s > 0.0 && settings.edge_u_m > 0.0);
  if (fixes.size() > mostFixesOfWalk) {
    return fail(FailureKind::invalid, "walk",
                fmt::format("{} positions are more than one walk round a patch has ({})",
                            fixes.size(), mostFixesOfWalk),
                "split the log into walks");
  }
  const std::vector<Fix> good = usableFixes(fixes, settings);
  const auto tooFew = [&](std::size_t left) {
    return fail(FailureKind::invalid, "walk",
                fmt::format("of {} positions {} can be used, and an outline needs three",
                            fixes.size(), left),
                "walk round the patch again under open sky, or measure it by tape");
  };
  if (good.size() < 3) return tooFew(good.size());
  const LocalPlane plane = planeAmong(good);
  const std::vector<Step> believed = withoutOutliers(stepsOn(plane, good, settings), settings);
  const std::vector<Step> steps = moving(believed, settings);
  if (steps.size() < 3) return tooFew(steps.size());

  BentRing ring(steps);
  LocalRing chords;
  std::vector<TimedError> errors;
  std::vector<double> accuracies_m;
  for (const Step& step : steps) {
    chords.push_back(step.point);
    errors.push_back(step.error);
    accuracies_m.push_back(step.error.u_m);
  }
  const double bends_m2 = signedArea_m2(ring.points()) - signedArea_m2(chords);
  const double accuracy_m = median(accuracies_m);
  ring.keep(keptByThinning(ring.points(), std::clamp(0.05 * accuracy_m, 0.003, 0.1)));
  ring.keep(keptWithoutSmallLoops(ring.points(), std::max(longestShiver_m, accuracy_m)));
  const WoundRing wound = woundRing(ring.points());

  WalkedOutline outline{{}, plane, {}, {}, 0, 0, 0.0, false, {}};
  outline.shape = thinnedTo(withoutShiver(wound.shape), mostPointsOfOutline);
  outline.fixesUsed = static_cast<int>(believed.size());
  outline.fixesDropped = static_cast<int>(fixes.size()) - outline.fixesUsed;
  outline.closedGap_m = distance_m(steps.back().point, steps.front().point);
  const WalkErrors walkErrors = errorsOf(steps, settings);
  outline.perimeter_m = perimeterOf(steps, walkErrors, settings.edgeCorrelation_m);

  const std::vector<LocalPoint> gradient = ring.byFix(areaGradient(ring.points(), wound.sides));
  double variance = walkErrors.mean([&](double errorTime_s) {
    return driftVariance(gradient, errors, errorTime_s) +
           secondOrderAreaVariance(errors, errorTime_s);
  }) + bendDoubt * bends_m2 * bendDoubt * bends_m2;
  for (const LocalPolygon& part : outline.shape) {
    const double placed_m2 =
        outlineArea_m2(part, walkErrors.edge_u_m, settings.edgeCorrelation_m).u.value_or(0.0);
    variance += placed_m2 * placed_m2;
  }
  outline.area_m2 = {area_m2(outline.shape), std::sqrt(std::max(variance, 0.0))};
  outline.tooSmall = *outline.area_m2.u > outline.area_m2.value / 3.0;
  warn(outline, fixes, wound.crossed, settings);
  return outline;
}

}  // namespace swardwalk::geo
