#include "common/answers/bare_area.h"
#include <numbers>

#include <algorithm>
#include <cmath>

#include "common/geo/local_plane.h"
#include "common/geo/outline.h"

namespace swardwalk::answers {
namespace {

struct Placed {
  geo::LocalShape shape;
  double density = 1.0;  ///< measured area over area of the shape
};

bool overlaps(const geo::LocalShape& a, const geo::LocalShape& b) {
  struct Box {
    double west = INFINITY, east = -INFINITY, south = INFINITY, north = -INFINITY;
  };
  const auto boxOf = [](const geo::LocalShape& shape) {
    Box box;
    for (const geo::LocalPolygon& polygon : shape) {
      for (const geo::LocalPoint& point : polygon.outer) {
        box.west = std::min(box.west, point.east_m);
        box.east = std::max(box.east, point.east_m);
        box.south = std::min(box.south, point.north_m);
        box.north = std::max(box.north, point.north_m);
      }
    }
    return box;
  };
  const Box first = boxOf(a);
  const Box second = boxOf(b);
  return first.west < second.east && second.west < first.east && first.south < second.north &&
         second.south < first.north;
}

}  // namespace

measure::Measured bareArea_m2(const geo::GlobeShape& green, const std::vector<BarePatch>& patches) {
  std::vector<measure::Measured> terms;
  double covered_m2 = 0.0;
  std::vector<Placed> placed;
  const bool known = !green.empty() && !green.front().outer.empty();
  const auto plane = known ? std::optional(geo::planeFor(green)) : std::nullopt;
  const geo::LocalShape bounds = known ? plane->toLocal(green) : geo::LocalShape{};
  for (const BarePatch& patch : patches) {
    terms.push_back({0.0, patch.area_m2.u});
    Placed place;
    if (known && !patch.shape.empty()) place.shape = plane->toLocal(patch.shape);
    const double shape_m2 = place.shape.empty() ? 0.0 : geo::area_m2(place.shape);
    const double inside_m2 = shape_m2 > 0.0 ? geo::coveredArea_m2({place.shape}, bounds) : 0.0;
    if (!(inside_m2 > 0.0)) {
      covered_m2 += patch.area_m2.value;
      continue;
    }
    place.density = patch.area_m2.value / shape_m2;
    placed.push_back(std::move(place));
  }
  // Dense ones first: where a thin one overlaps, the ground is already counted as bare.
  std::stable_sort(placed.begin(), placed.end(),
                   [](const Placed& a, const Placed& b) { return a.density > b.density; });
  for (std::size_t i = 0; i < placed.size(); ++i) {
    std::vector<geo::LocalShape> before;
    for (std::size_t j = 0; j < i; ++j) {
      if (overlaps(placed[j].shape, placed[i].shape)) before.push_back(placed[j].shape);
    }
    double new_m2 = geo::coveredArea_m2({placed[i].shape}, bounds);
    if (!before.empty()) {
      const double without_m2 = geo::coveredArea_m2(before, bounds);
      before.push_back(placed[i].shape);
      new_m2 = std::max(0.0, geo::coveredArea_m2(before, bounds) - without_m2);
    }
    covered_m2 += placed[i].density * new_m2;
  }
  measure::Measured total = measure::sum(terms);
  total.value = covered_m2;
  return total;
}

measure::Measured carried(const measure::Measured& area_m2, double days_d, double creep_mm_d) {
  if (!area_m2.u || !(area_m2.value > 0.0)) return area_m2;
  const double edge_m = 2.0 * std::sqrt(std::numbers::pi * area_m2.value);
  const double gone_m2 = 0.001 * std::abs(creep_mm_d) * std::max(0.0, days_d) * edge_m;
  return {area_m2.value, std::hypot(*area_m2.u, std::min(gone_m2, area_m2.value))};
}

}  // namespace swardwalk::answers
