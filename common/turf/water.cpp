#include "common/turf/water.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace swardwalk::turf {

double radiation_MJ_m2(double latitude_deg, int dayOfYear) {
  using std::numbers::pi;
  const double turn = 2.0 * pi * dayOfYear / 365.0;
  const double distance = 1.0 + 0.033 * std::cos(turn);
  const double declination = 0.409 * std::sin(turn - 1.39);
  const double latitude = latitude_deg * pi / 180.0;
  // Beyond the polar circles the sun may not set or not rise.
  const double sunset =
      std::acos(std::clamp(-std::tan(latitude) * std::tan(declination), -1.0, 1.0));
  constexpr double solar_MJ_m2_min = 0.0820;
  const double radiation = 24.0 * 60.0 / pi * solar_MJ_m2_min * distance *
                           (sunset * std::sin(latitude) * std::sin(declination) +
                            std::cos(latitude) * std::cos(declination) * std::sin(sunset));
  return std::max(0.0, radiation);
}

double referenceEvaporation_mm(double latitude_deg, int dayOfYear, double min_c, double max_c) {
  const double mean_c = 0.5 * (min_c + max_c);
  constexpr double millimetresAMegajoule = 0.408;
  return 0.0023 * std::max(0.0, mean_c + 17.8) * std::sqrt(std::max(0.0, max_c - min_c)) *
         millimetresAMegajoule * radiation_MJ_m2(latitude_deg, dayOfYear);
}

double washedDown(double drained_mm, double roots_mm, double holds_share) {
  if (!(drained_mm > 0.0)) return 0.0;
  constexpr double millimetresACentimetre = 10.0;
  const double drained_cm = drained_mm / millimetresACentimetre;
  return std::pow(drained_cm / (drained_cm + holds_share), roots_mm / millimetresACentimetre);
}

}  // namespace swardwalk::turf
