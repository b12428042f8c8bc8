#pragma once

#include "common/geo/local_plane.h"
#include "common/geo/position.h"
#include "common/measure/measured.h"

namespace swardwalk::geo {

/// Area by the shoelace formula, m2: positive counter-clockwise. Taken about the first
/// vertex, because products of large coordinates lose digits. Fewer than three points: 0.
double signedArea_m2(const LocalRing& ring);

/// Area of the shape, holes taken out, always 0 or more; rings must not cross
/// themselves or each other.
double area_m2(const LocalShape& shape);
double area_m2(const LocalPolygon& polygon);

/// Length of the outer edge and of the edges of the holes.
double perimeter_m(const LocalPolygon& polygon);

/// Ground area of a shape on the WGS84 ellipsoid, m2, through a tangent plane at its
/// middle. Within 1e-6 m2 of the truth for patches up to 200 m2.
double groundArea_m2(const GlobeShape& shape);

/// The middle of the area of the largest polygon of the shape, holes taken out; without
/// an area, the mean of its points; of an empty shape, the plane's origin.
LocalPoint centroid(const LocalShape& shape);

/// Is the point inside? One on the edge may fall either way.
bool contains(const LocalShape& shape, LocalPoint point);

/// The ring without points that repeat the one before; the last one does not repeat the
/// first either.
LocalRing withoutRepeats(const LocalRing& ring);

/// Does an edge of the ring cross or touch one that is not its neighbour, or fold back
/// on its neighbour? Such a ring has no area by the shoelace formula alone.
bool crossesItself(const LocalRing& ring);

/// A ring that may cross itself, resolved into what it encloses: every place round which
/// it runs a number of times other than 0 (non-zero winding). A figure of eight becomes
/// two polygons and nothing is cancelled; where a walk runs over its own start, the
/// doubled strip counts once; spikes vanish. Outer rings run counter-clockwise, holes
/// clockwise. Fewer than three distinct points give an empty shape. Coordinates finite.
LocalShape resolved(const LocalRing& ring);

/// The same for a polygon: what its outer ring encloses less what its holes enclose.
LocalShape resolved(const LocalPolygon& polygon);

/// Area of the union of `parts` inside `bounds`: overlaps count once. Rings that cross
/// themselves are resolved first.
double coveredArea_m2(const std::vector<LocalShape>& parts, const LocalShape& bounds);

/// Area shared by two shapes; rings that cross themselves are resolved first.
double sharedArea_m2(const LocalShape& a, const LocalShape& b);

/// Standard uncertainty of the area from independent errors of the vertices, each
/// with `vertex_u_m` on each axis: Var = (sigma^2 / 4) * sum |P(i+1) - P(i-1)|^2
/// (law of propagation, JCGM 100:2008 5.1.2, on the shoelace formula).
double areaUncertainty_m2(const LocalPolygon& polygon, double vertex_u_m);

/// Length along an edge over which a person's placement of it errs together, metres:
/// about a hand's reach between two looks; common practice, no source.
inline constexpr double defaultEdgeCorrelation_m = 0.3;

/// Area of an outline as a person placed it: each straight edge lies `edge_u_m`
/// (standard uncertainty) in or out. With edges i of length l, direction d, and s apart
/// along the ring from middle to middle,
///   Var = u^2 * sum_ij l_i l_j max(0, d_i . d_j) exp(-s_ij / c)
/// (JCGM 100:2008 5.2.2), c being `correlation_m`. So a rectangle of four points has the
/// uncertainty of its length and width by tape, and a finely drawn outline does not
/// become certain by its many points: neighbours err together. Opposite edges are not
/// let cancel (the max), since the doubt is where living grass begins, not where the
/// whole outline lies.
measure::Measured outlineArea_m2(const LocalPolygon& polygon, double edge_u_m,
                                 double correlation_m = defaultEdgeCorrelation_m);

}  // namespace swardwalk::geo
