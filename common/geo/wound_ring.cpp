#include "common/geo/wound_ring.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <utility>

#include "common/geo/compass.h"
#include "common/geo/crossings.h"
#include "common/geo/outline.h"

namespace swardwalk::geo {
namespace {

std::size_t after(std::size_t i, std::size_t size) { return i + 1 == size ? 0 : i + 1; }

/// Crossings of one edge nearer than this share of it may stand in the wrong order.
constexpr double surelyApart = 1e-9;

constexpr std::size_t none = static_cast<std::size_t>(-1);

/// One pass of the ring through a crossing.
struct Stop {
  std::size_t edge = 0;
  double along = 0.0;
  std::size_t crossing = 0;
  bool otherFromRight = false;
  std::size_t twin = none;  ///< the other pass
};

/// From each stop to the next; the side on which the shape lies: 1 left, -1 right, 0 none.
/// A piece of the shape's edge runs with the shape at its left.
struct Arc {
  double side = 0.0;
  std::size_t next = none;  ///< the arc whose piece follows, where the side is not 0
};

class Winding {
 public:
  Winding(const LocalRing& ring, const std::vector<Crossing>& crossings)
      : ring_(ring), crossings_(crossings) {}

  /// False where rounding could decide.
  bool wind() {
    if (!putStops()) return false;
    const auto start = startingWinding();
    if (!start) return false;
    sidesOfArcs(*start);
    link();
    return true;
  }

  std::vector<double> sides() const {
    std::vector<double> sides(ring_.size());
    std::size_t arc = stops_.size() - 1;  // the one that runs into the first stop
    std::size_t stop = 0;
    for (std::size_t i = 0; i < ring_.size(); ++i) {
      while (stop < stops_.size() && middleLiesBeyond(i, stops_[stop])) arc = stop++;
      sides[i] = arcs_[arc].side;
    }
    return sides;
  }

  std::vector<LocalRing> rings() const {
    std::vector<LocalRing> rings;
    std::vector<bool> done(arcs_.size(), false);
    for (std::size_t first = 0; first < arcs_.size(); ++first) {
      if (done[first] || arcs_[first].side == 0.0) continue;
      LocalRing ring;
      for (std::size_t arc = first; !done[arc]; arc = arcs_[arc].next) {
        done[arc] = true;
        addPiece(arc, ring);
      }
      if (ring.size() >= 3) rings.push_back(std::move(ring));
    }
    return rings;
  }

 private:
  static bool middleLiesBeyond(std::size_t edge, const Stop& stop) {
    return stop.edge != edge ? stop.edge < edge : stop.along <= 0.5;
  }

  bool putStops() {
    for (std::size_t i = 0; i < crossings_.size(); ++i) {
      const Crossing& crossing = crossings_[i];
      stops_.push_back({crossing.first, crossing.alongFirst, i, crossing.secondFromRight, none});
      stops_.push_back({crossing.second, crossing.alongSecond, i, !crossing.secondFromRight, none});
    }
    std::sort(stops_.begin(), stops_.end(), [](const Stop& a, const Stop& b) {
      return a.edge != b.edge ? a.edge < b.edge : a.along < b.along;
    });
    std::vector<std::size_t> seen(crossings_.size(), none);
    for (std::size_t i = 0; i < stops_.size(); ++i) {
      if (i > 0 && stops_[i].edge == stops_[i - 1].edge &&
          stops_[i].along - stops_[i - 1].along < surelyApart) {
        return false;
      }
      std::size_t& twin = seen[stops_[i].crossing];
      if (twin == none) {
        twin = i;
      } else {
        stops_[i].twin = twin;
        stops_[twin].twin = i;
      }
    }
    return true;
  }

  /// How often the ring runs round the place at the left of its southernmost point.
  std::optional<int> startingWinding() {
    const auto lowest =
        std::min_element(ring_.begin(), ring_.end(), [](LocalPoint a, LocalPoint b) {
          return a.north_m != b.north_m ? a.north_m < b.north_m : a.east_m < b.east_m;
        });
    lowest_ = static_cast<std::size_t>(lowest - ring_.begin());
    const LocalPoint& before = ring_[lowest_ == 0 ? ring_.size() - 1 : lowest_ - 1];
    const int turn = certainSide(before, *lowest, ring_[after(lowest_, ring_.size())]);
    // Below lies the outside: it is to the left only where the ring turns right.
    if (turn == 0) return std::nullopt;
    return turn > 0 ? 1 : 0;
  }

