#include "common/geo/walk.h"

#include <fmt/format.h>

#include <algorithm>
#include <cassert>
#include <cmath>
#include <numeric>
#include <optional>

#include "common/geo/compass.h"
#include "common/geo/drift.h"
#include "common/geo/thinning.h"
#include "common/measure/write.h"

namespace swardwalk::geo {
namespace {

/// No receiver knows itself better; keeps a stated 0 from becoming certainty.
constexpr double bestAccuracy_m = 0.005;

/// Steps longer than this are gaps, over which neighbours say nothing about bends.
constexpr double longestBend_m = 3.0;

/// A corner is not a bend of even curvature; so much of what bends add is in doubt.
constexpr double bendDoubt = 0.5;

constexpr std::size_t mostPointsOfOutline = 1000;
constexpr double smallestPart = 0.01;

/// A fix on the plane.
struct Step {
  LocalPoint point;
  TimedError error;
};

bool onGlobe(Position position) {
  return std::abs(position.latitude_deg) <= 90.0 && std::abs(position.longitude_deg) <= 180.0;
}

/// The fixes that may be believed by themselves, in order of time, one for each time.
std::vector<Fix> usable(std::span<const Fix> fixes, const WalkSettings& settings) {
  std::vector<Fix> good;
  for (const Fix& fix : fixes) {
    const double accuracy_m = fix.accuracy_m.value_or(settings.assumedAccuracy_m);
    const bool believable = accuracy_m >= 0.0 && accuracy_m <= settings.worstAccuracy_m;
    if (onGlobe(fix.position) && believable) good.push_back(fix);
  }
  std::stable_sort(good.begin(), good.end(),
                   [](const Fix& a, const Fix& b) { return a.time < b.time; });
  const auto sameTime = [](const Fix& a, const Fix& b) { return a.time == b.time; };
  good.erase(std::unique(good.begin(), good.end(), sameTime), good.end());
  return good;
}

/// The middle of a list by rank, which one wild fix does not move.
double median(std::vector<double> values) {
  const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  std::nth_element(values.begin(), middle, values.end());
  return *middle;
}

LocalPlane planeAmong(const std::vector<Fix>& fixes) {
  std::vector<double> north;
  std::vector<double> east;
  const double reference = fixes.front().position.longitude_deg;
  for (const Fix& fix : fixes) {
    north.push_back(fix.position.latitude_deg);
    east.push_back(longitudeDifference_deg(reference, fix.position.longitude_deg));
  }
  return LocalPlane({median(north), std::remainder(reference + median(east), 360.0)});
}

std::vector<Step> stepsOn(const LocalPlane& plane, const std::vector<Fix>& fixes,
                          const WalkSettings& settings) {
  std::vector<Step> steps;
  for (const Fix& fix : fixes) {
    const double accuracy_m = fix.accuracy_m.value_or(settings.assumedAccuracy_m);
    const double time_s = std::chrono::duration<double>(fix.time - fixes.front().time).count();
    steps.push_back({plane.toLocal(fix.position), {time_s, std::max(accuracy_m, bestAccuracy_m)}});
  }
  return steps;
}

/// Could one have walked from one fix to the other, their errors granted?
bool walkable(const Step& from, const Step& to, const WalkSettings& settings) {
  const double elapsed_s = to.error.time_s - from.error.time_s;
  const double fade = std::exp(-elapsed_s / settings.errorTime_s);
  const double variance = from.error.u_m * from.error.u_m + to.error.u_m * to.error.u_m -
                          2.0 * fade * from.error.u_m * to.error.u_m;
  return distance_m(from.point, to.point) <=
         settings.fastest_m_s * elapsed_s + 3.0 * std::sqrt(variance);
}

/// Leaves out what a walker cannot have done. A walk begins where three fixes in a row
/// agree; a place that was wrongly left is reached again as time goes on.
std::vector<Step> withoutOutliers(const std::vector<Step>& steps, const WalkSettings& settings) {
  std::size_t begin = 0;
  for (std::size_t i = 0; i + 2 < steps.size(); ++i) {
    if (walkable(steps[i], steps[i + 1], settings) &&
        walkable(steps[i + 1], steps[i + 2], settings)) {
      begin = i;
      break;
    }
  }
  std::vector<Step> kept;
  for (std::size_t i = begin; i < steps.size(); ++i) {
    if (kept.empty() || walkable(kept.back(), steps[i], settings)) kept.push_back(steps[i]);
  }
  return kept;
}

/// Leaves out what stands still.
std::vector<Step> moving(const std::vector<Step>& steps, const WalkSettings& settings) {
  std::vector<Step> kept;
  for (const Step& step : steps) {
    const double least_m = std::clamp(settings.thinShare * step.error.u_m, settings.thinFinest_m,
                                      settings.thinCoarsest_m);
    if (kept.empty() || distance_m(kept.back().point, step.point) >= least_m) {
      kept.push_back(step);
    }
  }
  return kept;
}

/// The ring through the fixes with a point amid each step, where the edge bends: chosen
/// so that the area is that under a bend of even curvature. Every point is a weighted
/// sum of fixes, so derivatives go back the same way.
class BentRing {
 public:
  explicit BentRing(const std::vector<Step>& steps) : fixes_(steps.size()) {
    const std::size_t size = steps.size();
    for (std::size_t i = 0; i < size; ++i) {
      const std::size_t next = (i + 1) % size;
      points_.push_back(steps[i].point);
      sources_.push_back({i, i, i, i, false});
      const bool closing = next == 0;
      if (closing || size < 4 || distance_m(steps[i].point, steps[next].point) > longestBend_m) {
        continue;
      }
      const std::size_t before = (i + size - 1) % size;
      const std::size_t after = (next + 1) % size;
      // Without even steps about it a step is taken as straight.
      if (distance_m(steps[before].point, steps[i].point) > longestBend_m ||
          distance_m(steps[next].point, steps[after].point) > longestBend_m) {
        continue;
      }
      const auto bent = [&](double LocalPoint::*axis) {
        return inner * (steps[i].point.*axis + steps[next].point.*axis) +
               outer * (steps[before].point.*axis + steps[after].point.*axis);
      };
      points_.push_back({bent(&LocalPoint::east_m), bent(&LocalPoint::north_m)});
      sources_.push_back({before, i, next, after, true});
    }
  }

