#include "common/geo/outline.h"

#include <algorithm>
#include <cassert>
#include <cmath>

namespace swardwalk::geo {
namespace {

/// Beyond this many of those lengths the rest of the correlation is below 1e-4.
constexpr double farAlong = 9.0;

std::size_t after(std::size_t i, std::size_t size) { return i + 1 == size ? 0 : i + 1; }

/// Twice the area of the triangle, positive counter-clockwise.
double cross(LocalPoint a, LocalPoint b, LocalPoint c) {
  return (b.east_m - a.east_m) * (c.north_m - a.north_m) -
         (c.east_m - a.east_m) * (b.north_m - a.north_m);
}

double length_m(const LocalRing& ring) {
  double length = 0.0;
  for (std::size_t i = 0; i < ring.size(); ++i) {
    const LocalPoint& next = ring[after(i, ring.size())];
    length += std::hypot(next.east_m - ring[i].east_m, next.north_m - ring[i].north_m);
  }
  return length;
}

/// Even-odd rule; a point on the boundary may fall either way.
bool inRing(const LocalRing& ring, LocalPoint point) {
  bool inside = false;
  for (std::size_t i = 0; i < ring.size(); ++i) {
    const LocalPoint& a = ring[i];
    const LocalPoint& b = ring[after(i, ring.size())];
    if ((a.north_m > point.north_m) == (b.north_m > point.north_m)) continue;
    const double share = (point.north_m - a.north_m) / (b.north_m - a.north_m);
    if (point.east_m < a.east_m + share * (b.east_m - a.east_m)) inside = !inside;
  }
  return inside;
}

/// Area and its first moments about a point, of one ring, signed.
struct Moments {
  double area = 0.0;
  double east = 0.0;
  double north = 0.0;
};

Moments momentsAbout(const LocalRing& ring, LocalPoint about) {
  Moments moments;
  for (std::size_t i = 0; i < ring.size(); ++i) {
    const LocalPoint& a = ring[i];
    const LocalPoint& b = ring[after(i, ring.size())];
    const double part = 0.5 * cross(about, a, b);
    moments.area += part;
    moments.east += part * (a.east_m + b.east_m - 2.0 * about.east_m) / 3.0;
    moments.north += part * (a.north_m + b.north_m - 2.0 * about.north_m) / 3.0;
  }
  return moments;
}

/// sum over i of |P(i+1) - P(i-1)|^2.
double diagonals_m2(const LocalRing& ring) {
  const std::size_t size = ring.size();
  if (size < 3) return 0.0;
  double total = 0.0;
  for (std::size_t i = 0; i < size; ++i) {
    const LocalPoint& before = ring[i == 0 ? size - 1 : i - 1];
    const LocalPoint& next = ring[after(i, size)];
    const double east = next.east_m - before.east_m;
    const double north = next.north_m - before.north_m;
    total += east * east + north * north;
  }
  return total;
}

/// One straight edge as its placement matters: direction, length, middle along the ring.
struct Edge {
  double east = 0.0;
  double north = 0.0;
  double length_m = 0.0;
  double middle_m = 0.0;
};

/// Variance of the ring's area for edges placed to 1 m; see outlineArea_m2.
double edgeVariance(const LocalRing& ring, double correlation_m) {
  std::vector<Edge> edges;
  double along_m = 0.0;
  for (std::size_t i = 0; i < ring.size(); ++i) {
    const LocalPoint& a = ring[i];
    const LocalPoint& b = ring[after(i, ring.size())];
    const double length = std::hypot(b.east_m - a.east_m, b.north_m - a.north_m);
    if (length == 0.0) continue;
    edges.push_back({(b.east_m - a.east_m) / length, (b.north_m - a.north_m) / length, length,
                     along_m + 0.5 * length});
    along_m += length;
  }
  const std::size_t size = edges.size();
  double variance = 0.0;
  for (std::size_t i = 0; i < size; ++i) {
    variance += edges[i].length_m * edges[i].length_m;
    // Pairs, each once: the one further on within half the way round.
    for (std::size_t step = 1; step < size; ++step) {
      const std::size_t j = (i + step) % size;
      double apart_m = edges[j].middle_m - edges[i].middle_m;
      if (apart_m < 0.0) apart_m += along_m;
      if (2.0 * apart_m > along_m || apart_m > farAlong * correlation_m) break;
      const double alike = edges[i].east * edges[j].east + edges[i].north * edges[j].north;
      if (alike <= 0.0) continue;
      // Two edges exactly half the way round meet each other from both sides.
      const double share = 2.0 * apart_m == along_m ? 1.0 : 2.0;
      variance += share * edges[i].length_m * edges[j].length_m * alike *
                  std::exp(-apart_m / correlation_m);
    }
  }
  return variance;
}

/// Do the closed segments share a point?
bool meet(LocalPoint a, LocalPoint b, LocalPoint c, LocalPoint d) {
  const double ofC = cross(a, b, c);
  const double ofD = cross(a, b, d);
  const double ofA = cross(c, d, a);
  const double ofB = cross(c, d, b);
  const auto apart = [](double one, double other) {
    return (one > 0.0 && other < 0.0) || (one < 0.0 && other > 0.0);
  };
  if (apart(ofC, ofD) && apart(ofA, ofB)) return true;
  const auto within = [](LocalPoint from, LocalPoint to, LocalPoint point) {
    return std::min(from.east_m, to.east_m) <= point.east_m &&
           point.east_m <= std::max(from.east_m, to.east_m) &&
           std::min(from.north_m, to.north_m) <= point.north_m &&
           point.north_m <= std::max(from.north_m, to.north_m);
  };
  return (ofC == 0.0 && within(a, b, c)) || (ofD == 0.0 && within(a, b, d)) ||
         (ofA == 0.0 && within(c, d, a)) || (ofB == 0.0 && within(c, d, b));
}

/// Do the edges a-b and b-c lie on each other?
bool foldsBack(LocalPoint a, LocalPoint b, LocalPoint c) {
  const double dot = (b.east_m - a.east_m) * (c.east_m - b.east_m) +
                     (b.north_m - a.north_m) * (c.north_m - b.north_m);
  return cross(a, b, c) == 0.0 && dot < 0.0;
}

}  // namespace

double signedArea_m2(const LocalRing& ring) {
  // About the first vertex: far from the origin the plain sum loses digits.
  double twice = 0.0;
  for (std::size_t i = 2; i < ring.size(); ++i) twice += cross(ring[0], ring[i - 1], ring[i]);
  return 0.5 * twice;
}

double area_m2(const LocalPolygon& polygon) {
  double area = std::abs(signedArea_m2(polygon.outer));
  for (const LocalRing& hole : polygon.holes) area -= std::abs(signedArea_m2(hole));
  return std::max(area, 0.0);
}

double area_m2(const LocalShape& shape) {
  double area = 0.0;
  for (const LocalPolygon& polygon : shape) area += area_m2(polygon);
  return area;
}

double perimeter_m(const LocalPolygon& polygon) {
  double perimeter = length_m(polygon.outer);
  for (const LocalRing& hole : polygon.holes) perimeter += length_m(hole);
  return perimeter;
}

double groundArea_m2(const GlobeShape& shape) {
  const bool empty = std::all_of(shape.begin(), shape.end(),
                                 [](const GlobePolygon& part) { return part.outer.empty(); });
  return empty ? 0.0 : area_m2(planeFor(shape).toLocal(shape));
}

LocalPoint centroid(const LocalShape& shape) {
  const auto largest = std::max_element(
      shape.begin(), shape.end(),
      [](const LocalPolygon& a, const LocalPolygon& b) { return area_m2(a) < area_m2(b); });
  if (largest == shape.end() || largest->outer.empty()) return {};
  const LocalPoint about = largest->outer.front();
  Moments total;
  const auto add = [&](const LocalRing& ring, double sign) {
    const Moments moments = momentsAbout(ring, about);
    const double turned = moments.area < 0.0 ? -sign : sign;
    total.area += turned * moments.area;
    total.east += turned * moments.east;
    total.north += turned * moments.north;
  };
  add(largest->outer, 1.0);
  for (const LocalRing& hole : largest->holes) add(hole, -1.0);
  if (total.area > 0.0) {
    return {about.east_m + total.east / total.area, about.north_m + total.north / total.area};
  }
  LocalPoint mean;
  for (const LocalPoint& point : largest->outer) {
    mean.east_m += point.east_m / static_cast<double>(largest->outer.size());
    mean.north_m += point.north_m / static_cast<double>(largest->outer.size());
  }
  return mean;
}

bool contains(const LocalShape& shape, LocalPoint point) {
  return std::any_of(shape.begin(), shape.end(), [point](const LocalPolygon& polygon) {
    return inRing(polygon.outer, point) &&
           std::none_of(polygon.holes.begin(), polygon.holes.end(),
                        [point](const LocalRing& hole) { return inRing(hole, point); });
  });
}

LocalRing withoutRepeats(const LocalRing& ring) {
  LocalRing kept;
  kept.reserve(ring.size());
  for (const LocalPoint& point : ring) {
    if (kept.empty() || !(kept.back() == point)) kept.push_back(point);
  }
  while (kept.size() > 1 && kept.back() == kept.front()) kept.pop_back();
  return kept;
}

bool crossesItself(const LocalRing& given) {
  const LocalRing ring = withoutRepeats(given);
  const std::size_t size = ring.size();
  if (size < 3) return false;
  for (std::size_t i = 0; i < size; ++i) {
    const std::size_t next = after(i, size);
    if (foldsBack(ring[i], ring[next], ring[after(next, size)])) return true;
  }
  // Edges by their western end: only those that overlap from west to east can meet.
  struct Reach {
    double west;
    double east;
    std::size_t edge;
  };
  std::vector<Reach> reaches(size);
  for (std::size_t i = 0; i < size; ++i) {
    const auto [west, east] = std::minmax(ring[i].east_m, ring[after(i, size)].east_m);
    reaches[i] = {west, east, i};
  }
  std::sort(reaches.begin(), reaches.end(), [](const Reach& a, const Reach& b) {
    return a.west != b.west ? a.west < b.west : a.edge < b.edge;
  });
  std::vector<Reach> open;
  for (const Reach& reach : reaches) {
    std::erase_if(open, [&](const Reach& other) { return other.east < reach.west; });
    const std::size_t i = reach.edge;
    for (const Reach& other : open) {
      const std::size_t j = other.edge;
      if (after(i, size) == j || after(j, size) == i) continue;
      if (meet(ring[i], ring[after(i, size)], ring[j], ring[after(j, size)])) return true;
    }
    open.push_back(reach);
  }
  return false;
}

double areaUncertainty_m2(const LocalPolygon& polygon, double vertex_u_m) {
  assert(vertex_u_m >= 0.0);
  double total_m2 = diagonals_m2(polygon.outer);
  for (const LocalRing& hole : polygon.holes) total_m2 += diagonals_m2(hole);
  return 0.5 * vertex_u_m * std::sqrt(total_m2);
}

measure::Measured outlineArea_m2(const LocalPolygon& polygon, double edge_u_m,
                                 double correlation_m) {
  assert(edge_u_m >= 0.0 && correlation_m > 0.0);
  double variance = edgeVariance(polygon.outer, correlation_m);
  for (const LocalRing& hole : polygon.holes) variance += edgeVariance(hole, correlation_m);
  return {area_m2(polygon), edge_u_m * std::sqrt(variance)};
}

}  // namespace swardwalk::geo
