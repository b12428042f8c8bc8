#include "common/geo/same_place.h"

#include <cassert>
#include <cmath>
#include <numbers>

#include "common/geo/local_plane.h"

namespace swardwalk::geo {

Apart apart(const PlacedLook& a, const PlacedLook& b) {
  assert(a.u_m > 0.0 && b.u_m > 0.0);
  const LocalPoint there = LocalPlane(a.position).toLocal(b.position);
  const double distance_m = std::hypot(there.east_m, there.north_m);
  const double variance_m2 = a.u_m * a.u_m + b.u_m * b.u_m;
  const double squared = distance_m * distance_m / variance_m2;
  return {distance_m, squared, std::exp(-0.5 * squared) / (2.0 * std::numbers::pi * variance_m2)};
}

double tellsApart_m(double u_m, double other_u_m) {
  return std::sqrt(samePlaceGate) * std::hypot(u_m, other_u_m);
}

std::vector<double> shares(std::span<const double> odds, double newOdds) {
  double sum = newOdds;
  for (const double one : odds) sum += one;
  std::vector<double> shares;
  shares.reserve(odds.size());
  for (const double one : odds) shares.push_back(sum > 0.0 ? one / sum : 0.0);
  return shares;
}

}  // namespace swardwalk::geo
