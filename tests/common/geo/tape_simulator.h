#pragma once

#include <cstdint>
#include <vector>

#include "common/geo/position.h"

namespace swardwalk::geo {

/// A crew with a tape on a green with marks round it. Shares no code with what is tested.
struct SimulatedTapes {
  struct Reading {
    LocalPoint mark;  ///< where it is thought to be
    double mark_u_m = 0.0;
    double distance_m = 0.0;
  };
  LocalPoint truth;
  std::vector<Reading> readings;
  LocalPoint rough;  ///< where a receiver thinks that the place is
  double rough_u_m = 0.0;
};

/// Marks stand anywhere within 18 m of the green's middle, at least 6 m from each other,
/// and the place within 12 m. A tape errs by 20 mm at its ends and 0.2 % of its length.
SimulatedTapes simulateTapes(int marks, double mark_u_m, double rough_u_m, std::uint64_t seed);

}  // namespace swardwalk::geo
