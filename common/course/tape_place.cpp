#include "common/course/tape_place.h"

#include <algorithm>
#include <cmath>

#include "common/geo/local_plane.h"
#include "common/geo/outline.h"

namespace swardwalk::course {

namespace {

/// Tapes that miss each other by more were read wrongly, or to another mark.
constexpr double worstMiss_m = 0.5;

struct Circle {
  geo::LocalPoint middle;
  double radius_m = 0.0;
};

double distance_m(geo::LocalPoint a, geo::LocalPoint b) {
  return std::hypot(a.east_m - b.east_m, a.north_m - b.north_m);
}

/// Both places where two circles meet; the nearest ones where they just miss.
std::optional<std::pair<geo::LocalPoint, geo::LocalPoint>> meet(const Circle& a, const Circle& b) {
  const double apart_m = distance_m(a.middle, b.middle);
  if (apart_m < worstMiss_m) return std::nullopt;
  const double along_m =
      (a.radius_m * a.radius_m - b.radius_m * b.radius_m + apart_m * apart_m) / (2.0 * apart_m);
  const double aside_m = std::sqrt(std::max(0.0, a.radius_m * a.radius_m - along_m * along_m));
  const double east = (b.middle.east_m - a.middle.east_m) / apart_m;
  const double north = (b.middle.north_m - a.middle.north_m) / apart_m;
  const geo::LocalPoint foot{a.middle.east_m + along_m * east, a.middle.north_m + along_m * north};
  return std::pair(geo::LocalPoint{foot.east_m - aside_m * north, foot.north_m + aside_m * east},
                   geo::LocalPoint{foot.east_m + aside_m * north, foot.north_m - aside_m * east});
}

double worst_m(const std::vector<Circle>& circles, geo::LocalPoint place) {
  double worst = 0.0;
  for (const Circle& circle : circles)
    worst = std::max(worst, std::abs(distance_m(circle.middle, place) - circle.radius_m));
  return worst;
}

/// Gauss-Newton on the sum of squared misses; a dozen steps are far more than it needs
/// from a start within a metre.
geo::LocalPoint settle(const std::vector<Circle>& circles, geo::LocalPoint place) {
  for (int step = 0; step < 12; ++step) {
    double a = 0.0, b = 0.0, c = 0.0, u = 0.0, v = 0.0;
    for (const Circle& circle : circles) {
      const double range_m = distance_m(circle.middle, place);
      if (range_m < 1e-6) continue;
      const double east = (place.east_m - circle.middle.east_m) / range_m;
      const double north = (place.north_m - circle.middle.north_m) / range_m;
      const double miss_m = circle.radius_m - range_m;
      a += east * east;
      b += east * north;
      c += north * north;
      u += east * miss_m;
      v += north * miss_m;
    }
    const double determinant = a * c - b * b;
    if (determinant < 1e-6) break;
    place.east_m += (c * u - b * v) / determinant;
    place.north_m += (a * v - b * u) / determinant;
  }
  return place;
}

}  // namespace

std::optional<geo::Position> placeByTapes(const Sighting& sighting, const std::vector<Mark>& marks,
                                          const Green* green) {
  std::optional<geo::LocalPlane> plane;
  std::vector<Circle> circles;
  for (const TapeReading& reading : sighting.tapes) {
    const auto mark = std::find_if(marks.begin(), marks.end(), [&](const Mark& candidate) {
      return candidate.name == reading.mark;
    });
    if (mark == marks.end()) return std::nullopt;
    if (!plane) plane.emplace(mark->position);
    circles.push_back({plane->toLocal(mark->position), reading.distance_m});
  }
  if (circles.size() < 2) return std::nullopt;
  const auto starts = meet(circles[0], circles[1]);
  if (!starts) return std::nullopt;
  const geo::LocalPoint left = settle(circles, starts->first);
  const geo::LocalPoint right = settle(circles, starts->second);
  const double leftMiss_m = worst_m(circles, left);
  const double rightMiss_m = worst_m(circles, right);
  if (std::min(leftMiss_m, rightMiss_m) > worstMiss_m) return std::nullopt;
  const auto globe = [&](geo::LocalPoint place) { return plane->toGlobe(place); };
  if (distance_m(left, right) < worstMiss_m) return globe(leftMiss_m < rightMiss_m ? left : right);
  if (leftMiss_m > worstMiss_m) return globe(right);
  if (rightMiss_m > worstMiss_m) return globe(left);
  if (green == nullptr || green->shape.empty()) return std::nullopt;
  const geo::LocalShape shape = plane->toLocal(green->shape);
  const bool leftInside = geo::contains(shape, left);
  if (leftInside == geo::contains(shape, right)) return std::nullopt;
  return globe(leftInside ? left : right);
}

}  // namespace swardwalk::course