  const LocalRing& points() const { return points_; }

  /// Keeps some of the points only.
  void keep(const std::vector<std::size_t>& kept) {
    LocalRing points;
    std::vector<Source> sources;
    for (const std::size_t i : kept) {
      points.push_back(points_[i]);
      sources.push_back(sources_[i]);
    }
    points_ = std::move(points);
    sources_ = std::move(sources);
  }

  /// Derivatives by the points of the ring, turned into those by the fixes.
  std::vector<LocalPoint> byFix(const std::vector<LocalPoint>& byPoint) const {
    std::vector<LocalPoint> gradient(fixes_);
    const auto add = [&](std::size_t fix, double weight, const LocalPoint& part) {
      gradient[fix].east_m += weight * part.east_m;
      gradient[fix].north_m += weight * part.north_m;
    };
    for (std::size_t i = 0; i < points_.size(); ++i) {
      const Source& source = sources_[i];
      if (!source.bent) {
        add(source.from, 1.0, byPoint[i]);
        continue;
      }
      add(source.before, outer, byPoint[i]);
      add(source.from, inner, byPoint[i]);
      add(source.to, inner, byPoint[i]);
      add(source.after, outer, byPoint[i]);
    }
    return gradient;
  }

 private:
  // The four-point rule (-1, 9, 9, -1)/16 gives the point on the bend; a third farther
  // out, the two chords enclose the area of the bend itself.
  static constexpr double inner = 7.0 / 12.0;
  static constexpr double outer = -1.0 / 12.0;

