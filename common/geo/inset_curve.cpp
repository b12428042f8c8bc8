#include "common/geo/inset_curve.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <limits>
#include <numbers>

#include "common/geo/outline.h"
#include "common/geo/thinning.h"

namespace swardwalk::geo {
namespace {

constexpr std::size_t mostPoints = 240;
constexpr double samplesWanted = 800.0;
constexpr int fewestOnEdge = 9;
constexpr double sectorStep = std::numbers::pi / 32.0;
constexpr float unreached = std::numeric_limits<float>::infinity();

/// A point of the edge with the direction inward, how much it stands for, and how far
/// inward of it points have it as their nearest.
struct Sample {
  double reach_m = 0.0;
  double length_m = 0.0;   ///< of the edge, where it lies on one
  double angle_rad = 0.0;  ///< of the sector, where it is an inward corner
};

/// The straight pieces of one polygon. The inside lies to the left.
struct Edges {
  struct Edge {
    LocalPoint start;
    LocalPoint along;  ///< of length 1
    double length_m = 0.0;
    std::size_t previous = 0;
    bool inwardCorner = false;  ///< at its start
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
                          first + (i + count - 1) % count});
  }
  for (std::size_t i = first; i < edges.list.size(); ++i) {
    const LocalPoint& before = edges.list[edges.list[i].previous].along;
    const LocalPoint& along = edges.list[i].along;
    edges.list[i].inwardCorner =
        before.east_m * along.north_m - before.north_m * along.east_m < 0.0;
  }
}

/// Finds reaches. The edges stand in columns of float, so that the loop over them runs
/// several at a time; its buffer is kept between calls.
class Reaches {
 public:
  explicit Reaches(const Edges& edges) : radii_(edges.list.size()) {
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

  /// Radius of the largest circle inside that touches the edge at `foot`, its middle
  /// lying in direction `inward`. `own` and `ownToo` are the edges that `foot` lies on.
  double at(LocalPoint foot, LocalPoint inward, std::size_t own, std::size_t ownToo) {
    circlesToEdges(foot, inward);
    radii_[own] = unreached;
    radii_[ownToo] = unreached;
    double least = leastRadius();
    for (const LocalPoint& corner : corners_) {
      const double east = corner.east_m - foot.east_m;
      const double north = corner.north_m - foot.north_m;
      const double ahead = east * inward.east_m + north * inward.north_m;
      const double squared = east * east + north * north;
      if (ahead > 0.0 && ahead * ahead > 1e-18 * squared) {
        least = std::min(least, 0.5 * squared / ahead);
      }
    }
    return least;
  }

 private:
  void circlesToEdges(LocalPoint foot, LocalPoint inward) {
    const auto footEast = static_cast<float>(foot.east_m - middle_.east_m);
    const auto footNorth = static_cast<float>(foot.north_m - middle_.north_m);
    const auto inwardEast = static_cast<float>(inward.east_m);
    const auto inwardNorth = static_cast<float>(inward.north_m);
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
      const float slack = 1e-5F * length[i];
      // A place over or behind the line is shut off by another edge before this one.
      const bool touches = (height > 0.0F) & (touch >= -slack) & (touch <= length[i] + slack);
      radii[i] = touches ? radius : unreached;
    }
  }

  /// In four lanes, because one waits for itself.
  double leastRadius() const {
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

  LocalPoint middle_;
  std::vector<float> startEast_, startNorth_, alongEast_, alongNorth_, length_;
  std::vector<LocalPoint> corners_;
  std::vector<float> radii_;
};

double directionInward(const Edges::Edge& edge) {
  return std::atan2(edge.along.east_m, -edge.along.north_m);
}

/// The golden ratio's fractions lie evenly whatever their number: pieces shifted by
/// them do not all miss the same places of edges that are all alike.
double shiftOf(std::size_t i) {
  const double turns = static_cast<double>(i + 1) * std::numbers::phi;
  return turns - std::floor(turns);
}

void sampleEdge(const Edges& edges, std::size_t i, double spacing_m, Reaches& reaches,
                std::vector<Sample>& samples) {
  const Edges::Edge& edge = edges.list[i];
  const int count = std::max(static_cast<int>(edge.length_m / spacing_m), fewestOnEdge);
  const double piece_m = edge.length_m / count;
  const LocalPoint inward{-edge.along.north_m, edge.along.east_m};
  const auto add = [&](double along_m, double stands_m) {
    const LocalPoint foot{edge.start.east_m + along_m * edge.along.east_m,
                          edge.start.north_m + along_m * edge.along.north_m};
    samples.push_back({reaches.at(foot, inward, i, i), stands_m, 0.0});
  };
  // Shifted round the edge: what runs out at its end comes in at its start.
  const double shift = shiftOf(i);
  for (int k = 0; k < count; ++k) add((k + shift) * piece_m, piece_m);
  // Stands for nothing; it is where the reach often peaks, which the closing inset is.
  add(0.5 * edge.length_m, 0.0);
}

void sampleCorner(const Edges& edges, std::size_t i, Reaches& reaches,
                  std::vector<Sample>& samples) {
  const Edges::Edge& edge = edges.list[i];
  const double from = directionInward(edges.list[edge.previous]);
  const double turn = std::remainder(directionInward(edge) - from, 2.0 * std::numbers::pi);
  const int count = static_cast<int>(std::ceil(std::abs(turn) / sectorStep));
  const auto add = [&](double share, double stands) {
    const double direction = from + turn * share;
    const LocalPoint inward{std::cos(direction), std::sin(direction)};
    samples.push_back({reaches.at(edge.start, inward, i, edge.previous), 0.0, stands});
  };
  for (int k = 0; k < count; ++k) add((k + 0.5) / count, std::abs(turn) / count);
  add(0.5, 0.0);
}

void sampleAll(const Edges& edges, double spacing_m, std::vector<Sample>& samples) {
  Reaches reaches(edges);
  for (std::size_t i = 0; i < edges.list.size(); ++i) {
    sampleEdge(edges, i, spacing_m, reaches, samples);
    if (edges.list[i].inwardCorner) sampleCorner(edges, i, reaches, samples);
  }
}

}  // namespace

