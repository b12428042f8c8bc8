#include "mobile/plan/course_plan.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "common/geo/outline.h"

namespace swardwalk::mobile {

namespace {

/// A place that nobody qualified came from a tablet's receiver.
constexpr double assumedAccuracy_m = 4.0;

void stretch(PlanScene& scene, const geo::LocalShape& shape) {
  for (const geo::LocalPolygon& polygon : shape) {
    for (const geo::LocalPoint& point : polygon.outer) {
      scene.low.east_m = std::min(scene.low.east_m, point.east_m);
      scene.low.north_m = std::min(scene.low.north_m, point.north_m);
      scene.high.east_m = std::max(scene.high.east_m, point.east_m);
      scene.high.north_m = std::max(scene.high.north_m, point.north_m);
    }
  }
}

std::optional<PlanPatch> patchOnPlan(const course::Patch& patch, Store& store,
                                     const geo::LocalPlane& plane) {
  const auto place = placeOf(patch);
  if (!place) return std::nullopt;
  PlanPatch drawn;
  drawn.id = patch.id;
  drawn.number = numberOf(patch.label);
  drawn.place = plane.toLocal(*place);
  if (const auto* progress = store.patchProgress(patch.id)) {
    drawn.look = SymbolLook::from(*progress);
  } else {
    drawn.look.kind = Show::kindOf(patch.kind);
  }
  for (auto sighting = patch.sightings.rbegin(); sighting != patch.sightings.rend(); ++sighting) {
    const geo::GlobeShape shape = course::shapeOf(*sighting);
    if (shape.empty()) continue;
    drawn.shape = plane.toLocal(shape);
    break;
  }
  return drawn;
}

}  // namespace

QString numberOf(const std::string& label) {
  const auto digit = std::find_if(label.begin(), label.end(),
                                  [](unsigned char c) { return c >= '0' && c <= '9'; });
  return digit == label.end() ? text(label) : text(std::string(digit, label.end()));
}

std::optional<geo::Position> placeOf(const course::Patch& patch) {
  for (auto sighting = patch.sightings.rbegin(); sighting != patch.sightings.rend(); ++sighting) {
    if (auto place = course::placeOf(*sighting)) return place;
  }
  return std::nullopt;
}

double placeAccuracy_m(const course::Patch& patch) {
  for (auto sighting = patch.sightings.rbegin(); sighting != patch.sightings.rend(); ++sighting) {
    if (course::placeOf(*sighting)) return sighting->accuracy_m.value_or(assumedAccuracy_m);
  }
  return assumedAccuracy_m;
}

std::string greenAt(const course::CourseState& state, geo::Position position) {
  for (const course::Green& green : state.greens) {
    if (green.shape.empty()) continue;
    const geo::LocalPlane plane = geo::planeFor(green.shape);
    if (geo::contains(plane.toLocal(green.shape), plane.toLocal(position))) return green.name;
  }
  // On a collar or a bank one is still at that green.
  for (const course::Surround& surround : state.surrounds) {
    if (surround.shape.empty()) continue;
    const geo::LocalPlane plane = geo::planeFor(surround.shape);
    if (geo::contains(plane.toLocal(surround.shape), plane.toLocal(position))) {
      return surround.green;
    }
  }
  return {};
}

std::optional<Place> somewhereOn(const course::CourseState& state, std::string_view name) {
  const course::Green* green = state.green(name);
  if (green == nullptr || green->shape.empty()) return std::nullopt;
  const geo::LocalPlane plane = geo::planeFor(green->shape);
  const geo::LocalShape shape = plane.toLocal(green->shape);
  const double radius_m = std::sqrt(geo::area_m2(shape) / std::numbers::pi);
  return Place{plane.toGlobe(geo::centroid(shape)), radius_m / 2, Place::By::green};
}

std::optional<CoursePlan> planOf(Store& store, std::string_view name) {
  const course::CourseState& state = store.state();
  const course::Green* own = state.green(name);
  if (own == nullptr || own->shape.empty()) return std::nullopt;
  CoursePlan plan{geo::planeFor(own->shape), {}};
  PlanScene& scene = plan.scene;
  constexpr double far = std::numeric_limits<double>::max();
  scene.low = {far, far};
  scene.high = {-far, -far};
  for (const course::Surround& surround : state.surrounds) {
    scene.surrounds.push_back(plan.plane.toLocal(surround.shape));
    if (surround.green == own->name) stretch(scene, scene.surrounds.back());
  }
  for (const course::Green& green : state.greens) {
    if (green.name == own->name) scene.ownGreen = static_cast<int>(scene.greens.size());
    scene.greens.push_back({text(green.name), plan.plane.toLocal(green.shape)});
    if (green.name == own->name) stretch(scene, scene.greens.back().shape);
  }
  for (const course::Mark& mark : state.marks) {
    scene.marks.push_back(plan.plane.toLocal(mark.position));
  }
  for (const course::Patch& patch : state.patches) {
    if (auto drawn = patchOnPlan(patch, store, plan.plane)) {
      scene.patches.push_back(std::move(*drawn));
    }
  }
  return plan;
}

}  // namespace swardwalk::mobile
