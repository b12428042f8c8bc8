#pragma once

#include <optional>
#include <string>

#include "common/geo/local_plane.h"
#include "mobile/app/store.h"
#include "mobile/plan/plan_scene.h"
#include "mobile/walk/place.h"

namespace swardwalk::mobile {

/// A green with all that lies round it, on a plane of its own.
struct CoursePlan {
  geo::LocalPlane plane;
  PlanScene scene;
};

/// The plan of a green by name; nothing where there is no such green with a shape.
std::optional<CoursePlan> planOf(Store& store, std::string_view green);

/// The number that stands beside a patch's symbol: its label without the green's letters.
QString numberOf(const std::string& label);

/// The green in which a position lies, or an empty name.
std::string greenAt(const course::CourseState& state, geo::Position position);

/// Somewhere on a green, for want of better: its middle, with the standard uncertainty of
/// a place that may be anywhere on a disc of its area (radius / 2 on each axis).
std::optional<Place> somewhereOn(const course::CourseState& state, std::string_view green);

/// Where a patch is, by its last sighting that says so.
std::optional<geo::Position> placeOf(const course::Patch& patch);
/// How well that is known: standard uncertainty on each axis, metres.
double placeAccuracy_m(const course::Patch& patch);

}  // namespace swardwalk::mobile
