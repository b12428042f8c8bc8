#pragma once

#include <span>

#include "common/geo/position.h"

namespace swardwalk::geo {

/// One used fix as its error matters: when it was taken, and the standard uncertainty
/// of each axis.
struct TimedError {
  double time_s = 0.0;
  double u_m = 0.0;
};

/// Variance of sum_i (g_i.east * e_i + g_i.north * n_i), where e and n are independent
/// first-order Gauss-Markov processes, S_ij = u_i u_j exp(-|t_i - t_j| / errorTime_s)
/// (JCGM 100:2008 5.2.2). One pass: going on in time, what the earlier ones contribute
/// to the next only fades. `errors` in order of time, as many as `gradient`.
double driftVariance(std::span<const LocalPoint> gradient, std::span<const TimedError> errors,
                     double errorTime_s);

/// What the first-order variance of the shoelace area leaves out: half the sum over the
/// edges of u_i^2 u_k^2 (1 - r_ik^2), and the covariance of the closing edge with the
/// others; all other pairs of edges cancel for this process. For independent errors it
/// is n u^4 / 2. One pass.
double secondOrderAreaVariance(std::span<const TimedError> errors, double errorTime_s);

}  // namespace swardwalk::geo
