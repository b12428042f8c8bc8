#include "common/geo/inset_curve.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <functional>
#include <limits>
#include <numbers>
#include <numeric>

#include "common/geo/outline.h"
#include "common/geo/thinning.h"

namespace swardwalk::geo {
namespace {

constexpr std::size_t mostPoints = 240;
constexpr double cellsWanted = 600.0;
constexpr int fewestOnEdge = 4;
constexpr double sectorStep = std::numbers::pi / 200.0;
constexpr int fewestInCorner = 24;
constexpr double straight = 1e-9;
constexpr float unreached = std::numeric_limits<float>::infinity();

/// Which edge stands in the way of a growing circle, or which inward corner.
struct Limit {
  std::size_t index = 0;
  bool corner = false;

  bool operator==(const Limit&) const = default;
};

/// A point of the edge and the direction inward, a unit vector.
struct Ray {
  LocalPoint foot;
  LocalPoint inward;
};

/// How far inward of a point of the edge points have it as their nearest.
struct Reach {
  double reach_m = 0.0;
  Limit by;
};

/// A piece of the edge, or of the directions at an inward corner, over which the reach
/// runs straight from one value to another.
struct Cell {
  double low_m = 0.0;
  double high_m = 0.0;
  double stands = 0.0;  ///< length of edge in metres, or angle in radians
};

struct Cells {
  std::vector<Cell> list;
  double highest_m = 0.0;

