#pragma once

/// How much a rate of creep wanders with weather, feeding and height of cut: its logarithm
/// is a random walk that is held by a spring (Ornstein & Uhlenbeck), so that near days
/// differ little, and far ones no more than seasons do.
namespace swardwalk::infill {

/// Standard deviation of the logarithm of the rate after a month (common practice, no source).
inline constexpr double drift_per_month = 0.35;
inline constexpr double month_d = 30.0;

/// Days after which the rate has mostly forgotten (common practice, no source: a season).
inline constexpr double driftMemory_d = 75.0;

/// Variance of the logarithm of the rate by drift, over seasons: what the walk comes to
/// where the spring holds it, m/2 times its variance a day.
inline constexpr double held2 = drift_per_month * drift_per_month / (2.0 * month_d / driftMemory_d);

/// Covariance of how far the edge has strayed after `a_d` and after `b_d` days (0 or more)
/// from a day on which the rate is known, for a rate of 1 mm a day: mm². The double integral
/// of the covariance of what the logarithm has moved since that day,
/// held2 (exp(-|u - v|/m) - exp(-u/m) - exp(-v/m) + 1), m the memory.
double strayed_mm2(double a_d, double b_d);

/// How much of what drives the rate today is lost, on the mean of the next `days_d` days:
/// 0 for none, 1 for all.
double forgotten(double days_d);

/// Standard deviation of the logarithm of the mean rate over the next `days_d` days (0 or
/// more), where what drives it today is uncertain by `now_u`.
double driftAhead(double days_d, double now_u);

/// How far the logarithm of the mean rate over the next `days_d` days (0 or more) lies above
/// the mean of the logarithm of the rate: quick weeks win more than slow ones lose. Half the
/// difference between the mean variance of the rate and the variance of the mean rate (both
/// taken as lognormal, second order); held2 / 2 in the long run.
double driftLift(double days_d);

}  // namespace swardwalk::infill
