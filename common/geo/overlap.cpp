// What GEOS does for outlines: resolving rings that cross themselves, unions, shared
// areas. GEOS is seen in this file only.
#include <geos_c.h>

#include <cassert>
#include <cmath>
#include <cstdlib>
#include <memory>
#include <stdexcept>
#include <string>
#include <utility>

#include "common/geo/outline.h"

namespace swardwalk::geo {
namespace {

/// Coordinates are snapped to this grid only where GEOS fails in full precision.
constexpr double rescueGrid_m = 1e-6;

/// A GEOS context of its own for each call, which makes every function thread safe.
class Geos {
 public:
  Geos() : handle_(GEOS_init_r()) {
    GEOSContext_setErrorMessageHandler_r(
        handle_,
        [](const char* message, void* self) { static_cast<Geos*>(self)->message_ = message; },
        this);
  }
  ~Geos() { GEOS_finish_r(handle_); }
  Geos(const Geos&) = delete;
  Geos& operator=(const Geos&) = delete;

  GEOSContextHandle_t handle() const { return handle_; }

  struct Destroy {
    GEOSContextHandle_t handle;
    void operator()(GEOSGeometry* geometry) const { GEOSGeom_destroy_r(handle, geometry); }
  };
  using Geometry = std::unique_ptr<GEOSGeometry, Destroy>;

  /// Takes what GEOS made into safe hands; a failure of GEOS becomes an exception.
  Geometry own(GEOSGeometry* geometry) const {
    if (geometry == nullptr) throw std::runtime_error("geometry: " + message_);
    return {geometry, Destroy{handle_}};
  }

