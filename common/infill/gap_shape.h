#pragma once

#include <optional>

#include "common/geo/inset_curve.h"

namespace swardwalk::infill {

/// The form in which a gap closes: its own outline where there is one, else a disc of its
/// largest area (nothing is known of how long and narrow it is). An outline smaller or
/// larger than the largest area seen is taken as of the same form and brought to it.
/// Keeps a pointer to the curve, which must outlive it. Safe to share between threads.
class GapShape {
 public:
  /// Nothing where there is no area above 0 to go by.
  static std::optional<GapShape> of(const geo::InsetCurve* curve, double largest_m2);

  /// Area left when the edge has crept in by this; 0 once it touches.
  double area_m2(double inset_m) const;

  /// Inset at which this area is left, 0 or a little below for the largest.
  double inset_m(double area_m2) const;

  /// Inset at which the gap touches: half its widest width.
  double closingInset_m() const;

  /// Length of the edge at an inset: how fast the area changes with it.
  double edge_m(double inset_m) const;

 private:
  GapShape() = default;
  const geo::InsetCurve* curve_ = nullptr;
  double scale_ = 1.0;     ///< outline enlarged by this, lengthwise
  double radius_m_ = 0.0;  ///< of the disc, where there is no curve
};

}  // namespace swardwalk::infill
