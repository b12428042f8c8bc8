#include "common/geo/reaches.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "common/geo/outline.h"
#include "common/geo/thinning.h"

namespace swardwalk::geo {
namespace {

constexpr double straight = 1e-9;
constexpr float unreached = std::numeric_limits<float>::infinity();

}  // namespace

void addRing(Edges& edges, const LocalRing& given, bool counterClockwise) {
  LocalRing ring = withoutRepeats(given);
  if (ring.size() < 3) return;
  if ((signedArea_m2(ring) > 0.0) != counterClockwise) std::reverse(ring.begin(), ring.end());
  const std::size_t first = edges.list.size();
  const std::size_t count = ring.size();
  for (std::size_t i = 0; i < count; ++i) {
    const LocalPoint& a = ring[i];
    const LocalPoint& b = ring[(i + 1) % count];
    const double length_m = std::hypot(b.east_m - a.east_m, b.north_m - a.north_m);
    edges.list.push_back({a,
                          {(b.east_m - a.east_m) / length_m, (b.north_m - a.north_m) / length_m},
                          length_m,
                          first + (i + count - 1) % count,
                          first + (i + 1) % count});
  }
  for (std::size_t i = first; i < edges.list.size(); ++i) {
    const LocalPoint& before = edges.list[edges.list[i].previous].along;
    const LocalPoint& along = edges.list[i].along;
    const double turns = before.east_m * along.north_m - before.north_m * along.east_m;
    edges.list[i].inwardCorner = turns < 0.0;
    edges.list[i].outwardCorner = turns > straight;
  }
}

Reaches::Reaches(const Edges& edges) : edges_(edges), radii_(edges.list.size()) {
  // Floats hold their digits near 0 only.
  middle_ = edges.list.front().start;
  for (const Edges::Edge& edge : edges.list) {
    startEast_.push_back(static_cast<float>(edge.start.east_m - middle_.east_m));
    startNorth_.push_back(static_cast<float>(edge.start.north_m - middle_.north_m));
    alongEast_.push_back(static_cast<float>(edge.along.east_m));
    alongNorth_.push_back(static_cast<float>(edge.along.north_m));
    length_.push_back(static_cast<float>(edge.length_m));
    if (edge.inwardCorner) corners_.push_back(edge.start);
  }
}

Reach Reaches::at(const Ray& ray, std::size_t own, std::size_t ownToo) {
  circlesToEdges(ray);
  radii_[own] = unreached;
  radii_[ownToo] = unreached;
  const float nearest = leastRadius();
  const auto edge = std::find(radii_.begin(), radii_.end(), nearest) - radii_.begin();
  Reach least{nearest, {static_cast<std::size_t>(edge), false}};
  for (std::size_t i = 0; i < corners_.size(); ++i) {
    const double radius = toCorner(ray, i);
    if (radius < least.reach_m) least = {radius, {i, true}};
  }
  return least;
}

double Reaches::by(const Limit& limit, const Ray& ray) const {
  if (limit.corner) return toCorner(ray, limit.index);
  const Edges::Edge& edge = edges_.list[limit.index];
  const double east = ray.foot.east_m - edge.start.east_m;
  const double north = ray.foot.north_m - edge.start.north_m;
  const double normalEast = ray.inward.east_m + edge.along.north_m;
  const double normalNorth = ray.inward.north_m - edge.along.east_m;
  return (edge.along.east_m * north - edge.along.north_m * east) /
         (0.5 * (normalEast * normalEast + normalNorth * normalNorth));
}

double Reaches::toCorner(const Ray& ray, std::size_t i) const {
  const double east = corners_[i].east_m - ray.foot.east_m;
  const double north = corners_[i].north_m - ray.foot.north_m;
  const double ahead = east * ray.inward.east_m + north * ray.inward.north_m;
  const double squared = east * east + north * north;
  const bool before = ahead > 0.0 && ahead * ahead > 1e-18 * squared;
  return before ? 0.5 * squared / ahead : static_cast<double>(unreached);
}

void Reaches::circlesToEdges(const Ray& ray) {
  const auto footEast = static_cast<float>(ray.foot.east_m - middle_.east_m);
  const auto footNorth = static_cast<float>(ray.foot.north_m - middle_.north_m);
  const auto inwardEast = static_cast<float>(ray.inward.east_m);
  const auto inwardNorth = static_cast<float>(ray.inward.north_m);
  const float* startEast = startEast_.data();
  const float* startNorth = startNorth_.data();
  const float* alongEast = alongEast_.data();
  const float* alongNorth = alongNorth_.data();
  const float* length = length_.data();
  float* radii = radii_.data();
  const std::size_t count = radii_.size();
  for (std::size_t i = 0; i < count; ++i) {
    const float east = footEast - startEast[i];
    const float north = footNorth - startNorth[i];
    // The circle touches the edge's line where height + radius * (inward . normal)
    // equals the radius. 1 - cos as half the squared difference keeps its digits.
    const float height = alongEast[i] * north - alongNorth[i] * east;
    const float normalEast = inwardEast + alongNorth[i];
    const float normalNorth = inwardNorth - alongEast[i];
    const float opening = 0.5F * (normalEast * normalEast + normalNorth * normalNorth);
    const float radius = height / opening;
    const float touch = alongEast[i] * (east + radius * inwardEast) +
                        alongNorth[i] * (north + radius * inwardNorth);
    const float slack = 1e-4F * length[i];
    // A place over or behind the line is shut off by another edge before this one.
    const bool touches = (height > 0.0F) & (touch >= -slack) & (touch <= length[i] + slack);
    radii[i] = touches ? radius : unreached;
  }
}

// In four lanes, because one waits for itself.
float Reaches::leastRadius() const {
  float least[4] = {unreached, unreached, unreached, unreached};
  std::size_t i = 0;
  for (; i + 4 <= radii_.size(); i += 4) {
    for (std::size_t lane = 0; lane < 4; ++lane) {
      least[lane] = radii_[i + lane] < least[lane] ? radii_[i + lane] : least[lane];
    }
  }
  for (; i < radii_.size(); ++i) least[0] = std::min(least[0], radii_[i]);
  return std::min(std::min(least[0], least[1]), std::min(least[2], least[3]));
}

}  // namespace swardwalk::geo
