#include "common/answers/measure.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "common/geo/compass.h"
#include "common/geo/outline.h"
#include "common/geo/walk.h"

namespace swardwalk::answers {
namespace {

/// A square of a tenth of a millimetre, finer than any file writes a place: less is rounding, as
/// with several longitudes at a pole.
constexpr double leastArea_m2 = 1e-8;

tl::unexpected<Failure> nothing(const ToMeasure& outline, std::string what, std::string todo) {
  if (!outline.warnings.empty()) what += fmt::format(" ({})", outline.warnings.front());
  return fail(FailureKind::invalid, outline.name, std::move(what), std::move(todo));
}

bool isWide(const geo::LocalShape& shape) {
  constexpr double reach_m = 0.5 * widestOutline_m;
  const auto isFar = [](geo::LocalPoint point) {
    return !(std::abs(point.east_m) <= reach_m && std::abs(point.north_m) <= reach_m);
  };
  return std::any_of(shape.begin(), shape.end(), [&](const geo::LocalPolygon& polygon) {
    return std::any_of(polygon.outer.begin(), polygon.outer.end(), isFar) ||
           std::any_of(polygon.holes.begin(), polygon.holes.end(), [&](const geo::LocalRing& hole) {
             return std::any_of(hole.begin(), hole.end(), isFar);
           });
  });
}

bool crosses(const geo::LocalPolygon& polygon) {
  return geo::crossesItself(polygon.outer) ||
         std::any_of(polygon.holes.begin(), polygon.holes.end(), geo::crossesItself);
}

Result<MeasuredOutline> measureDrawn(const ToMeasure& outline, const DrawnOutline& drawn) {
  const auto isPlace = [](const geo::GlobePolygon& polygon) { return !polygon.outer.empty(); };
  if (std::none_of(drawn.shape.begin(), drawn.shape.end(), isPlace))
    return nothing(outline, "no place is in it", "give an outline of three places or more");
  const geo::LocalShape local = geo::planeFor(drawn.shape).toLocal(drawn.shape);
  if (isWide(local)) {
    return nothing(outline,
                   fmt::format("it is more than {:.0f} km across", widestOutline_m / 1000.0),
                   "look whether latitude and longitude are swapped somewhere");
  }
  MeasuredOutline answer;
  answer.name = outline.name;
  answer.warnings = outline.warnings;
  answer.fixesUsed = drawn.places;
  answer.fixesDropped = drawn.unreadable;
  geo::LocalShape shape;
  bool crossed = false;
  for (const geo::LocalPolygon& polygon : local) {
    const bool simple = polygon.holes.empty() && !crosses(polygon);
    crossed = crossed || (!simple && crosses(polygon));
    if (simple) {
      if (geo::withoutRepeats(polygon.outer).size() >= 3) shape.push_back(polygon);
      continue;
    }
    const geo::LocalShape parts = geo::resolved(polygon);
    shape.insert(shape.end(), parts.begin(), parts.end());
  }
  if (shape.empty() || geo::area_m2(shape) < leastArea_m2)
    return nothing(outline, "its places enclose nothing", "give three places that are no line");
  if (crossed)
    answer.warnings.emplace_back("The outline crosses itself; what it encloses counts once");
  double variance = 0.0;
  for (const geo::LocalPolygon& polygon : shape) {
    answer.area_m2.value += geo::area_m2(polygon);
    answer.perimeter_m.value += geo::perimeter_m(polygon);
    if (!drawn.edge_u_m) continue;
    const double u_m2 = geo::outlineArea_m2(polygon, *drawn.edge_u_m).u.value_or(0.0);
    variance += u_m2 * u_m2;
  }
  if (drawn.edge_u_m) {
    answer.area_m2.u = std::sqrt(variance);
    answer.perimeter_m.u = 4.0 * *drawn.edge_u_m;
  }
  if (drawn.places > 0) {
    answer.closedGap_m = geo::distance_m(local.front().outer.back(), local.front().outer.front());
  }
  return answer;
}

Result<MeasuredOutline> measureTrack(const ToMeasure& outline, const Track& track,
                                     measure::UnitSystem units) {
  geo::WalkSettings settings;
  settings.units = units;
  const auto walked = geo::walkedOutline(track.fixes, settings);
  if (!walked) {
    Failure failure = walked.error();
    failure.where = outline.name;
    if (!outline.warnings.empty()) failure.what += fmt::format(" ({})", outline.warnings.front());
    return tl::unexpected(std::move(failure));
  }
  MeasuredOutline answer{outline.name,
                         walked->area_m2,
                         walked->perimeter_m,
                         walked->fixesUsed,
                         walked->fixesDropped + track.unreadable,
                         walked->closedGap_m,
                         outline.warnings};
  answer.warnings.insert(answer.warnings.end(), walked->warnings.begin(), walked->warnings.end());
  return answer;
}

}  // namespace

Result<MeasuredOutline> measureOutline(const ToMeasure& outline, measure::UnitSystem units) {
  if (const auto* drawn = std::get_if<DrawnOutline>(&outline.what))
    return measureDrawn(outline, *drawn);
  return measureTrack(outline, std::get<Track>(outline.what), units);
}

}  // namespace swardwalk::answers
