#include "mobile/walk/seen_grass.h"

#include <algorithm>
#include <cmath>

#include "common/geo/outline.h"

namespace swardwalk::mobile {

namespace {

constexpr double wantedPoints = 2000.0;

double away2_m2(geo::LocalPoint point, geo::LocalPoint from, geo::LocalPoint to) {
  const double east = to.east_m - from.east_m;
  const double north = to.north_m - from.north_m;
  const double length2 = east * east + north * north;
  double along = 0.0;
  if (length2 > 0) {
    along =
        ((point.east_m - from.east_m) * east + (point.north_m - from.north_m) * north) / length2;
    along = std::clamp(along, 0.0, 1.0);
  }
  const double dx = point.east_m - (from.east_m + along * east);
  const double dy = point.north_m - (from.north_m + along * north);
  return dx * dx + dy * dy;
}

}  // namespace

SeenGrass::SeenGrass(const geo::LocalShape& green) {
  const double area_m2 = geo::area_m2(green);
  if (area_m2 <= 0) return;
  const double step_m = std::sqrt(area_m2 / wantedPoints);
  for (const geo::LocalPolygon& polygon : green) {
    const auto [west, east] =
        std::minmax_element(polygon.outer.begin(), polygon.outer.end(),
                            [](const auto& a, const auto& b) { return a.east_m < b.east_m; });
    const auto [south, north] =
        std::minmax_element(polygon.outer.begin(), polygon.outer.end(),
                            [](const auto& a, const auto& b) { return a.north_m < b.north_m; });
    for (double y = south->north_m + step_m / 2; y < north->north_m; y += step_m) {
      for (double x = west->east_m + step_m / 2; x < east->east_m; x += step_m) {
        if (geo::contains({polygon}, {x, y})) unseen_.push_back({x, y});
      }
    }
  }
  points_ = unseen_.size();
}

void SeenGrass::walk(geo::LocalPoint from, geo::LocalPoint to) {
  std::erase_if(unseen_, [&](const geo::LocalPoint& point) {
    return away2_m2(point, from, to) <= reach_m * reach_m;
  });
}

void SeenGrass::walk(const geo::LocalRing& track) {
  if (track.size() == 1) walk(track[0], track[0]);
  for (std::size_t i = 1; i < track.size(); ++i) walk(track[i - 1], track[i]);
}

double SeenGrass::share() const {
  if (points_ == 0) return 0.0;
  return 1.0 - static_cast<double>(unseen_.size()) / static_cast<double>(points_);
}

}  // namespace swardwalk::mobile
