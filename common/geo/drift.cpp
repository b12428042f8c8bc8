#include "common/geo/drift.h"

#include <cassert>
#include <cmath>

namespace swardwalk::geo {
namespace {

/// exp(-elapsed / errorTime); receivers tick evenly, so that most steps repeat the last.
class Fade {
 public:
  explicit Fade(double errorTime_s) : errorTime_s_(errorTime_s) {}

  double over(double elapsed_s) {
    // The same but for the rounding of times.
    if (std::abs(elapsed_s - elapsed_s_) > 1e-9) {
      elapsed_s_ = elapsed_s;
      fade_ = std::exp(-elapsed_s / errorTime_s_);
    }
    return fade_;
  }

 private:
  double errorTime_s_;
  double elapsed_s_ = 0.0;
  double fade_ = 1.0;
};

}  // namespace

double driftVariance(std::span<const LocalPoint> gradient, std::span<const TimedError> errors,
                     double errorTime_s) {
  assert(gradient.size() == errors.size() && errorTime_s > 0.0);
  double variance = 0.0;
  Fade fades(errorTime_s);
  LocalPoint earlier;  // sum over j < i of u_j g_j exp(-(t_i - t_j) / errorTime)
  for (std::size_t i = 0; i < errors.size(); ++i) {
    if (i > 0) {
      const double fade = fades.over(errors[i].time_s - errors[i - 1].time_s);
      const double u_m = errors[i - 1].u_m;
      earlier.east_m = fade * (earlier.east_m + u_m * gradient[i - 1].east_m);
      earlier.north_m = fade * (earlier.north_m + u_m * gradient[i - 1].north_m);
    }
    const double east = errors[i].u_m * gradient[i].east_m;
    const double north = errors[i].u_m * gradient[i].north_m;
    variance += east * (east + 2.0 * earlier.east_m) + north * (north + 2.0 * earlier.north_m);
  }
  return variance;
}

double secondOrderAreaVariance(std::span<const TimedError> errors, double errorTime_s) {
  assert(errorTime_s > 0.0);
  const std::size_t size = errors.size();
  if (size < 3) return 0.0;
  // The area's second-order part is the sum over edges of (e_i n_k - e_k n_i) / 2, k
  // being the next; two edges i-k and j-l have the covariance
  // (S_ij S_kl - S_il S_kj) / 2, which is 0 for two apart in a row.
  const TimedError& first = errors.front();
  const TimedError& last = errors.back();
  const double whole = std::exp((first.time_s - last.time_s) / errorTime_s);
  const double ends = first.u_m * last.u_m;
  double variance = 0.5 * ends * ends * (1.0 - whole * whole);
  Fade fades(errorTime_s);
  Fade rests(errorTime_s);
  for (std::size_t i = 0; i + 1 < size; ++i) {
    const double step_s = errors[i + 1].time_s - errors[i].time_s;
    const double fade = fades.over(step_s);
    const double pair = errors[i].u_m * errors[i + 1].u_m;
    variance += 0.5 * pair * pair * (1.0 - fade * fade);
    // With the closing edge, twice for the symmetric covariance: the exponents of the two
    // products are the whole walk plus and minus this step.
    const double less = rests.over(last.time_s - first.time_s - step_s);
    variance += ends * pair * (whole * fade - less);
  }
  return variance;
}

}  // namespace swardwalk::geo
