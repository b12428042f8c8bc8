#pragma once

#include <QString>

#include "common/geo/position.h"

namespace swardwalk::mobile {

/// Where something lies from where one stands.
struct Bearing {
  double distance_m = 0.0;
  double from_north_deg = 0.0;  ///< clockwise, 0 to 360

  QString compass() const;  ///< "south-east"
};

Bearing bearing(geo::Position from, geo::Position to);

/// Could these two places be one, as far as both positions can tell? A chi-square gate
/// of two degrees of freedom at 95 %: 5.991 (any table of the distribution).
/// `u_m` and `other_u_m` are standard uncertainties on each axis.
bool mayBeSamePlace(double distance_m, double u_m, double other_u_m);
/// The distance up to which the gate above says yes.
double canTellApart_m(double u_m, double other_u_m);

}  // namespace swardwalk::mobile
