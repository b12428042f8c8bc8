#pragma once

#include <cstdint>
#include <random>
#include <vector>

#include "common/geo/position.h"

namespace swardwalk::geo {

/// A receiver whose error drifts, asked once a second. Shares no code with what is tested.
class SimulatedReceiver {
 public:
  /// `u_m` on each axis; the error fades within `errorTime_s`.
  SimulatedReceiver(double u_m, double errorTime_s, std::uint64_t seed);

  /// Fixes of somebody who stands `lasts_s` at metres east and north of the place below.
  std::vector<Fix> stand(double east_m, double north_m, int lasts_s);
  void wait(int lasts_s);

  static Position globe(double east_m, double north_m);
  /// Metres east and north of that place.
  static LocalPoint local(Position position);

 private:
  void drift();

  double u_m_;
  double kept_;
  std::mt19937_64 random_;
  std::normal_distribution<double> normal_;
  double errorEast_m_;
  double errorNorth_m_;
  long long now_s_ = 1'807'509'600;
};

enum class Draw { uniform, eachDoublingAlike };
/// A time constant from 30 to 900 s.
double drawErrorTime_s(Draw draw, std::mt19937_64& random);

}  // namespace swardwalk::geo