 private:
  GEOSContextHandle_t handle_;
  std::string message_;
};

using Geometry = Geos::Geometry;

GEOSCoordSequence* closedSequence(const Geos& geos, const LocalRing& ring) {
  const auto size = static_cast<unsigned>(ring.size());
  GEOSCoordSequence* sequence = GEOSCoordSeq_create_r(geos.handle(), size + 1, 2);
  if (sequence == nullptr) throw std::bad_alloc();
  for (unsigned i = 0; i <= size; ++i) {
    const LocalPoint& point = ring[i == size ? 0 : i];
    assert(std::isfinite(point.east_m) && std::isfinite(point.north_m));
    GEOSCoordSeq_setXY_r(geos.handle(), sequence, i, point.east_m, point.north_m);
  }
  return sequence;
}

Geometry emptyGeometry(const Geos& geos) {
  return geos.own(GEOSGeom_createEmptyPolygon_r(geos.handle()));
}

Geometry collection(const Geos& geos, int type, std::vector<Geometry>& parts) {
  std::vector<GEOSGeometry*> raw;
  for (Geometry& part : parts) raw.push_back(part.release());
  return geos.own(GEOSGeom_createCollection_r(geos.handle(), type, raw.data(),
                                              static_cast<unsigned>(raw.size())));
}

Geometry unioned(const Geos& geos, const Geometry& geometry) {
  GEOSGeometry* whole = GEOSUnaryUnion_r(geos.handle(), geometry.get());
  if (whole == nullptr) {
    whole = GEOSUnaryUnionPrec_r(geos.handle(), geometry.get(), rescueGrid_m);
  }
  return geos.own(whole);
}

Geometry difference(const Geos& geos, const Geometry& a, const Geometry& b) {
  GEOSGeometry* rest = GEOSDifference_r(geos.handle(), a.get(), b.get());
  if (rest == nullptr) rest = GEOSDifferencePrec_r(geos.handle(), a.get(), b.get(), rescueGrid_m);
  return geos.own(rest);
}

Geometry intersection(const Geos& geos, const Geometry& a, const Geometry& b) {
  GEOSGeometry* shared = GEOSIntersection_r(geos.handle(), a.get(), b.get());
  if (shared == nullptr) {
    shared = GEOSIntersectionPrec_r(geos.handle(), a.get(), b.get(), rescueGrid_m);
  }
  return geos.own(shared);
}

double areaOf(const Geos& geos, const Geometry& geometry) {
  double area = 0.0;
  GEOSArea_r(geos.handle(), geometry.get(), &area);
  return area;
}

LocalPoint pointInside(const Geos& geos, const GEOSGeometry* face) {
  const Geometry point = geos.own(GEOSPointOnSurface_r(geos.handle(), face));
  LocalPoint inside;
  GEOSGeomGetX_r(geos.handle(), point.get(), &inside.east_m);
  GEOSGeomGetY_r(geos.handle(), point.get(), &inside.north_m);
  return inside;
}

/// How many times the ring runs round the point, counter-clockwise.
int windings(const LocalRing& ring, LocalPoint point) {
  int count = 0;
  for (std::size_t i = 0; i < ring.size(); ++i) {
    const LocalPoint& a = ring[i];
    const LocalPoint& b = ring[i + 1 == ring.size() ? 0 : i + 1];
    const bool up = a.north_m <= point.north_m && b.north_m > point.north_m;
    const bool down = a.north_m > point.north_m && b.north_m <= point.north_m;
    if (!up && !down) continue;
    const double side = (b.east_m - a.east_m) * (point.north_m - a.north_m) -
                        (point.east_m - a.east_m) * (b.north_m - a.north_m);
    if (up && side > 0.0) ++count;
    if (down && side < 0.0) --count;
  }
  return count;
}

/// The faces into which the noded ring cuts the plane, those kept that it runs round.
Geometry enclosed(const Geos& geos, const LocalRing& given) {
  const LocalRing ring = withoutRepeats(given);
  if (ring.size() < 3) return emptyGeometry(geos);
  GEOSCoordSequence* sequence = closedSequence(geos, ring);
  const Geometry line = geos.own(GEOSGeom_createLineString_r(geos.handle(), sequence));
  const Geometry noded = unioned(geos, line);
  const GEOSGeometry* lines[] = {noded.get()};
  const Geometry faces = geos.own(GEOSPolygonize_r(geos.handle(), lines, 1));
  std::vector<Geometry> kept;
  const int count = GEOSGetNumGeometries_r(geos.handle(), faces.get());
  for (int i = 0; i < count; ++i) {
    const GEOSGeometry* face = GEOSGetGeometryN_r(geos.handle(), faces.get(), i);
    if (windings(ring, pointInside(geos, face)) == 0) continue;
    kept.push_back(geos.own(GEOSGeom_clone_r(geos.handle(), face)));
  }
  if (kept.empty()) return emptyGeometry(geos);
  return unioned(geos, collection(geos, GEOS_MULTIPOLYGON, kept));
}

/// Many of a course's outlines are fine as they stand; those cost no noding.
Geometry ringGeometry(const Geos& geos, const LocalRing& given) {
  const LocalRing ring = withoutRepeats(given);
  if (ring.size() < 3) return emptyGeometry(geos);
  if (crossesItself(ring)) return enclosed(geos, ring);
  GEOSGeometry* shell = GEOSGeom_createLinearRing_r(geos.handle(), closedSequence(geos, ring));
  if (shell == nullptr) return geos.own(nullptr);
  return geos.own(GEOSGeom_createPolygon_r(geos.handle(), shell, nullptr, 0));
}

Geometry polygonGeometry(const Geos& geos, const LocalPolygon& polygon) {
  Geometry outer = ringGeometry(geos, polygon.outer);
  if (polygon.holes.empty()) return outer;
  std::vector<Geometry> holes;
  for (const LocalRing& hole : polygon.holes) holes.push_back(ringGeometry(geos, hole));
  const Geometry whole = unioned(geos, collection(geos, GEOS_GEOMETRYCOLLECTION, holes));
  return difference(geos, outer, whole);
}

Geometry shapeGeometry(const Geos& geos, const LocalShape& shape) {
  if (shape.size() == 1) return polygonGeometry(geos, shape.front());
  std::vector<Geometry> parts;
  for (const LocalPolygon& polygon : shape) parts.push_back(polygonGeometry(geos, polygon));
  if (parts.empty()) return emptyGeometry(geos);
  return unioned(geos, collection(geos, GEOS_GEOMETRYCOLLECTION, parts));
}

LocalRing ringOf(const Geos& geos, const GEOSGeometry* ring, bool counterClockwise) {
  const GEOSCoordSequence* sequence = GEOSGeom_getCoordSeq_r(geos.handle(), ring);
  unsigned size = 0;
  GEOSCoordSeq_getSize_r(geos.handle(), sequence, &size);
  LocalRing points;
  for (unsigned i = 0; i + 1 < size; ++i) {
    LocalPoint point;
    GEOSCoordSeq_getXY_r(geos.handle(), sequence, i, &point.east_m, &point.north_m);
    points.push_back(point);
  }
  if ((signedArea_m2(points) > 0.0) != counterClockwise) {
    points = LocalRing(points.rbegin(), points.rend());
  }
  return points;
}

LocalShape shapeOf(const Geos& geos, const Geometry& geometry) {
  LocalShape shape;
  const int count = GEOSGetNumGeometries_r(geos.handle(), geometry.get());
  for (int i = 0; i < count; ++i) {
    const GEOSGeometry* part = GEOSGetGeometryN_r(geos.handle(), geometry.get(), i);
    if (GEOSGeomTypeId_r(geos.handle(), part) != GEOS_POLYGON ||
        GEOSisEmpty_r(geos.handle(), part) != 0) {
      continue;
    }
    LocalPolygon polygon;
    polygon.outer = ringOf(geos, GEOSGetExteriorRing_r(geos.handle(), part), true);
    const int holes = GEOSGetNumInteriorRings_r(geos.handle(), part);
    for (int hole = 0; hole < holes; ++hole) {
      polygon.holes.push_back(
          ringOf(geos, GEOSGetInteriorRingN_r(geos.handle(), part, hole), false));
    }
    shape.push_back(std::move(polygon));
  }
  return shape;
}

}  // namespace

LocalShape resolved(const LocalRing& ring) {
  const Geos geos;
  return shapeOf(geos, ringGeometry(geos, ring));
}

LocalShape resolved(const LocalPolygon& polygon) {
  const Geos geos;
  return shapeOf(geos, polygonGeometry(geos, polygon));
}

double coveredArea_m2(const std::vector<LocalShape>& parts, const LocalShape& bounds) {
  const Geos geos;
  std::vector<Geometry> geometries;
  for (const LocalShape& part : parts) geometries.push_back(shapeGeometry(geos, part));
  if (geometries.empty()) return 0.0;
  const Geometry whole = unioned(geos, collection(geos, GEOS_GEOMETRYCOLLECTION, geometries));
  return areaOf(geos, intersection(geos, whole, shapeGeometry(geos, bounds)));
}

double sharedArea_m2(const LocalShape& a, const LocalShape& b) {
  const Geos geos;
  return areaOf(geos, intersection(geos, shapeGeometry(geos, a), shapeGeometry(geos, b)));
}

}  // namespace swardwalk::geo
