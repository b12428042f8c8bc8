#pragma once

#include <string>
#include <vector>

#include "common/geo/position.h"

namespace swardwalk::geo {

/// A small polygon whose area on the WGS84 ellipsoid is known. The truths were computed in
/// 50-digit arithmetic: geodesic equations integrated by Runge-Kutta, each edge found by
/// Newton shooting, the area by integrating the exact area density; unchanged to 22
/// digits when the step count was raised. No code or series of GeographicLib is in them.
struct SmallPolygon {
  std::string name;
  GlobeRing ring;
  double truth_m2;
  double truthPerimeter_m;
};

inline const std::vector<SmallPolygon>& smallPolygons() {
  static const std::vector<SmallPolygon> polygons = {{"A, southern hemisphere",
                                                      {{-33.868914509, 151.209873193},
                                                       {-33.868914689, 151.209879677},
                                                       {-33.868910362, 151.209880110},
                                                       {-33.868910091, 151.209873625}},
                                                      0.291993699792219231,
                                                      2.17435250913755678},
                                                     {"B, across the Greenwich meridian",
                                                      {{51.501228275, -0.000009751},
                                                       {51.501226028, 0.000008970},
                                                       {51.501235466, 0.000018331},
                                                       {51.501242477, 0.000008250},
                                                       {51.501241308, -0.000008311}},
                                                      2.63154791531720885,
                                                      6.21758838946047},
                                                     {"C, 60 degrees north",
                                                      {{60.170104608, 24.938711391},
                                                       {60.170100120, 24.938758227},
                                                       {60.170103710, 24.938805062},
                                                       {60.170126149, 24.938821275},
                                                       {60.170145895, 24.938790651},
                                                       {60.170143202, 24.938734809},
                                                       {60.170127046, 24.938707788}},
                                                      24.9900473021671966,
                                                      18.6811404636770658},
                                                     {"D, across the antimeridian",
                                                      {{-17.801271611, 179.999940287},
                                                       {-17.801285164, 179.999988390},
                                                       {-17.801274322, -179.999954075},
                                                       {-17.801226435, -179.999938984},
                                                       {-17.801187584, -179.999978598},
                                                       {-17.801193005, 179.999961981},
                                                       {-17.801232760, 179.999933685}},
                                                      110.280041256448005,
                                                      39.0905413353963530}};
  return polygons;
}

}  // namespace swardwalk::geo
