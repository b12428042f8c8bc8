#include "tape_simulator.h"

#include <cmath>
#include <random>

namespace swardwalk::geo {

SimulatedTapes simulateTapes(int marks, double mark_u_m, double rough_u_m, std::uint64_t seed) {
  std::mt19937_64 random(seed);
  std::normal_distribution<double> normal;
  std::uniform_real_distribution<double> unit;
  const auto within = [&](double radius_m) {
    const double angle = 6.283185307179586 * unit(random);
    const double far_m = radius_m * std::sqrt(unit(random));
    return LocalPoint{far_m * std::cos(angle), far_m * std::sin(angle)};
  };
  SimulatedTapes scene;
  scene.truth = within(12.0);
  std::vector<LocalPoint> stands;
  while (static_cast<int>(stands.size()) < marks) {
    const LocalPoint stand = within(18.0);
    bool apart = true;
    for (const LocalPoint& other : stands) {
      const double east = other.east_m - stand.east_m;
      const double north = other.north_m - stand.north_m;
      apart = apart && east * east + north * north > 36.0;
    }
    if (apart) stands.push_back(stand);
  }
  for (const LocalPoint& stand : stands) {
    const double east = stand.east_m - scene.truth.east_m;
    const double north = stand.north_m - scene.truth.north_m;
    const double length_m = std::sqrt(east * east + north * north);
    const double read_m = length_m + 0.02 * normal(random) + 0.002 * length_m * normal(random);
    scene.readings.push_back(
        {{stand.east_m + mark_u_m * normal(random), stand.north_m + mark_u_m * normal(random)},
         mark_u_m,
         read_m});
  }
  scene.rough = {scene.truth.east_m + rough_u_m * normal(random),
                 scene.truth.north_m + rough_u_m * normal(random)};
  scene.rough_u_m = rough_u_m;
  return scene;
}

}  // namespace swardwalk::geo
