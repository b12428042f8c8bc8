#pragma once

#include "common/geo/position.h"
#include "common/measure/measured.h"

namespace swardwalk::geo {

/// How well a person places one edge of a patch, metres: common practice, no source.
inline constexpr double defaultEdge_u_m = 0.02;

enum class TapeForm { ellipse, rectangle, triangle };

/// Area from a length and a width by tape. Each dimension lies between two edges
/// that are each placed to `edge_u_m`, so its uncertainty is sqrt(2) times that; the
/// two dimensions are independent (JCGM 100:2008 5.1.2).
/// `length_m` and `width_m` 0 or more; for a triangle, base and height.
measure::Measured tapeArea_m2(TapeForm form, double length_m, double width_m, double edge_u_m);

/// Area from a counting frame on one patch: `squaresBare` of `squares` are bare in a
/// frame of `frame_m2`. Each square counts by more than half of it bare. The uncertainty
/// is that of the edge of a round blob of that area, as by tape, and, independent of it,
/// that of the squares which the blob's boundary cuts: their bare shares were rounded to
/// 0 or 1 (rectangular, 1/12 of a square each; GUM 4.3.7). A count of 0 is uncertain by
/// the half square that may have gone unseen. `squares` and `frame_m2` above 0,
/// `squaresBare` 0 to `squares`.
measure::Measured frameArea_m2(int squaresBare, int squares, double frame_m2, double edge_u_m);

/// The form as a ring about the plane's origin, length along east; an ellipse has
/// `ellipsePoints` points on the outline and the same area as the true ellipse.
LocalRing tapeRing(TapeForm form, double length_m, double width_m, int ellipsePoints = 48);

}  // namespace swardwalk::geo
