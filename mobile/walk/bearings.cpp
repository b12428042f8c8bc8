#include "mobile/walk/bearings.h"

#include <array>
#include <cmath>
#include <numbers>

#include "common/geo/local_plane.h"

namespace swardwalk::mobile {

namespace {
constexpr double gate = 5.991;
}

QString Bearing::compass() const {
  static const std::array<QString, 8> words{QStringLiteral("north"), QStringLiteral("north-east"),
                                            QStringLiteral("east"),  QStringLiteral("south-east"),
                                            QStringLiteral("south"), QStringLiteral("south-west"),
                                            QStringLiteral("west"),  QStringLiteral("north-west")};
  return words[static_cast<std::size_t>(std::lround(from_north_deg / 45.0)) % 8];
}

Bearing bearing(geo::Position from, geo::Position to) {
  const geo::LocalPoint there = geo::LocalPlane(from).toLocal(to);
  Bearing found;
  found.distance_m = std::hypot(there.east_m, there.north_m);
  found.from_north_deg = std::atan2(there.east_m, there.north_m) * 180.0 / std::numbers::pi;
  if (found.from_north_deg < 0) found.from_north_deg += 360.0;
  return found;
}

bool mayBeSamePlace(double distance_m, double u_m, double other_u_m) {
  return distance_m <= canTellApart_m(u_m, other_u_m);
}

double canTellApart_m(double u_m, double other_u_m) {
  return std::sqrt(gate * (u_m * u_m + other_u_m * other_u_m));
}

}  // namespace swardwalk::mobile
