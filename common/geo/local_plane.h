#pragma once

#include "common/geo/position.h"

namespace swardwalk::geo {

/// The plane that touches the WGS84 ellipsoid at its origin (east, north, up frame
/// with up dropped). Lengths and areas within 500 m of the origin are true to one
/// part in 10^8, which a test measures against GeographicLib. The rotation from
/// earth-centred axes is done in axes that are turned to the origin's meridian, so that
/// a patch across the antimeridian is a patch like any other.
/// Immutable; safe to share between threads.
class LocalPlane {
 public:
  /// `origin` must be a real place: finite, latitude within -90..90.
  explicit LocalPlane(Position origin);

  Position origin() const { return origin_; }

  /// The place on the plane under a place on the ellipsoid (its height is 0).
  LocalPoint toLocal(Position position) const;

  /// The place on the ellipsoid above a place on the plane; the inverse of `toLocal`
  /// to a nanometre, for points within 1,000 km of the origin.
  Position toGlobe(LocalPoint point) const;

  LocalRing toLocal(const GlobeRing& ring) const;
  LocalPolygon toLocal(const GlobePolygon& polygon) const;
  LocalShape toLocal(const GlobeShape& shape) const;
  GlobeRing toGlobe(const LocalRing& ring) const;
  GlobeShape toGlobe(const LocalShape& shape) const;

 private:
  Position origin_;
  double sinLatitude_;
  double cosLatitude_;
  double axial_m_;       ///< of the origin, along the earth's axis
  double equatorial_m_;  ///< of the origin, away from the earth's axis
};

/// Longitude `to` less `from` the short way round, degrees in -180..180.
double longitudeDifference_deg(double from_deg, double to_deg);

/// A plane whose origin is the middle of what the shape spans; antimeridian safe.
/// The shape must hold at least one position.
LocalPlane planeFor(const GlobeShape& shape);
LocalPlane planeFor(const GlobeRing& ring);

}  // namespace swardwalk::geo
