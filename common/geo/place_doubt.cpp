#include "common/geo/place_doubt.h"

#include <boost/math/special_functions/gamma.hpp>
#include <cassert>
#include <cmath>

namespace swardwalk::geo {

PlaceDoubt PlaceDoubt::round(double u_m) { return {u_m * u_m, 0.0, u_m * u_m}; }

double PlaceDoubt::u_m() const { return std::sqrt(0.5 * (eastEast_m2 + northNorth_m2)); }

double PlaceDoubt::worst_u_m() const {
  const double middle = 0.5 * (eastEast_m2 + northNorth_m2);
  return std::sqrt(middle + std::hypot(0.5 * (eastEast_m2 - northNorth_m2), eastNorth_m2));
}

PlaceDoubt operator+(const PlaceDoubt& a, const PlaceDoubt& b) {
  return {a.eastEast_m2 + b.eastEast_m2, a.eastNorth_m2 + b.eastNorth_m2,
          a.northNorth_m2 + b.northNorth_m2};
}

double squaredDistance(LocalPoint apart, const PlaceDoubt& doubt) {
  const double determinant =
      doubt.eastEast_m2 * doubt.northNorth_m2 - doubt.eastNorth_m2 * doubt.eastNorth_m2;
  assert(determinant > 0.0);
  return (doubt.northNorth_m2 * apart.east_m * apart.east_m -
          2.0 * doubt.eastNorth_m2 * apart.east_m * apart.north_m +
          doubt.eastEast_m2 * apart.north_m * apart.north_m) /
         determinant;
}

double chanceOfMore(double chiSquare, int degrees) {
  assert(chiSquare >= 0.0 && degrees > 0);
  return boost::math::gamma_q(0.5 * degrees, 0.5 * chiSquare);
}

}  // namespace swardwalk::geo
