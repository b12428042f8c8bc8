#pragma once

#include <vector>

#include "common/geo/position.h"

namespace swardwalk::geo {

/// How much of an outline is left when its edge has crept inward everywhere by an
/// inset: the area of the points farther from the edge than the inset. Made once for
/// an outline, from the sorted distances to the edge of a fine grid of inner points.
/// Immutable; safe to share between threads.
class InsetCurve {
 public:
  /// `shape` must have an area above 0 and rings that do not cross.
  explicit InsetCurve(const LocalShape& shape);

  /// Area left after the edge moved inward by `inset_m`; a negative inset (the edge
  /// moved outward) adds perimeter times inset and the rounded corners, and is
  /// meant for small insets only.
  double area_m2(double inset_m) const;

  /// The inset at which `area_m2` is left; the inverse of the above.
  double inset_m(double area_m2) const;

  /// Half the widest width: at this inset nothing is left.
  double closingInset_m() const;

 private:
  std::vector<float> distances_m_;  ///< of the grid's points to the edge, ascending
  double full_m2_ = 0.0;
  double perimeter_m_ = 0.0;
};

}  // namespace swardwalk::geo
