#include "common/infill/gap_shape.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace swardwalk::infill {

std::optional<GapShape> GapShape::of(const geo::InsetCurve* curve, double largest_m2) {
  GapShape shape;
  const double outlined_m2 = curve ? curve->area_m2(0.0) : 0.0;
  if (outlined_m2 > 0.0 && curve->closingInset_m() > 0.0) {
    shape.curve_ = curve;
    // A few per cent are the difference between two ways to measure, not another size.
    const bool other = largest_m2 > 1.05 * outlined_m2 || 1.05 * largest_m2 < outlined_m2;
    if (largest_m2 > 0.0 && other) shape.scale_ = std::sqrt(largest_m2 / outlined_m2);
    return shape;
  }
  if (!(largest_m2 > 0.0)) return std::nullopt;
  shape.radius_m_ = std::sqrt(largest_m2 / std::numbers::pi);
  return shape;
}

double GapShape::area_m2(double inset_m) const {
  if (inset_m >= closingInset_m()) return 0.0;
  if (curve_) return std::max(0.0, scale_ * scale_ * curve_->area_m2(inset_m / scale_));
  const double left_m = radius_m_ - inset_m;
  return std::numbers::pi * left_m * left_m;
}

double GapShape::inset_m(double area_m2) const {
  if (!(area_m2 > 0.0)) return closingInset_m();
  if (curve_) return scale_ * curve_->inset_m(area_m2 / (scale_ * scale_));
  return radius_m_ - std::sqrt(area_m2 / std::numbers::pi);
}

double GapShape::closingInset_m() const {
  return curve_ ? scale_ * curve_->closingInset_m() : radius_m_;
}

double GapShape::edge_m(double inset_m) const {
  if (!curve_) return 2.0 * std::numbers::pi * std::max(0.0, radius_m_ - inset_m);
  // Only inward, where the curve is exact; wide enough to rise above its grid.
  const double step_m = closingInset_m() / 20.0;
  const double from_m = std::max(0.0, inset_m - step_m);
  return (area_m2(from_m) - area_m2(from_m + 2.0 * step_m)) / (2.0 * step_m);
}

}  // namespace swardwalk::infill
