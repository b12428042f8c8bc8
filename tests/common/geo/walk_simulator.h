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
  double overrun_m = 0.0;  ///< walked beyond the start; negative: stopped before it
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

/// Patches of a given area: round, eight times as long as wide, and like an L whose arms
/// are as wide as they reach out.
enum class PatchForm { circle, scar, l };

/// How the time constants of receivers are spread between 30 and 900 s: every one as
/// likely as another, or every ratio as likely as another.
enum class TimeDraw { evenly, byRatio };

/// A walk as crews do it, all drawn from the seed: at 0.6 to 1.2 m/s, a fix a second, begun
/// anywhere, ended from half a metre before the start to a metre beyond it, by a receiver
/// whose error fades within a time of its own.
SimulatedWalk drawnWalk(PatchForm form, double area_m2, double receiver_u_m, TimeDraw draw,
                        std::uint64_t seed);

/// Uniform in the logarithm.
double drawnByRatio(double low, double high, std::uint64_t seed);

}  // namespace swardwalk::geo