  void add(double from_m, double to_m, double stands) {
    // Only where rings cross against the rule can a circle touch nothing.
    if (!std::isfinite(from_m) || !std::isfinite(to_m)) return;
    highest_m = std::max({highest_m, from_m, to_m});
    list.push_back({std::min(from_m, to_m), std::max(from_m, to_m), stands});
  }
};

/// The straight pieces of one polygon. The inside lies to the left.
struct Edges {
  struct Edge {
    LocalPoint start;
    LocalPoint along;  ///< of length 1
    double length_m = 0.0;
    std::size_t previous = 0;
    std::size_t next = 0;
    bool inwardCorner = false;   ///< at its start
    bool outwardCorner = false;  ///< likewise; neither where it runs on straight
  };
  std::vector<Edge> list;
};

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

/// Finds reaches. The edges stand in columns of float, so that the loop over them runs
/// several at a time; its buffer is kept between calls.
class Reaches {
 public:
  explicit Reaches(const Edges& edges) : edges_(edges), radii_(edges.list.size()) {
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

  /// Radius of the largest circle inside that touches the edge at the foot, its middle
  /// lying inward. `own` and `ownToo` are the edges that the foot lies on.
  Reach at(const Ray& ray, std::size_t own, std::size_t ownToo) {
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

  /// The same as far as one limit says.
  double by(const Limit& limit, const Ray& ray) const {
    if (limit.corner) return toCorner(ray, limit.index);
    const Edges::Edge& edge = edges_.list[limit.index];
    const double east = ray.foot.east_m - edge.start.east_m;
    const double north = ray.foot.north_m - edge.start.north_m;
    const double normalEast = ray.inward.east_m + edge.along.north_m;
    const double normalNorth = ray.inward.north_m - edge.along.east_m;
    return (edge.along.east_m * north - edge.along.north_m * east) /
           (0.5 * (normalEast * normalEast + normalNorth * normalNorth));
  }

 private:
  double toCorner(const Ray& ray, std::size_t i) const {
    const double east = corners_[i].east_m - ray.foot.east_m;
    const double north = corners_[i].north_m - ray.foot.north_m;
    const double ahead = east * ray.inward.east_m + north * ray.inward.north_m;
    const double squared = east * east + north * north;
    const bool before = ahead > 0.0 && ahead * ahead > 1e-18 * squared;
    return before ? 0.5 * squared / ahead : static_cast<double>(unreached);
  }

  void circlesToEdges(const Ray& ray) {
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

  /// In four lanes, because one waits for itself.
  float leastRadius() const {
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

  const Edges& edges_;
  LocalPoint middle_;
  std::vector<float> startEast_, startNorth_, alongEast_, alongNorth_, length_;
  std::vector<LocalPoint> corners_;
  std::vector<float> radii_;
};

double directionInward(const Edges::Edge& edge) {
  return std::atan2(edge.along.east_m, -edge.along.north_m);
}

/// Walks along rays that run evenly from one to another and adds what the reach does.
/// `rayAt` gives the ray at a place, `reachAt` its reach.
template <class RayAt, class ReachAt>
class Walk {
 public:
  Walk(const Reaches& reaches, RayAt rayAt, ReachAt reachAt, Cells& cells)
      : reaches_(reaches), rayAt_(rayAt), reachAt_(reachAt), cells_(cells) {}

  /// From `start` to `end` in `count` steps.
  void go(double start, double end, int count) {
    Reach before = reachAt_(start);
    double from = start;
    for (int k = 1; k <= count; ++k) {
      const double to = k < count ? start + (end - start) * k / count : end;
      const Reach after = reachAt_(to);
      step(from, before, to, after, deepest);
      before = after;
      from = to;
    }
  }

 private:
  static constexpr int deepest = 4;
  static constexpr int solving = 12;

  void step(double from, const Reach& before, double to, const Reach& after, int deeper) {
    const double middle = 0.5 * (from + to);
    if (before.by == after.by) {
      const double middle_m = reaches_.by(before.by, rayAt_(middle));
      cells_.add(before.reach_m, middle_m, middle - from);
      cells_.add(middle_m, after.reach_m, to - middle);
      return;
    }
    // Another limit takes over where both say the same, if no third one lies below.
    double low = from;
    double high = to;
    for (int i = 0; i < solving; ++i) {
      const double half = 0.5 * (low + high);
      const Ray ray = rayAt_(half);
      (reaches_.by(before.by, ray) < reaches_.by(after.by, ray) ? low : high) = half;
    }
    const double bend = 0.5 * (low + high);
    const double both_m = reaches_.by(before.by, rayAt_(bend));
    const Reach there = reachAt_(bend);
    if (deeper > 0 && there.reach_m < 0.999 * both_m) {
      step(from, before, bend, there, deeper - 1);
      step(bend, there, to, after, deeper - 1);
    } else {
      cells_.add(before.reach_m, there.reach_m, bend - from);
      cells_.add(there.reach_m, after.reach_m, to - bend);
    }
  }

  const Reaches& reaches_;
  RayAt rayAt_;
  ReachAt reachAt_;
  Cells& cells_;
};

void addEdge(const Edges& edges, std::size_t i, double spacing_m, Reaches& reaches, Cells& cells) {
  const Edges::Edge& edge = edges.list[i];
  const LocalPoint inward{-edge.along.north_m, edge.along.east_m};
  const auto rayAt = [&](double along_m) {
    return Ray{{edge.start.east_m + along_m * edge.along.east_m,
                edge.start.north_m + along_m * edge.along.north_m},
               inward};
  };
  const auto reachAt = [&](double along_m) -> Reach {
    const bool begins = along_m <= 0.0;
    if (!begins && along_m < edge.length_m) return reaches.at(rayAt(along_m), i, i);
    // Nothing in an outward corner, whose other edge limits it from there.
    const std::size_t other = begins ? edge.previous : edge.next;
    if (edges.list[begins ? i : other].outwardCorner) return {0.0, {other, false}};
    return reaches.at(rayAt(along_m), i, other);
  };
  const int count = std::max(static_cast<int>(edge.length_m / spacing_m), fewestOnEdge);
  Walk(reaches, rayAt, reachAt, cells).go(0.0, edge.length_m, count);
}

void addCorner(const Edges& edges, std::size_t i, Reaches& reaches, Cells& cells) {
  const Edges::Edge& edge = edges.list[i];
  const double from = directionInward(edges.list[edge.previous]);
  const double turn = std::remainder(directionInward(edge) - from, 2.0 * std::numbers::pi);
  const auto rayAt = [&](double turned) {
    const double direction = turn < 0.0 ? from - turned : from + turned;
    return Ray{edge.start, {std::cos(direction), std::sin(direction)}};
  };
  const auto reachAt = [&](double turned) { return reaches.at(rayAt(turned), i, edge.previous); };
  const int count = std::max(static_cast<int>(std::abs(turn) / sectorStep), fewestInCorner);
  Walk(reaches, rayAt, reachAt, cells).go(0.0, std::abs(turn), count);
}

/// What stands at even steps of reach for cells: each one's amount spread evenly from its
/// lower reach to its upper one and handed to the two steps beside it by nearness. Sums
/// of these from above are exact at the steps.
std::vector<double> spreadOver(const std::vector<Cell>& cells, double step_m, std::size_t steps) {
  std::vector<double> stands(steps + 1, 0.0);
  std::vector<double> evenly(steps + 2, 0.0);  // differences of what whole steps get
  const auto place = [&](double amount, double at) {
    const auto below = std::min(static_cast<std::size_t>(at), steps - 1);
    const double part = at - static_cast<double>(below);
    stands[below] += amount * (1.0 - part);
    stands[below + 1] += amount * part;
  };
  for (const Cell& cell : cells) {
    const double from = cell.low_m / step_m;
    const double to = std::min(cell.high_m / step_m, static_cast<double>(steps));
    const double first = std::ceil(from);
    const double last = std::floor(to);
    if (last < first || !(to > from)) {
      place(cell.stands, 0.5 * (from + to));
      continue;
    }
    const double each = cell.stands / (to - from);
    place(each * (first - from), 0.5 * (first + from));
    place(each * (to - last), 0.5 * (to + last));
    const auto begin = static_cast<std::size_t>(first);
    const auto end = static_cast<std::size_t>(last);
    stands[begin] -= 0.5 * each;
    stands[end] -= 0.5 * each;
    evenly[begin] += each;
    evenly[end + 1] -= each;
  }
  double now = 0.0;
  for (std::size_t k = 0; k <= steps; ++k) {
    now += evenly[k];
    stands[k] += now;
  }
  return stands;
}

}  // namespace

InsetCurve::InsetCurve(const LocalShape& shape) {
  const double full_m2 = geo::area_m2(shape);
  assert(full_m2 > 0.0);
  const LocalShape outlines = thinnedTo(shape, mostPoints);
  for (const LocalPolygon& polygon : outlines) perimeter_m_ += geo::perimeter_m(polygon);
  Cells onEdges;
  Cells inCorners;
  for (const LocalPolygon& polygon : outlines) {
    Edges edges;
    addRing(edges, polygon.outer, true);
    for (const LocalRing& hole : polygon.holes) addRing(edges, hole, false);
    if (edges.list.empty()) continue;
    Reaches reaches(edges);
    for (std::size_t i = 0; i < edges.list.size(); ++i) {
      addEdge(edges, i, perimeter_m_ / cellsWanted, reaches, onEdges);
      if (edges.list[i].inwardCorner) addCorner(edges, i, reaches, inCorners);
    }
    // A whole turn of an outer edge that moves out gains a circle, of a hole's loses one.
    corners_m2_ += std::numbers::pi * (1.0 - static_cast<double>(polygon.holes.size()));
  }
  step_m_ = std::max(onEdges.highest_m, inCorners.highest_m) / static_cast<double>(steps);
  const std::vector<double> lengths_m = spreadOver(onEdges.list, step_m_, steps);
  const std::vector<double> angles = spreadOver(inCorners.list, step_m_, steps);
  // Lost up to an inset: what reaches less far whole, what reaches farther up to there.
  double openLength_m = std::accumulate(lengths_m.begin(), lengths_m.end(), 0.0);
  double openAngle = std::accumulate(angles.begin(), angles.end(), 0.0);
  double lost_m2 = 0.0;
  areas_m2_.reserve(steps + 1);
  areas_m2_.push_back(0.0);
  for (std::size_t k = 0; k < steps; ++k) {
    openLength_m -= lengths_m[k];
    openAngle -= angles[k];
    const double middle_m = step_m_ * (static_cast<double>(k) + 0.5);
    lost_m2 += step_m_ * (openLength_m + openAngle * middle_m);
    areas_m2_.push_back(lost_m2);
  }
  // What is left at the end is the rest of sampling: make it nothing.
  const double scale = full_m2 / lost_m2;
  for (double& area_m2 : areas_m2_) area_m2 = std::max(full_m2 - scale * area_m2, 0.0);
  areas_m2_.back() = 0.0;
}

double InsetCurve::area_m2(double inset_m) const {
  if (inset_m <= 0.0) {
    return areas_m2_.front() - inset_m * perimeter_m_ + corners_m2_ * inset_m * inset_m;
  }
  const double at = inset_m / step_m_;
  if (!(at < static_cast<double>(steps))) return 0.0;
  const auto below = static_cast<std::size_t>(at);
  const double share = at - static_cast<double>(below);
  return areas_m2_[below] + share * (areas_m2_[below + 1] - areas_m2_[below]);
}

double InsetCurve::inset_m(double area_m2) const {
  const double gained_m2 = area_m2 - areas_m2_.front();
  if (gained_m2 >= 0.0) {
    // perimeter * out + corners * out^2 = gained, in the form that keeps its digits.
    const double under = perimeter_m_ * perimeter_m_ + 4.0 * corners_m2_ * gained_m2;
    return -2.0 * gained_m2 / (perimeter_m_ + std::sqrt(std::max(under, 0.0)));
  }
  if (area_m2 <= 0.0) return closingInset_m();
  const auto below =
      std::lower_bound(areas_m2_.begin(), areas_m2_.end(), area_m2, std::greater<>());
  const double above_m2 = *(below - 1);
  const double share = (above_m2 - area_m2) / (above_m2 - *below);
  return step_m_ * (static_cast<double>(below - areas_m2_.begin() - 1) + share);
}

}  // namespace swardwalk::geo
