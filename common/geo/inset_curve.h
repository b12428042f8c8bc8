#pragma once

#include <cstddef>
#include <vector>

#include "common/geo/position.h"

namespace swardwalk::geo {

/// How much of an outline is left when its edge has crept inward everywhere by an
/// inset: the area of the points farther from the edge than the inset. Made once for
/// an outline, in well under a millisecond for 60 points. Immutable; safe to share between
/// threads.
///
/// Method: every inner point has one nearest point of the edge, and lies straight
/// inward of it. So the area within d of the edge is the sum over the edge of
/// min(d, reach), where the reach of a point of the edge is the radius of the largest
/// circle that touches it from inside and stays in the outline; an inward corner adds
/// the sector of its directions, min(d, reach)^2 / 2 each. Along a straight piece the reach
/// grows straight (another edge limits it) or as a parabola (an inward corner does), with
/// bends where another one takes over: it is asked for at 5 places or more of each piece, in
/// 25 directions or more at each inward corner, and at the bends between them.
/// So the curve starts with exactly the perimeter as its slope, where a grid of inner
/// points would start with noise, and at inset 0 it is exactly the area. Elsewhere it
/// is within 0.15 % of the full area (tested on shapes with a formula and on rough outlines
/// against the offsets of two polygon libraries; of 800 jagged ones 0.10 % was met). The curve of
/// an outline of more than 240 points is that of the outline thinned to as many, with the area of
/// the whole one.
class InsetCurve {
 public:
  /// `shape` must have an area above 0 and rings that do not cross.
  explicit InsetCurve(const LocalShape& shape);

  /// Area left after the edge moved inward by `inset_m`; a negative inset (the edge
  /// moved outward) adds perimeter times inset and the rounded corners, and is
  /// meant for small insets only.
  double area_m2(double inset_m) const;

  /// The inset at which `area_m2` is left; the inverse of the above. An area of 0 or
  /// less gives the closing inset.
  double inset_m(double area_m2) const;

  /// Half the widest width: at this inset nothing is left.
  double closingInset_m() const { return step_m_ * static_cast<double>(steps); }

 private:
  static constexpr std::size_t steps = 512;
  std::vector<double> areas_m2_;  ///< in even steps from inset 0 to the closing inset
  double step_m_ = 0.0;
  double perimeter_m_ = 0.0;
  double corners_m2_ = 0.0;  ///< gained by the corners per squared outward move
};

}  // namespace swardwalk::geo
