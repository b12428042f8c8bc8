#pragma once

#include "common/geo/position.h"

namespace swardwalk::geo {

/// How well a place on a plane is known: the covariance of its two coordinates, m2.
struct PlaceDoubt {
  double eastEast_m2 = 0.0;
  double eastNorth_m2 = 0.0;
  double northNorth_m2 = 0.0;

  /// The same in every direction: `u_m` on each axis.
  static PlaceDoubt round(double u_m);

  /// One figure for both axes: the root of the mean of their variances.
  double u_m() const;
  /// Standard uncertainty along the worst direction.
  double worst_u_m() const;

  friend PlaceDoubt operator+(const PlaceDoubt& a, const PlaceDoubt& b);
};

/// Squared distance in units of the doubt, d' S^-1 d. Of two looks at one place it is
/// chi-square distributed with 2 degrees of freedom where `doubt` is the sum of both.
/// The doubt must not be 0 in any direction.
double squaredDistance(LocalPoint apart, const PlaceDoubt& doubt);

/// Probability that a chi-square variable is larger than `chiSquare` (0 or more);
/// `degrees` 1 or more.
double chanceOfMore(double chiSquare, int degrees);

/// The 95 % point of chi-square with 2 degrees of freedom, -2 ln 0.05: the ellipse of
/// that many squared uncertainties holds the place 19 times of 20.
inline constexpr double chiSquare95OfPlace = 5.991464547107979;

}  // namespace swardwalk::geo
