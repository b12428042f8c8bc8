#pragma once

#include <memory>

#include "common/geo/position.h"

namespace swardwalk::geo {

/// The plane that touches the WGS84 ellipsoid at its origin (east, north, up frame
/// with up dropped). Lengths and areas within 500 m of the origin are true to one
/// part in 10^8, which a test measures. Immutable; safe to share between threads.
class LocalPlane {
 public:
  /// `origin` must be a real place: finite, latitude within -90..90.
  explicit LocalPlane(Position origin);

  Position origin() const { return origin_; }
  LocalPoint toLocal(Position position) const;
  Position toGlobe(LocalPoint point) const;

  LocalRing toLocal(const GlobeRing& ring) const;
  LocalPolygon toLocal(const GlobePolygon& polygon) const;
  LocalShape toLocal(const GlobeShape& shape) const;
  GlobeRing toGlobe(const LocalRing& ring) const;

 private:
  Position origin_;
  /// Rows of the rotation from earth-centred axes to east and north, and the
  /// origin in earth-centred coordinates.
  struct Frame;
  std::shared_ptr<const Frame> frame_;
};

/// A plane whose origin is the middle of what the shape spans; antimeridian safe.
/// The shape must hold at least one position.
LocalPlane planeFor(const GlobeShape& shape);
LocalPlane planeFor(const GlobeRing& ring);

}  // namespace swardwalk::geo
