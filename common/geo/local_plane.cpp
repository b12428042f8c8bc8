#include "common/geo/local_plane.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <numbers>

namespace swardwalk::geo {
namespace {

// WGS84 (NIMA TR8350.2).
constexpr double semiMajor_m = 6378137.0;
constexpr double flattening = 1.0 / 298.257223563;
constexpr double eccentricity2 = flattening * (2.0 - flattening);
constexpr double radiansPerDegree = std::numbers::pi / 180.0;

/// Distance along the normal from the ellipsoid to the earth's axis.
double normalRadius_m(double sinLatitude) {
  return semiMajor_m / std::sqrt(1.0 - eccentricity2 * sinLatitude * sinLatitude);
}

/// The middle of what positions span, gathered one by one.
class Span {
 public:
  void add(Position position) {
    if (empty_) {
      first_ = position;
      south_ = north_ = position.latitude_deg;
      empty_ = false;
    }
    const double east = longitudeDifference_deg(first_.longitude_deg, position.longitude_deg);
    west_ = std::min(west_, east);
    east_ = std::max(east_, east);
    south_ = std::min(south_, position.latitude_deg);
    north_ = std::max(north_, position.latitude_deg);
  }

  Position middle() const {
    assert(!empty_);
    const double longitude = first_.longitude_deg + 0.5 * (west_ + east_);
    return {0.5 * (south_ + north_), std::remainder(longitude, 360.0)};
  }

 private:
  bool empty_ = true;
  Position first_;
  double west_ = 0.0;  ///< of `first_`
  double east_ = 0.0;
  double south_ = 0.0;
  double north_ = 0.0;
};

}  // namespace

double longitudeDifference_deg(double from_deg, double to_deg) {
  return std::remainder(to_deg - from_deg, 360.0);
}

LocalPlane::LocalPlane(Position origin) : origin_(origin) {
  assert(std::isfinite(origin.longitude_deg) && std::abs(origin.latitude_deg) <= 90.0);
  sinLatitude_ = std::sin(origin.latitude_deg * radiansPerDegree);
  cosLatitude_ = std::cos(origin.latitude_deg * radiansPerDegree);
  const double normal_m = normalRadius_m(sinLatitude_);
  axial_m_ = (1.0 - eccentricity2) * normal_m * sinLatitude_;
  equatorial_m_ = normal_m * cosLatitude_;
}

LocalPoint LocalPlane::toLocal(Position position) const {
  const double latitude = position.latitude_deg * radiansPerDegree;
  const double longitude =
      longitudeDifference_deg(origin_.longitude_deg, position.longitude_deg) * radiansPerDegree;
  const double sinLatitude = std::sin(latitude);
  const double normal_m = normalRadius_m(sinLatitude);
  const double fromAxis_m = normal_m * std::cos(latitude);
  const double along_m = (1.0 - eccentricity2) * normal_m * sinLatitude - axial_m_;
  const double outward_m = fromAxis_m * std::cos(longitude) - equatorial_m_;
  return {fromAxis_m * std::sin(longitude), cosLatitude_ * along_m - sinLatitude_ * outward_m};
}

Position LocalPlane::toGlobe(LocalPoint point) const {
  // The ellipsoid x^2 + y^2 + z^2 / (1 - e^2) = a^2 is met where the line up from the
  // point crosses it: a quadratic in the height over the plane, whose origin lies on it.
  const double stretch = 1.0 / (1.0 - eccentricity2);
  const double baseOutward = -sinLatitude_ * point.north_m;
  const double baseAxial = cosLatitude_ * point.north_m;
  const double a = cosLatitude_ * cosLatitude_ + stretch * sinLatitude_ * sinLatitude_;
  const double b = cosLatitude_ * (equatorial_m_ + baseOutward) +
                   stretch * sinLatitude_ * (axial_m_ + baseAxial);
  const double c = baseOutward * (2.0 * equatorial_m_ + baseOutward) + point.east_m * point.east_m +
                   stretch * baseAxial * (2.0 * axial_m_ + baseAxial);
  const double height_m = -c / (b + std::sqrt(std::max(b * b - a * c, 0.0)));
  const double outward_m = equatorial_m_ + baseOutward + cosLatitude_ * height_m;
  const double axial_m = axial_m_ + baseAxial + sinLatitude_ * height_m;
  const double latitude = std::atan2(axial_m * stretch, std::hypot(outward_m, point.east_m));
  const double longitude = std::atan2(point.east_m, outward_m);
  return {latitude / radiansPerDegree,
          std::remainder(origin_.longitude_deg + longitude / radiansPerDegree, 360.0)};
}

LocalRing LocalPlane::toLocal(const GlobeRing& ring) const {
  LocalRing local(ring.size());
  std::transform(ring.begin(), ring.end(), local.begin(),
                 [this](Position position) { return toLocal(position); });
  return local;
}

LocalPolygon LocalPlane::toLocal(const GlobePolygon& polygon) const {
  LocalPolygon local{toLocal(polygon.outer), {}};
  for (const GlobeRing& hole : polygon.holes) local.holes.push_back(toLocal(hole));
  return local;
}

LocalShape LocalPlane::toLocal(const GlobeShape& shape) const {
  LocalShape local;
  for (const GlobePolygon& polygon : shape) local.push_back(toLocal(polygon));
  return local;
}

GlobeRing LocalPlane::toGlobe(const LocalRing& ring) const {
  GlobeRing globe(ring.size());
  std::transform(ring.begin(), ring.end(), globe.begin(),
                 [this](LocalPoint point) { return toGlobe(point); });
  return globe;
}

GlobeShape LocalPlane::toGlobe(const LocalShape& shape) const {
  GlobeShape globe;
  for (const LocalPolygon& polygon : shape) {
    globe.push_back({toGlobe(polygon.outer), {}});
    for (const LocalRing& hole : polygon.holes) globe.back().holes.push_back(toGlobe(hole));
  }
  return globe;
}

LocalPlane planeFor(const GlobeShape& shape) {
  Span span;
  for (const GlobePolygon& polygon : shape) {
    for (Position position : polygon.outer) span.add(position);
  }
  return LocalPlane(span.middle());
}

LocalPlane planeFor(const GlobeRing& ring) {
  Span span;
  for (Position position : ring) span.add(position);
  return LocalPlane(span.middle());
}

}  // namespace swardwalk::geo
