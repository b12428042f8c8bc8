#include "common/infill/edge_forecast.h"

#include <algorithm>
#include <cmath>

#include "common/infill/spread.h"

namespace swardwalk::infill {
namespace {

constexpr double longestDrift_d = 365.0;
constexpr double furthest_d = 3650.0;

// std::hypot guards against numbers that no green has, at ten times the time.
double inSquares(double a, double b) { return std::sqrt(a * a + b * b); }

// One quantile of the edge's place; what does not depend on the day is computed once.
class Track {
 public:
  Track(const EdgeForecast& edge, double share)
      : edge_(edge),
        slow_(share < 0.5),
        z_(std::abs(normalQuantile(share))),
        middle_mm_d_(likelyQuantile(edge.likely_mm_d, 0.5)),
        logOff_(std::log(middle_mm_d_ / likelyQuantile(edge.likely_mm_d, share))) {}

  double inset_mm(double day) const {
    const double time_d = day - edge_.day;
    const double ahead_d = std::max(0.0, day - edge_.lastDay);
    double drift = 0.0;
    if (ahead_d > 0.0) {
      drift = z_ * drift_per_month * std::sqrt(std::min(ahead_d, longestDrift_d) / month_d / 3.0) *
              (ahead_d / time_d);
    }
    const double log = inSquares(logOff_, drift);
    const double creep_mm_d = middle_mm_d_ * std::exp(slow_ ? -log : log);
    const double off_mm = inSquares(z_ * edge_.inset_u_mm, time_d * (creep_mm_d - middle_mm_d_));
    const double on_mm = edge_.inset_mm + time_d * middle_mm_d_;
    return slow_ ? on_mm - off_mm : on_mm + off_mm;
  }

 private:
  const EdgeForecast& edge_;
  bool slow_;
  double z_;
  double middle_mm_d_;
  double logOff_;
};

}  // namespace

double EdgeForecast::inset_mmOn(double on, double share) const {
  return Track(*this, share).inset_mm(on);
}

std::optional<double> EdgeForecast::closesDay(double share) const {
  const Track track(*this, 1.0 - share);
  if (track.inset_mm(lastDay) >= closingInset_mm) return lastDay;
  double open = lastDay;
  double step_d = 1.0;
  while (track.inset_mm(lastDay + step_d) < closingInset_mm) {
    open = lastDay + step_d;
    if (step_d >= furthest_d) return std::nullopt;
    step_d = std::min(2.0 * step_d, furthest_d);
  }
  double closed = lastDay + step_d;
  // To a hundredth of a day: nobody reads a date finer.
  while (closed - open > 0.01) {
    const double middle = 0.5 * (open + closed);
    (track.inset_mm(middle) < closingInset_mm ? open : closed) = middle;
  }
  return closed;
}

std::optional<EdgeForecast> edgeForecast(const CreepFit& fit, const GapShape& shape) {
  if (fit.likely_mm_d.empty()) return std::nullopt;
  return EdgeForecast{.day = fit.day,
                      .lastDay = fit.lastDay,
                      .inset_mm = fit.inset_mm,
                      .inset_u_mm = fit.inset_u_mm,
                      .closingInset_mm = 1000.0 * shape.closingInset_m(),
                      .likely_mm_d = fit.likely_mm_d};
}

}  // namespace swardwalk::infill