  void sidesOfArcs(int winding) {
    arcs_.resize(stops_.size());
    const auto beyond = std::find_if(stops_.begin(), stops_.end(),
                                     [&](const Stop& stop) { return stop.edge >= lowest_; });
    std::size_t stop =
        beyond == stops_.end() ? 0 : static_cast<std::size_t>(beyond - stops_.begin());
    for (std::size_t done = 0; done < stops_.size(); ++done) {
      winding += stops_[stop].otherFromRight ? -1 : 1;
      // Round what lies right of the ring it runs once less.
      arcs_[stop].side = winding == 1 ? 1.0 : winding == 0 ? -1.0 : 0.0;
      stop = after(stop, stops_.size());
    }
  }

  std::size_t arcInto(std::size_t stop) const { return stop == 0 ? stops_.size() - 1 : stop - 1; }

  /// At each crossing the shape's edge turns left, as far as it can. So no ring passes a
  /// crossing twice: where four pieces meet, what the ring runs round to the left touches
  /// what it runs round to the right, and those share nothing but crossings.
  void link() {
    for (std::size_t stop = 0; stop < stops_.size(); ++stop) {
      if (!stops_[stop].otherFromRight) continue;
      // Of the two passes this one goes up, the other from right to left.
      const std::size_t up = stop;
      const std::size_t across = stops_[stop].twin;
      const std::size_t below = arcInto(up), above = up;
      const std::size_t right = arcInto(across), left = across;
      const auto runs = [&](std::size_t arc, double side) { return arcs_[arc].side == side; };
      // Pieces that come in, each with those that may follow, the leftmost first.
      if (runs(below, 1.0))
        arcs_[below].next = runs(left, 1.0) ? left : runs(above, 1.0) ? above : right;
      if (runs(right, 1.0))
        arcs_[right].next = runs(below, -1.0) ? below : runs(left, 1.0) ? left : above;
      if (runs(above, -1.0)) {
        arcs_[above].next = runs(right, -1.0) ? right : runs(below, -1.0) ? below : left;
      }
      if (runs(left, -1.0)) {
        arcs_[left].next = runs(above, 1.0) ? above : runs(right, -1.0) ? right : below;
      }
    }
  }

  /// Points of the arc from its beginning as the piece runs, without its end.
  void addPiece(std::size_t arc, LocalRing& to) const {
    const Stop& from = stops_[arc];
    const Stop& end = stops_[after(arc, stops_.size())];
    const std::size_t size = ring_.size();
    std::size_t count = (end.edge + size - from.edge) % size;
    if (count == 0 && end.along <= from.along) count = size;  // all the way round
    const bool forward = arcs_[arc].side > 0.0;
    to.push_back(crossings_[forward ? from.crossing : end.crossing].place);
    for (std::size_t i = 0; i < count; ++i) {
      const std::size_t step = forward ? i : count - 1 - i;
      to.push_back(ring_[(from.edge + 1 + step) % size]);
    }
  }

