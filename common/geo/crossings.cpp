#include "common/geo/crossings.h"

#include <algorithm>
#include <cmath>

namespace swardwalk::geo {
namespace {

std::size_t after(std::size_t i, std::size_t size) { return i + 1 == size ? 0 : i + 1; }

/// What an edge covers.
struct Reach {
  double west, east, south, north;
  std::size_t edge;
};

Reach reachOf(const LocalRing& ring, std::size_t edge) {
  const LocalPoint& a = ring[edge];
  const LocalPoint& b = ring[after(edge, ring.size())];
  const auto [west, east] = std::minmax(a.east_m, b.east_m);
  const auto [south, north] = std::minmax(a.north_m, b.north_m);
  return {west, east, south, north, edge};
}

enum class Meeting { apart, crossing, unsure };

/// How two edges meet that share no point of the ring; fills `crossing` where they cross.
Meeting meet(const LocalRing& ring, Crossing& crossing) {
  const LocalPoint& a = ring[crossing.first];
  const LocalPoint& b = ring[after(crossing.first, ring.size())];
  const LocalPoint& c = ring[crossing.second];
  const LocalPoint& d = ring[after(crossing.second, ring.size())];
  const int ofC = certainSide(a, b, c);
  const int ofD = certainSide(a, b, d);
  if (ofC * ofD > 0) return Meeting::apart;
  const int ofA = certainSide(c, d, a);
  const int ofB = certainSide(c, d, b);
  if (ofA * ofB > 0) return Meeting::apart;
  if (ofC == 0 || ofD == 0 || ofA == 0 || ofB == 0) return Meeting::unsure;
  const double east = b.east_m - a.east_m;
  const double north = b.north_m - a.north_m;
  const double otherEast = d.east_m - c.east_m;
  const double otherNorth = d.north_m - c.north_m;
  const double turn = east * otherNorth - north * otherEast;
  if (turn == 0.0) return Meeting::unsure;
  const double toEast = c.east_m - a.east_m;
  const double toNorth = c.north_m - a.north_m;
  crossing.alongFirst = std::clamp((toEast * otherNorth - toNorth * otherEast) / turn, 0.0, 1.0);
  crossing.alongSecond = std::clamp((toEast * north - toNorth * east) / turn, 0.0, 1.0);
  crossing.place = {a.east_m + crossing.alongFirst * east, a.north_m + crossing.alongFirst * north};
  crossing.secondFromRight = ofC < 0;
  return Meeting::crossing;
}

/// Each edge must have a length, and must not lie back on the one before.
bool runsOn(const LocalRing& ring) {
  for (std::size_t i = 0; i < ring.size(); ++i) {
    const LocalPoint& a = ring[i];
    const LocalPoint& b = ring[after(i, ring.size())];
    const LocalPoint& c = ring[after(after(i, ring.size()), ring.size())];
    if (a == b) return false;
    const double dot = (b.east_m - a.east_m) * (c.east_m - b.east_m) +
                       (b.north_m - a.north_m) * (c.north_m - b.north_m);
    if (dot < 0.0 && certainSide(a, b, c) == 0) return false;
  }
  return true;
}

}  // namespace

int certainSide(LocalPoint a, LocalPoint b, LocalPoint point) {
  constexpr double bound = 3.3306690738754716e-16;  // (3 + 16 e) e, e = 2^-53
  const double left = (b.east_m - a.east_m) * (point.north_m - a.north_m);
  const double right = (point.east_m - a.east_m) * (b.north_m - a.north_m);
  const double side = left - right;
  if (std::abs(side) <= bound * (std::abs(left) + std::abs(right))) return 0;
  return side > 0.0 ? 1 : -1;
}

std::optional<std::vector<Crossing>> certainCrossings(const LocalRing& ring) {
  const std::size_t size = ring.size();
  if (size < 3 || !runsOn(ring)) return std::nullopt;
  std::vector<Reach> reaches;
  reaches.reserve(size);
  for (std::size_t i = 0; i < size; ++i) reaches.push_back(reachOf(ring, i));
  std::sort(reaches.begin(), reaches.end(), [](const Reach& a, const Reach& b) {
    return a.west != b.west ? a.west < b.west : a.edge < b.edge;
  });
  std::vector<Crossing> crossings;
  std::vector<Reach> open;
  for (const Reach& reach : reaches) {
    std::erase_if(open, [&](const Reach& other) { return other.east < reach.west; });
    for (const Reach& other : open) {
      if (other.north < reach.south || reach.north < other.south) continue;
      if (after(reach.edge, size) == other.edge || after(other.edge, size) == reach.edge) continue;
      Crossing crossing{other.edge, reach.edge, 0.0, 0.0, {}, false};
      const Meeting meeting = meet(ring, crossing);
      if (meeting == Meeting::unsure) return std::nullopt;
      if (meeting == Meeting::apart) continue;
      if (crossings.size() == mostCrossings) return std::nullopt;
      crossings.push_back(crossing);
    }
    open.push_back(reach);
  }
  return crossings;
}

}  // namespace swardwalk::geo