InsetCurve::InsetCurve(const LocalShape& shape) {
  const double full_m2 = geo::area_m2(shape);
  assert(full_m2 > 0.0);
  const LocalShape outlines = thinnedTo(shape, mostPoints);
  for (const LocalPolygon& polygon : outlines) perimeter_m_ += geo::perimeter_m(polygon);
  std::vector<Sample> samples;
  for (const LocalPolygon& polygon : outlines) {
    Edges edges;
    addRing(edges, polygon.outer, true);
    for (const LocalRing& hole : polygon.holes) addRing(edges, hole, false);
    if (!edges.list.empty()) sampleAll(edges, perimeter_m_ / samplesWanted, samples);
    // A whole turn of an outer edge that moves out gains a circle, of a hole's loses one.
    corners_m2_ += std::numbers::pi * (1.0 - static_cast<double>(polygon.holes.size()));
  }
  // Only where rings cross against the rule can a circle touch nothing.
  std::erase_if(samples, [](const Sample& sample) { return !std::isfinite(sample.reach_m); });
  std::sort(samples.begin(), samples.end(),
            [](const Sample& a, const Sample& b) { return a.reach_m < b.reach_m; });

  double openLength_m = 0.0;
  double openAngle = 0.0;
  for (const Sample& sample : samples) {
    openLength_m += sample.length_m;
    openAngle += sample.angle_rad;
  }
  double lost_m2 = 0.0;
  knots_.push_back({0.0, 0.0});
  constexpr double finest = 1.0 / 256.0;
  const double closing_m = samples.empty() ? 0.0 : samples.back().reach_m;
  for (std::size_t i = 0; i < samples.size();) {
    // Sectors bend the curve between reaches that lie far apart.
    const double next_m = std::min(samples[i].reach_m, knots_.back().inset_m + finest * closing_m);
    const double step_m = next_m - knots_.back().inset_m;
    lost_m2 += step_m * (openLength_m + openAngle * (knots_.back().inset_m + 0.5 * step_m));
    while (i < samples.size() && samples[i].reach_m <= next_m) {
      openLength_m -= samples[i].length_m;
      openAngle -= samples[i].angle_rad;
      ++i;
    }
    if (step_m > 0.0) knots_.push_back({next_m, lost_m2});
  }
  // The samples' own total is the area but for their spacing: make it the area.
  const double scale = lost_m2 > 0.0 ? full_m2 / lost_m2 : 0.0;
  for (Knot& knot : knots_) knot.area_m2 = std::max(full_m2 - scale * knot.area_m2, 0.0);
  // What stands for nothing may reach a little farther than the rest: straight to there.
  while (knots_.size() > 2 && knots_[knots_.size() - 2].area_m2 < 1e-9 * full_m2) {
    knots_.erase(knots_.end() - 2);
  }
  knots_.back().area_m2 = knots_.size() > 1 ? 0.0 : full_m2;
}

double InsetCurve::area_m2(double inset_m) const {
  if (inset_m <= 0.0) {
    return knots_.front().area_m2 - inset_m * perimeter_m_ + corners_m2_ * inset_m * inset_m;
  }
  const auto above =
      std::upper_bound(knots_.begin(), knots_.end(), inset_m,
                       [](double wanted_m, const Knot& knot) { return wanted_m < knot.inset_m; });
  if (above == knots_.end()) return 0.0;
  const Knot& below = *(above - 1);
  const double share = (inset_m - below.inset_m) / (above->inset_m - below.inset_m);
  return below.area_m2 + share * (above->area_m2 - below.area_m2);
}

double InsetCurve::inset_m(double area_m2) const {
  const double gained_m2 = area_m2 - knots_.front().area_m2;
  if (gained_m2 >= 0.0) {
    // perimeter * out + corners * out^2 = gained, in the form that keeps its digits.
    const double under = perimeter_m_ * perimeter_m_ + 4.0 * corners_m2_ * gained_m2;
    return -2.0 * gained_m2 / (perimeter_m_ + std::sqrt(std::max(under, 0.0)));
  }
  if (area_m2 <= 0.0) return closingInset_m();
  const auto below =
      std::lower_bound(knots_.begin(), knots_.end(), area_m2,
                       [](const Knot& knot, double wanted_m2) { return knot.area_m2 > wanted_m2; });
  const Knot& above = *(below - 1);
  const double share = (above.area_m2 - area_m2) / (above.area_m2 - below->area_m2);
  return above.inset_m + share * (below->inset_m - above.inset_m);
}

}  // namespace swardwalk::geo
