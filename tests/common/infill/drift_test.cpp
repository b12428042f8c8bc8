#include "common/infill/drift.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <vector>

#include "simulated_green.h"

namespace swardwalk::infill {
namespace {

/// Logarithms of the mean rate over `days` days that begin at a rate of 1, of many walks that
/// a spring holds, a step a day: the exact steps of an autoregression (Gillespie 1996).
std::vector<double> walkedMeans(int days) {
  constexpr int walks = 20000;
  test::Chance chance(31);
  const double kept = std::exp(-1.0 / driftMemory_d);
  const double stepSpread = std::sqrt(held2 * (1.0 - kept * kept));
  std::vector<double> means;
  for (int i = 0; i < walks; ++i) {
    double log = 0.0;
    double sum = 0.0;
    for (int day = 0; day < days; ++day) {
      const double next = kept * log + stepSpread * chance.normal();
      sum += std::exp(0.5 * (log + next));
      log = next;
    }
    means.push_back(std::log(sum / days));
  }
  std::sort(means.begin(), means.end());
  return means;
}

// The middle and the 80 % of walks; by the scatter of 20,000 the middle is within 0.003, and
// taking the mean rate as lognormal is within about 0.01.
TEST(Drift, LiftAndSpreadAreThoseOfWalks) {
  for (const int days : {5, 30, 75, 150, 300, 900}) {
    SCOPED_TRACE(days);
    const std::vector<double> means = walkedMeans(days);
    const double middle = means[means.size() / 2];
    const double spread = (means[means.size() * 9 / 10] - means[means.size() / 10]) / 2.563;
    EXPECT_NEAR(driftLift(days), middle, 0.012);
    EXPECT_NEAR(driftAhead(days, 0.0), spread, 0.04 * spread + 0.002);
  }
}

TEST(Drift, OfAMonthIsAThirdOfTheWalksEnd) {
  // A random walk's mean over s days has a third of the variance of its end; the spring takes
  // off some per cent in a month.
  EXPECT_NEAR(driftAhead(month_d, 0.0), drift_per_month / std::sqrt(3), 0.03);
  EXPECT_NEAR(std::sqrt(strayed_mm2(month_d, month_d)) / month_d, drift_per_month / std::sqrt(3),
              0.02);
  EXPECT_EQ(driftAhead(0.0, 0.3), 0.0);
  // Far ahead only what the spring holds is left, and that averages out.
  EXPECT_LT(driftAhead(3650.0, 0.0), driftAhead(180.0, 0.0));
  EXPECT_NEAR(forgotten(1e6), 1.0, 1e-3);
  EXPECT_NEAR(forgotten(1e-9), 0.0, 1e-9);
}

TEST(Drift, StraysAsItsDoubleIntegralSays) {
  // Midpoint sums of the covariance over both days.
  const auto covariance = [](double u, double v) {
    const double m = driftMemory_d;
    return held2 * (std::exp(-std::abs(u - v) / m) - std::exp(-u / m) - std::exp(-v / m) + 1.0);
  };
  double sum = 0.0;
  constexpr double step = 0.25;
  for (int i = 0; i < 80; ++i) {
    for (int j = 0; j < 180; ++j) {
      sum += covariance((i + 0.5) * step, (j + 0.5) * step) * step * step;
    }
  }
  EXPECT_NEAR(strayed_mm2(20, 45), sum, 1e-3 * sum);
  EXPECT_NEAR(strayed_mm2(45, 20), sum, 1e-3 * sum);
}

TEST(Drift, LiftGrowsFromNothingToHalfTheVariance) {
  EXPECT_EQ(driftLift(0.0), 0.0);
  double before = 0.0;
  for (int k = 0; k < 62; ++k) {
    const double days = 0.01 * std::pow(1.3, k);
    EXPECT_GT(driftLift(days), before) << days;
    before = driftLift(days);
  }
  EXPECT_NEAR(before, 0.5 * held2, 0.003 * held2);
  // The series and the formula meet.
  EXPECT_NEAR(driftLift(0.00999 * driftMemory_d), driftLift(0.01001 * driftMemory_d), 2e-6);
}

}  // namespace
}  // namespace swardwalk::infill
