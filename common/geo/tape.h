#pragma once

#include <span>

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

/// How far one counts wrongly when pacing a length: it ends anywhere in the last pace, which
/// is told to the half (rectangular, half a pace wide; GUM 4.3.7).
inline constexpr double paceCount_u = 0.5 / 3.4641016151377544;

/// Area from a length and a width in paces. A pace that is a little short shortens both, so
/// its uncertainty counts twice, A * 2 u(pace) / pace (GUM 5.2.2, fully correlated); the
/// counts and the edges are independent. `pace_m` above 0, of unknown uncertainty: the
/// area's is unknown too.
measure::Measured pacedArea_m2(TapeForm form, double length_paces, double width_paces,
                               const measure::Measured& pace_m, double edge_u_m);

/// One walk over a known length to find a person's pace.
struct PaceWalk {
  double length_m = 0.0;  ///< above 0
  double length_u_m = 0.0;
  double paces = 0.0;  ///< above 0
};

/// A pace varies from walk to walk, uphill and with boots: 3 % (common practice, no source).
inline constexpr double paceVaries = 0.03;

/// A person's pace from one or several walks: the mean, weighed by length. Its uncertainty
/// is that of the lengths and counts, and of the way a pace varies: as the walks scatter
/// where there are three or more, and never under `paceVaries`, since the walk that it will
/// be used on varies by itself. `walks` must hold one at least.
measure::Measured paceOf_m(std::span<const PaceWalk> walks);

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
