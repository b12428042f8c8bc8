#include "common/geo/thinning.h"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <numeric>
#include <utility>

#include "common/geo/outline.h"

namespace swardwalk::geo {
namespace {

/// Distances, squared, from the straight line between two points.
class Chord {
 public:
  Chord(LocalPoint from, LocalPoint to)
      : from_(from), east_(to.east_m - from.east_m), north_(to.north_m - from.north_m) {
    const double length2 = east_ * east_ + north_ * north_;
    perLength2_ = length2 > 0.0 ? 1.0 / length2 : 0.0;
  }

  double squaredDistance(LocalPoint point) const {
    const double east = point.east_m - from_.east_m;
    const double north = point.north_m - from_.north_m;
    const double share = std::clamp((east * east_ + north * north_) * perLength2_, 0.0, 1.0);
    const double offEast = east - share * east_;
    const double offNorth = north - share * north_;
    return offEast * offEast + offNorth * offNorth;
  }

 private:
  LocalPoint from_;
  double east_;
  double north_;
  double perLength2_;
};

std::size_t pointsOf(const LocalShape& shape) {
  std::size_t count = 0;
  for (const LocalPolygon& polygon : shape) {
    count += polygon.outer.size();
    for (const LocalRing& hole : polygon.holes) count += hole.size();
  }
  return count;
}

std::size_t farthestFrom(const LocalRing& ring, std::size_t from) {
  std::size_t farthest = from;
  double most = -1.0;
  const Chord place(ring[from], ring[from]);
  for (std::size_t i = 0; i < ring.size(); ++i) {
    const double distance2 = place.squaredDistance(ring[i]);
    if (distance2 > most) {
      most = distance2;
      farthest = i;
    }
  }
  return farthest;
}

}  // namespace

std::vector<std::size_t> keptByThinning(const LocalRing& ring, double tolerance_m) {
  const std::size_t size = ring.size();
  std::vector<std::size_t> all(size);
  std::iota(all.begin(), all.end(), std::size_t{0});
  if (size <= 3) return all;
  // Two points far apart are kept for certain; between them each way round.
  const std::size_t first = farthestFrom(ring, 0);
  const std::size_t second = farthestFrom(ring, first);
  std::vector<bool> kept(size, false);
  kept[first] = kept[second] = true;
  std::vector<std::pair<std::size_t, std::size_t>> open = {
      {std::min(first, second), std::max(first, second)},
      {std::max(first, second), std::min(first, second) + size}};
  LocalRing twice = ring;  // so that no index needs wrapping
  twice.insert(twice.end(), ring.begin(), ring.end());
  while (!open.empty()) {
    const auto [from, to] = open.back();
    open.pop_back();
    double most = -1.0;
    std::size_t at = from;
    const Chord chord(twice[from], twice[to]);
    for (std::size_t i = from + 1; i < to; ++i) {
      const double off2 = chord.squaredDistance(twice[i]);
      if (off2 > most) {
        most = off2;
        at = i;
      }
    }
    if (most <= tolerance_m * tolerance_m) continue;
    kept[at % size] = true;
    open.emplace_back(from, at);
    open.emplace_back(at, to);
  }
  std::vector<std::size_t> result;
  std::copy_if(all.begin(), all.end(), std::back_inserter(result),
               [&kept](std::size_t i) { return kept[i]; });
  return result.size() >= 3 ? result : all;
}

LocalRing thinned(const LocalRing& ring, double tolerance_m) {
  LocalRing result;
  for (const std::size_t i : keptByThinning(ring, tolerance_m)) result.push_back(ring[i]);
  return result;
}

LocalShape thinnedTo(const LocalShape& shape, std::size_t mostPoints) {
  if (pointsOf(shape) <= mostPoints) return shape;
  double tolerance_m = 0.0;
  for (const LocalPolygon& polygon : shape) tolerance_m += 1e-5 * perimeter_m(polygon);
  LocalShape result = shape;
  // The bound on the tolerance ends the search for shapes of very many small parts.
  for (int doubling = 0; doubling < 16 && pointsOf(result) > mostPoints; ++doubling) {
    result.clear();
    for (const LocalPolygon& polygon : shape) {
      result.push_back({thinned(polygon.outer, tolerance_m), {}});
      for (const LocalRing& hole : polygon.holes) {
        result.back().holes.push_back(thinned(hole, tolerance_m));
      }
    }
    tolerance_m *= 2.0;
  }
  return result;
}

}  // namespace swardwalk::geo
