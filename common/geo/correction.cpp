#include "common/geo/correction.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "common/geo/place_doubt.h"
#include "common/geo/standing.h"

namespace swardwalk::geo {

Result<ReceiverCorrection> ReceiverCorrection::onMark(Position mark, double mark_u_m,
                                                      std::span<const Fix> fixes) {
  const auto standing = standingFixes(fixes);
  const double lasted_s =
      standing ? std::chrono::duration<double>(standing->to - standing->from).count() : 0.0;
  if (!standing || lasted_s < leastStanding_s) {
    return fail(FailureKind::invalid, "correction",
                fmt::format("{:.0f} s on the mark are too short", lasted_s),
                fmt::format("stand still on it for {:.0f} s", wantedStanding_s));
  }
  ReceiverCorrection made;
  const LocalPoint truth = standing->plane.toLocal(mark);
  made.found_ = {standing->mean.east_m - truth.east_m, standing->mean.north_m - truth.north_m};
  made.until_ = standing->to;
  made.quality_ = fixes.back().quality;
  made.mark_u_m_ = mark_u_m;
  made.times_ = standing->times;
  for (std::size_t k = 0; k < errorTimeCount; ++k) {
    made.variances_m2_[k] = standing->variance_m2(made.times_[k].seconds);
    for (std::size_t i = 0; i < standing->weights.size(); ++i) {
      const double age_s = lasted_s - standing->errors[i].time_s;
      made.together_m_[k] += standing->weights[i] * standing->errors[i].u_m *
                             std::exp(-age_s / made.times_[k].seconds);
    }
  }
  const double worst_m2 = *std::max_element(made.variances_m2_.begin(), made.variances_m2_.end());
  const PlaceDoubt doubt = PlaceDoubt::round(std::hypot(std::sqrt(worst_m2), mark_u_m));
  if (chanceOfMore(squaredDistance(made.found_, doubt), 2) < 0.001) {
    return fail(FailureKind::invalid, "correction",
                fmt::format("the receiver says {:.1f} m from the mark, more than it can err",
                            std::hypot(made.found_.east_m, made.found_.north_m)),
                "see that this is the mark, and stand on it");
  }
  return made;
}

std::optional<CorrectedFix> ReceiverCorrection::apply(const Fix& fix) const {
  if (fix.time < until_ || fix.quality != quality_) return std::nullopt;
  const double u_m = fix.accuracy_m.value_or(assumedAccuracy_m);
  const double age_s = std::chrono::duration<double>(fix.time - until_).count();
  PerErrorTime together_m2{};
  for (std::size_t k = 0; k < errorTimeCount; ++k)
    together_m2[k] = u_m * together_m_[k] * std::exp(-age_s / times_[k].seconds);
  const double mark_m2 = mark_u_m_ * mark_u_m_;
  const double share = std::clamp(
      meanOver(times_, together_m2) / (meanOver(times_, variances_m2_) + mark_m2), 0.0, 1.0);
  PerErrorTime left_m2{};
  for (std::size_t k = 0; k < errorTimeCount; ++k) {
    const double left =
        u_m * u_m - 2.0 * share * together_m2[k] + share * share * (variances_m2_[k] + mark_m2);
    left_m2[k] = std::max(left, 0.0);
  }
  const LocalPlane plane(fix.position);
  return CorrectedFix{plane.toGlobe(LocalPoint{-share * found_.east_m, -share * found_.north_m}),
                      statedDoubt_m(times_, left_m2), share};
}

}  // namespace swardwalk::geo
