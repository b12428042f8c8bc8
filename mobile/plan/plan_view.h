#pragma once

#include <QPointF>
#include <QRectF>
#include <QSizeF>

#include "common/geo/position.h"

namespace swardwalk::mobile {

/// Which part of the ground is on the screen: north is up.
struct PlanView {
  geo::LocalPoint centre;    ///< the ground in the middle of the screen
  double scale_px_m = 20.0;  ///< pixels a metre, above 0
  QSizeF size;               ///< of the screen's part, pixels
  double around_px = 0.0;    ///< of `size`, on each side, that lies out of sight

  QPointF toScreen(geo::LocalPoint point) const;
  geo::LocalPoint toGround(QPointF pixel) const;

  /// Moved so that the ground follows a finger by `by` pixels.
  PlanView panned(QPointF by) const;
  /// Scaled by `factor` with the ground under `about` held; scale stays within limits.
  PlanView zoomed(double factor, QPointF about) const;
  /// The view that shows these bounds whole, with `margin_px` around.
  static PlanView fitting(geo::LocalPoint low, geo::LocalPoint high, QSizeF size, double margin_px);

  /// Does what this view shows hold all that `other` shows?
  bool shows(const PlanView& other) const;

  friend bool operator==(const PlanView&, const PlanView&) = default;
};

/// From a course seen whole to a hand's breadth.
inline constexpr double planScaleLeast_px_m = 0.2;
inline constexpr double planScaleMost_px_m = 2000.0;

/// A length of 1, 2 or 5 times a power of ten that takes about `wanted_px`.
double niceLength_m(double scale_px_m, double wanted_px);

}  // namespace swardwalk::mobile
