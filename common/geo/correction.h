#pragma once

#include <optional>
#include <span>

#include "common/failure.h"
#include "common/geo/error_times.h"
#include "common/geo/position.h"

namespace swardwalk::geo {

/// A fix with what was known of the receiver's error taken off.
struct CorrectedFix {
  Position position;
  double u_m = 0.0;    ///< each axis
  double share = 0.0;  ///< of the error found that was taken off, 0..1
};

/// What a receiver's error was while it stood on a mark. The error drifts, so the
/// correction ages. With the error e a Gauss-Markov process of the stated uncertainties, E
/// its weighted mean while standing, m the mark's own error, and k the share that is taken
/// off, what is left of a later error e' has on each axis the variance
///   u'^2 - 2 k cov(e', E) + k^2 (var(E) + var(m)),
/// which for k = 1, one fix and an exact mark is 2 u^2 (1 - exp(-dt / tau)). An old error
/// taken off whole would do harm (from 0.69 tau on), so k is the share that leaves least:
/// cov(e', E) / (var(E) + var(m)) over all time constants that may be
/// (`likelyErrorTimes` of the fixes on the mark); so a corrected fix is never worse than the bare
/// one. The uncertainty is that of `statedDoubt_m` over them. Immutable.
class ReceiverCorrection {
 public:
  /// From the fixes of somebody who stands on a mark. Fails with `invalid` in words where
  /// no fix is usable, where one stood under `leastStanding_s`, or where the error is
  /// larger than the fixes' own accuracy allows (1 in 1,000): another mark.
  static Result<ReceiverCorrection> onMark(Position mark, double mark_u_m,
                                           std::span<const Fix> fixes);

  static constexpr double leastStanding_s = 15.0;
  static constexpr double wantedStanding_s = 30.0;

  /// The fix corrected; nothing where it is older than the correction, or of another sort
  /// (a receiver that finds its position in another way errs in another way).
  std::optional<CorrectedFix> apply(const Fix& fix) const;

  /// What was found: how far east and north of the truth the receiver said it was.
  LocalPoint found() const { return found_; }
  measure::Instant until() const { return until_; }  ///< the last fix on the mark

 private:
  ReceiverCorrection() = default;

  LocalPoint found_;
  measure::Instant until_;
  FixQuality quality_ = FixQuality::unknown;
  double mark_u_m_ = 0.0;
  /// For each time constant: variance of the mean, and the covariance of an error of 1 m
  /// at `until_` with it.
  ErrorTimes times_{};
  PerErrorTime variances_m2_{};
  PerErrorTime together_m_{};
};

}  // namespace swardwalk::geo