  struct Source {
    std::size_t before, from, to, after;
    bool bent;
  };
  std::size_t fixes_;
  LocalRing points_;
  std::vector<Source> sources_;
};

/// For each edge of the ring: 1 where the shape lies to its left only, -1 to its right
/// only, 0 where it lies on both sides or on none.
std::vector<double> sidesOf(const LocalRing& ring, const LocalShape& shape) {
  std::vector<double> sides;
  for (std::size_t i = 0; i < ring.size(); ++i) {
    const LocalPoint& a = ring[i];
    const LocalPoint& b = ring[(i + 1) % ring.size()];
    const LocalPoint middle{0.5 * (a.east_m + b.east_m), 0.5 * (a.north_m + b.north_m)};
    constexpr double aside = 1e-4;  // of the edge's length
    const double east = -aside * (b.north_m - a.north_m);
    const double north = aside * (b.east_m - a.east_m);
    const bool left = contains(shape, {middle.east_m + east, middle.north_m + north});
    const bool right = contains(shape, {middle.east_m - east, middle.north_m - north});
    sides.push_back((left ? 1.0 : 0.0) - (right ? 1.0 : 0.0));
  }
  return sides;
}

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

measure::Measured perimeterOf(const std::vector<Step>& steps, const WalkSettings& settings) {
  const std::size_t size = steps.size();
  std::vector<LocalPoint> gradient(size);
  std::vector<TimedError> errors;
  double length_m = 0.0;
  double added_m = 0.0;
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
    const double fade = std::exp(-elapsed_s / settings.errorTime_s);
    const double swerve = 1.0 - std::exp(-step_m / settings.edgeCorrelation_m);
    const double across_m2 = from.error.u_m * from.error.u_m + to.error.u_m * to.error.u_m -
                             2.0 * fade * from.error.u_m * to.error.u_m +
                             2.0 * settings.edge_u_m * settings.edge_u_m * swerve;
    added_m += std::min(0.5 * across_m2 / step_m, 0.5 * step_m);
  }
  const double variance = driftVariance(gradient, errors, settings.errorTime_s);
  // The walker's way in or out of the edge: as that of two measured sides.
  const double swerves_m2 = 4.0 * settings.edge_u_m * settings.edge_u_m;
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

std::string metres(double value) {
  return measure::write({value, std::nullopt}, measure::Quantity::length,
                        measure::UnitSystem::metric)
      .text();
}

void warn(WalkedOutline& outline, std::span<const Fix> fixes, bool crossed,
          const WalkSettings& settings) {
  std::vector<std::string>& warnings = outline.warnings;
  if (outline.tooSmall) {
    warnings.push_back(fmt::format(
        "This patch is too small for this receiver ({}): measure length and width by tape",
        measure::write(outline.area_m2, measure::Quantity::area, measure::UnitSystem::metric)
            .text()));
  }
  if (outline.closedGap_m > std::max(longestBend_m, 0.1 * outline.perimeter_m.value)) {
    warnings.push_back(
        fmt::format("The walk ends {} from where it began; a straight line closes it",
                    metres(outline.closedGap_m)));
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
                                   metres(settings.assumedAccuracy_m)));
  }
}

}  // namespace

Result<WalkedOutline> walkedOutline(std::span<const Fix> fixes, const WalkSettings& settings) {
  assert(settings.errorTime_s > 0.0 && settings.fastest_m_s > 0.0);
  if (fixes.size() > mostFixesOfWalk) {
    return fail(FailureKind::invalid, "walk",
                fmt::format("{} positions are more than one walk round a patch has ({})",
                            fixes.size(), mostFixesOfWalk),
                "split the log into walks");
  }
  const std::vector<Fix> good = usable(fixes, settings);
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
  ring.keep(keptByThinning(ring.points(), std::clamp(0.05 * median(accuracies_m), 0.003, 0.1)));
  const bool crossed = crossesItself(ring.points());
  const LocalShape enclosed = resolved(ring.points());

  WalkedOutline outline{{}, plane, {}, {}, 0, 0, 0.0, false, {}};
  outline.shape = thinnedTo(withoutShiver(enclosed), mostPointsOfOutline);
  outline.fixesUsed = static_cast<int>(believed.size());
  outline.fixesDropped = static_cast<int>(fixes.size()) - outline.fixesUsed;
  outline.closedGap_m = distance_m(steps.back().point, steps.front().point);
  outline.perimeter_m = perimeterOf(steps, settings);

  const double turns = signedArea_m2(ring.points()) < 0.0 ? -1.0 : 1.0;
  const std::vector<double> sides =
      crossed ? sidesOf(ring.points(), enclosed) : std::vector<double>(ring.points().size(), turns);
  const std::vector<LocalPoint> gradient = ring.byFix(areaGradient(ring.points(), sides));
  double variance = driftVariance(gradient, errors, settings.errorTime_s) +
                    secondOrderAreaVariance(errors, settings.errorTime_s) +
                    bendDoubt * bends_m2 * bendDoubt * bends_m2;
  for (const LocalPolygon& part : outline.shape) {
    const double placed_m2 =
        outlineArea_m2(part, settings.edge_u_m, settings.edgeCorrelation_m).u.value_or(0.0);
    variance += placed_m2 * placed_m2;
  }
  outline.area_m2 = {area_m2(outline.shape), std::sqrt(std::max(variance, 0.0))};
  outline.tooSmall = *outline.area_m2.u > outline.area_m2.value / 3.0;
  warn(outline, fixes, crossed, settings);
  return outline;
}

}  // namespace swardwalk::geo