  const LocalRing& ring_;
  const std::vector<Crossing>& crossings_;
  std::vector<Stop> stops_;  ///< along the ring
  std::vector<Arc> arcs_;    ///< from the stop of the same number on
  std::size_t lowest_ = 0;
};

LocalPoint middleOfLongestEdge(const LocalRing& ring) {
  double longest_m = -1.0;
  LocalPoint middle;
  for (std::size_t i = 0; i < ring.size(); ++i) {
    const LocalPoint& next = ring[after(i, ring.size())];
    const double length_m = distance_m(ring[i], next);
    if (length_m <= longest_m) continue;
    longest_m = length_m;
    middle = {0.5 * (ring[i].east_m + next.east_m), 0.5 * (ring[i].north_m + next.north_m)};
  }
  return middle;
}

/// Outer rings run counter-clockwise, holes clockwise; each hole lies in the smallest outer
/// ring about it.
LocalShape shapeFrom(std::vector<LocalRing> rings) {
  LocalShape shape;
  std::vector<LocalRing> holes;
  for (LocalRing& ring : rings) {
    if (signedArea_m2(ring) > 0.0) {
      shape.push_back({std::move(ring), {}});
    } else {
      holes.push_back(std::move(ring));
    }
  }
  std::sort(shape.begin(), shape.end(),
            [](const LocalPolygon& a, const LocalPolygon& b) { return area_m2(a) < area_m2(b); });
  for (LocalRing& hole : holes) {
    const LocalPoint place = middleOfLongestEdge(hole);
    const auto about = std::find_if(shape.begin(), shape.end(), [&](const LocalPolygon& polygon) {
      return contains({{polygon.outer, {}}}, place);
    });
    if (about != shape.end()) about->holes.push_back(std::move(hole));
  }
  std::reverse(shape.begin(), shape.end());
  return shape;
}

/// The directed edges of a shape, which lies to the left of each.
class EdgesOf {
 public:
  explicit EdgesOf(const LocalShape& shape) {
    for (const LocalPolygon& polygon : shape) {
      add(polygon.outer);
      for (const LocalRing& hole : polygon.holes) add(hole);
    }
    std::sort(edges_.begin(), edges_.end());
  }

  bool has(LocalPoint from, LocalPoint to) const {
    return std::binary_search(edges_.begin(), edges_.end(), keyOf(from, to));
  }

 private:
  using Key = std::array<double, 4>;

  static Key keyOf(LocalPoint from, LocalPoint to) {
    return {from.east_m, from.north_m, to.east_m, to.north_m};
  }

  void add(const LocalRing& ring) {
    for (std::size_t i = 0; i < ring.size(); ++i) {
      edges_.push_back(keyOf(ring[i], ring[after(i, ring.size())]));
    }
  }

  std::vector<Key> edges_;
};

double sideAtMiddle(LocalPoint a, LocalPoint b, const LocalShape& shape) {
  const LocalPoint middle{0.5 * (a.east_m + b.east_m), 0.5 * (a.north_m + b.north_m)};
  constexpr double aside = 1e-4;  // of the edge's length
  const double east = -aside * (b.north_m - a.north_m);
  const double north = aside * (b.east_m - a.east_m);
  const bool left = contains(shape, {middle.east_m + east, middle.north_m + north});
  const bool right = contains(shape, {middle.east_m - east, middle.north_m - north});
  return (left ? 1.0 : 0.0) - (right ? 1.0 : 0.0);
}

/// Most edges are edges of the shape as they stand; only those that cross another need
/// looking at.
std::vector<double> sidesBySight(const LocalRing& ring, const LocalShape& shape) {
  const EdgesOf edges(shape);
  std::vector<double> sides;
  for (std::size_t i = 0; i < ring.size(); ++i) {
    const LocalPoint& a = ring[i];
    const LocalPoint& b = ring[after(i, ring.size())];
    if (edges.has(a, b)) {
      sides.push_back(1.0);
    } else if (edges.has(b, a)) {
      sides.push_back(-1.0);
    } else {
      sides.push_back(sideAtMiddle(a, b, shape));
    }
  }
  return sides;
}

WoundRing simple(const LocalRing& ring) {
  const bool left = signedArea_m2(ring) >= 0.0;
  return {false,
          {{left ? ring : LocalRing(ring.rbegin(), ring.rend()), {}}},
          std::vector<double>(ring.size(), left ? 1.0 : -1.0)};
}

}  // namespace

WoundRing woundRing(const LocalRing& ring) {
  if (const auto crossings = certainCrossings(ring)) {
    if (crossings->empty()) return simple(ring);
    Winding winding(ring, *crossings);
    if (winding.wind()) return {true, shapeFrom(winding.rings()), winding.sides()};
  }
  if (!crossesItself(ring)) return simple(ring);
  WoundRing wound{true, resolved(ring), {}};
  wound.sides = sidesBySight(ring, wound.shape);
  return wound;
}

}  // namespace swardwalk::geo
