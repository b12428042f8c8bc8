#pragma once

#include "common/geo/local_plane.h"
#include "common/geo/position.h"
#include "common/measure/measured.h"

namespace swardwalk::geo {

/// Twice-integrated shoelace on the plane: positive counter-clockwise.
double signedArea_m2(const LocalRing& ring);

/// Area of the shape, holes taken out, always 0 or more; rings must not cross
/// themselves or each other.
double area_m2(const LocalShape& shape);
double area_m2(const LocalPolygon& polygon);

double perimeter_m(const LocalPolygon& polygon);

/// Ground area of a shape on the WGS84 ellipsoid, m2, through a tangent plane at its
/// middle. Within 1e-6 m2 of the truth for patches up to 200 m2.
double groundArea_m2(const GlobeShape& shape);

/// The middle of the area of the largest polygon of the shape.
LocalPoint centroid(const LocalShape& shape);

bool contains(const LocalShape& shape, LocalPoint point);

/// Does an edge of the ring cross another one?
bool crossesItself(const LocalRing& ring);

/// A ring that may cross itself, resolved into what it encloses: a figure of eight
/// becomes two polygons. Fewer than three distinct points give an empty shape.
LocalShape resolved(const LocalRing& ring);

/// Area of the union of `parts` inside `bounds`: overlaps count once.
double coveredArea_m2(const std::vector<LocalShape>& parts, const LocalShape& bounds);

/// Area shared by two shapes.
double sharedArea_m2(const LocalShape& a, const LocalShape& b);

/// Standard uncertainty of the area from independent errors of the vertices, each
/// with `vertex_u_m` on each axis: Var = (sigma^2 / 4) * sum |P(i+1) - P(i-1)|^2
/// (law of propagation, JCGM 100:2008 5.1.2, on the shoelace formula).
double areaUncertainty_m2(const LocalPolygon& polygon, double vertex_u_m);

/// Area of an outline as a person placed it: edges uncertain by `edge_u_m`.
measure::Measured outlineArea_m2(const LocalPolygon& polygon, double edge_u_m);

}  // namespace swardwalk::geo
