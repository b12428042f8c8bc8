#pragma once

#include <cstdint>
#include <functional>
#include <vector>

#include "common/geo/position.h"

namespace swardwalk::geo {

/// A person who walks once round a patch with a receiver. Shares no code with what is
/// tested, so that both cannot be wrong in the same way.
struct SimulatedWalk {
  /// The patch's edge by share of the way round, 0..1, metres east and north.
  std::function<LocalPoint(double)> edge;
  double length_m = 0.0;
  double speed_m_s = 1.0;
  double every_s = 1.0;
  double receiver_u_m = 1.0;    ///< each axis
  double errorTime_s = 120.0;   ///< Gauss-Markov
  double walker_u_m = 0.1;      ///< off the edge, on each axis
  double walkerLength_m = 0.5;  ///< over which it keeps its side
};

/// The walk's fixes near 51.5 N, 0.12 W, from 2027-04-12T06:00:00Z on.
std::vector<Fix> simulate(const SimulatedWalk& walk, std::uint64_t seed);

/// A circle, and a rectangle, counter-clockwise.
SimulatedWalk circle(double radius_m);
SimulatedWalk rectangle(double length_m, double width_m);

}  // namespace swardwalk::geo
