#include "mobile/plan/plan_view.h"

#include <algorithm>
#include <cmath>

namespace swardwalk::mobile {

QPointF PlanView::toScreen(geo::LocalPoint point) const {
  return {size.width() / 2 + (point.east_m - centre.east_m) * scale_px_m,
          size.height() / 2 - (point.north_m - centre.north_m) * scale_px_m};
}

geo::LocalPoint PlanView::toGround(QPointF pixel) const {
  return {centre.east_m + (pixel.x() - size.width() / 2) / scale_px_m,
          centre.north_m - (pixel.y() - size.height() / 2) / scale_px_m};
}

PlanView PlanView::panned(QPointF by) const {
  PlanView moved = *this;
  moved.centre.east_m -= by.x() / scale_px_m;
  moved.centre.north_m += by.y() / scale_px_m;
  return moved;
}

PlanView PlanView::zoomed(double factor, QPointF about) const {
  PlanView view = *this;
  view.scale_px_m = std::clamp(scale_px_m * factor, planScaleLeast_px_m, planScaleMost_px_m);
  const geo::LocalPoint held = toGround(about);
  const geo::LocalPoint now = view.toGround(about);
  view.centre.east_m += held.east_m - now.east_m;
  view.centre.north_m += held.north_m - now.north_m;
  return view;
}

PlanView PlanView::fitting(geo::LocalPoint low, geo::LocalPoint high, QSizeF size,
                           double margin_px) {
  PlanView view;
  view.size = size;
  view.centre = {(low.east_m + high.east_m) / 2, (low.north_m + high.north_m) / 2};
  const double wide_px = std::max(1.0, size.width() - 2 * margin_px);
  const double high_px = std::max(1.0, size.height() - 2 * margin_px);
  const double wide_m = std::max(0.1, high.east_m - low.east_m);
  const double high_m = std::max(0.1, high.north_m - low.north_m);
  view.scale_px_m = std::clamp(std::min(wide_px / wide_m, high_px / high_m), planScaleLeast_px_m,
                               planScaleMost_px_m);
  return view;
}

bool PlanView::shows(const PlanView& other) const {
  const double half_east_m = size.width() / 2 / scale_px_m;
  const double half_north_m = size.height() / 2 / scale_px_m;
  const double other_east_m = other.size.width() / 2 / other.scale_px_m;
  const double other_north_m = other.size.height() / 2 / other.scale_px_m;
  return std::abs(centre.east_m - other.centre.east_m) + other_east_m <= half_east_m &&
         std::abs(centre.north_m - other.centre.north_m) + other_north_m <= half_north_m;
}

double niceLength_m(double scale_px_m, double wanted_px) {
  const double wanted_m = wanted_px / scale_px_m;
  const double power = std::pow(10.0, std::floor(std::log10(wanted_m)));
  const double first = wanted_m / power;
  if (first >= 5) return 5 * power;
  if (first >= 2) return 2 * power;
  return power;
}

}  // namespace swardwalk::mobile
