#include "common/course/ground.h"

#include <cmath>

#include "common/geo/outline.h"

namespace swardwalk::course {

Ground::Ground(const std::vector<Green>& greens, const std::vector<Surround>& surrounds) {
  for (const Green& green : greens) add(green.name, Zone::green, green.shape);
  for (const Surround& surround : surrounds) add(surround.green, surround.zone, surround.shape);
}

void Ground::add(const std::string& green, Zone zone, const geo::GlobeShape& shape) {
  if (shape.empty() || shape.front().outer.empty()) return;
  const geo::LocalPlane plane = geo::planeFor(shape);
  areas_.push_back({{green, zone}, plane, plane.toLocal(shape)});
}

bool Ground::holds(const Area& area, geo::Position place) {
  // No green is a degree across, and a plane turns the far side of the globe inside out.
  const geo::Position origin = area.plane.origin();
  if (std::abs(place.latitude_deg - origin.latitude_deg) > 1.0) return false;
  const double apart_deg = std::remainder(place.longitude_deg - origin.longitude_deg, 360.0);
  if (std::abs(origin.latitude_deg) < 80.0 && std::abs(apart_deg) > 10.0) return false;
  return geo::contains(area.shape, area.plane.toLocal(place));
}

std::optional<Ground::Spot> Ground::at(geo::Position place) const {
  for (const Area& area : areas_) {
    if (holds(area, place)) return area.spot;
  }
  return std::nullopt;
}

Zone Ground::zoneOf(std::string_view green, geo::Position place) const {
  for (const Area& area : areas_) {
    if (area.spot.green == green && holds(area, place)) return area.spot.zone;
  }
  return Zone::green;
}

}  // namespace swardwalk::course
