#include "common/geo/inset_curve.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <numbers>
#include <numeric>

#include "common/geo/outline.h"
#include "common/geo/reaches.h"
#include "common/geo/thinning.h"

namespace swardwalk::geo {
namespace {

constexpr std::size_t mostPoints = 240;
constexpr double cellsWanted = 600.0;
constexpr int fewestOnEdge = 4;
constexpr double sectorStep = std::numbers::pi / 200.0;
constexpr int fewestInCorner = 24;

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
