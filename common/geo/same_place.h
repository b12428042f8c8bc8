#pragma once

#include <span>
#include <vector>

#include "common/geo/position.h"

namespace swardwalk::geo {

/// A look at something on the ground, as far as it tells where that is.
struct PlacedLook {
  Position position;
  double u_m = 0.0;  ///< each axis, above 0
};

/// Beyond this chi-square (2 degrees of freedom, 1 in 100) two looks are at two places.
inline constexpr double samePlaceGate = 9.210340371976184;

/// What two looks have to do with each other.
struct Apart {
  double distance_m = 0.0;
  double squared = 0.0;  ///< in units of both doubts: chi-square where it is one place
  /// Density of such a difference where it is one place, per m2.
  double density_m2 = 0.0;

  bool mayBeSame() const { return squared < samePlaceGate; }
};
Apart apart(const PlacedLook& a, const PlacedLook& b);

/// How far apart two places must lie to be told apart 99 times of 100 by looks so good.
double tellsApart_m(double u_m, double other_u_m);

/// How likely each of several is the one that was seen, where `odds` are their densities
/// times whatever else speaks for each, and `newOdds` is the density of things not yet
/// known, per m2; what is left to 1 is the chance that it is new (Bayes).
std::vector<double> shares(std::span<const double> odds, double newOdds);

}  // namespace swardwalk::geo
