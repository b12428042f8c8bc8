#include "common/geo/compass.h"

#include <array>
#include <cmath>
#include <numbers>

namespace swardwalk::geo {

double distance_m(LocalPoint from, LocalPoint to) {
  // Nothing on a plane of some kilometres overflows, and hypot takes several times as long.
  const double east = to.east_m - from.east_m;
  const double north = to.north_m - from.north_m;
  return std::sqrt(east * east + north * north);
}

double bearing_deg(LocalPoint from, LocalPoint to) {
  const double bearing =
      std::atan2(to.east_m - from.east_m, to.north_m - from.north_m) * 180.0 / std::numbers::pi;
  // A hair west of north must not round up to 360.
  const double positive = bearing < 0.0 ? bearing + 360.0 : bearing;
  return positive < 360.0 ? positive : 0.0;
}

std::string_view compassWord(double bearing_deg) {
  constexpr std::array<std::string_view, 8> words = {"north", "north-east", "east", "south-east",
                                                     "south", "south-west", "west", "north-west"};
  const auto eighths = std::lround(std::remainder(bearing_deg, 360.0) / 45.0);
  return words[static_cast<std::size_t>((eighths + 8) % 8)];
}

}  // namespace swardwalk::geo
