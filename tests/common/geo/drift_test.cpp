#include "common/geo/drift.h"

#include <gtest/gtest.h>

#include <cmath>
#include <random>
#include <vector>

#include "common/geo/outline.h"

namespace swardwalk::geo {
namespace {

const LocalRing hexagon = {{1.2, 0.4}, {4.6, 0.9}, {6.1, 3.3}, {3.9, 5.8}, {1.7, 4.9}, {0.3, 2.6}};

std::vector<LocalPoint> gradientOf(const LocalRing& ring) {
  std::vector<LocalPoint> gradient;
  for (std::size_t i = 0; i < ring.size(); ++i) {
    const LocalPoint& next = ring[(i + 1) % ring.size()];
    const LocalPoint& before = ring[(i + ring.size() - 1) % ring.size()];
    gradient.push_back(
        {0.5 * (next.north_m - before.north_m), 0.5 * (before.east_m - next.east_m)});
  }
  return gradient;
}

std::vector<TimedError> secondsApart(std::size_t count, double u_m) {
  std::vector<TimedError> errors;
  for (std::size_t i = 0; i < count; ++i) errors.push_back({static_cast<double>(i), u_m});
  return errors;
}

/// exp(-1 s / time) is the wanted correlation of neighbours.
double timeFor(double correlation) { return -1.0 / std::log(correlation); }

TEST(DriftVariance, OfTheHexagonWithCorrelatedNeighboursIsAsComputed) {
  // Sigma 0.25, correlation rho^|i-j| on each axis; computed elsewhere from g' S g (JCGM
  // 100:2008 5.2.2) with the whole matrix.
  const std::vector<TimedError> errors = secondsApart(6, 0.25);
  const std::vector<std::pair<double, double>> expected = {
      {0.5, 1.6059277400}, {0.9, 0.9339961356}, {0.99, 0.3112361161}};
  for (const auto& [correlation, u] : expected) {
    const double variance = driftVariance(gradientOf(hexagon), errors, timeFor(correlation));
    EXPECT_NEAR(std::sqrt(variance), u, 1e-9) << correlation;
  }
}

TEST(DriftVariance, IndependentErrorsGiveTheKnownFormula) {
  const double variance = driftVariance(gradientOf(hexagon), secondsApart(6, 0.25), 1e-3);
  EXPECT_NEAR(std::sqrt(variance), areaUncertainty_m2({hexagon, {}}, 0.25), 1e-12);
}

TEST(DriftVariance, ACommonShiftOfAllCostsNoArea) {
  const double variance = driftVariance(gradientOf(hexagon), secondsApart(6, 0.25), 1e12);
  EXPECT_NEAR(variance, 0.0, 1e-9);
}

TEST(DriftVariance, IsTheFullDoubleSum) {
  std::mt19937_64 random(3);
  std::uniform_real_distribution<double> any(-1.0, 1.0);
  std::vector<LocalPoint> gradient;
  std::vector<TimedError> errors;
  double time_s = 0.0;
  for (int i = 0; i < 200; ++i) {
    gradient.push_back({any(random), any(random)});
    time_s += 1.0 + any(random);
    errors.push_back({time_s, 2.0 + any(random)});
  }
  double slowly = 0.0;
  for (std::size_t i = 0; i < errors.size(); ++i) {
    for (std::size_t j = 0; j < errors.size(); ++j) {
      slowly +=
          errors[i].u_m * errors[j].u_m *
          std::exp(-std::abs(errors[i].time_s - errors[j].time_s) / 40.0) *
          (gradient[i].east_m * gradient[j].east_m + gradient[i].north_m * gradient[j].north_m);
    }
  }
  EXPECT_NEAR(driftVariance(gradient, errors, 40.0), slowly, 1e-9 * slowly);
}

TEST(SecondOrderAreaVariance, OfTheHexagonIsHalfNSigmaToTheFourth) {
  // Computed elsewhere: s = 1.5034855337 with n sigma^4 / 2; Monte Carlo of 400,000 draws there
  // 1.50374.
  const std::vector<TimedError> errors = secondsApart(6, 0.25);
  const double first = driftVariance(gradientOf(hexagon), errors, 1e-3);
  const double second = secondOrderAreaVariance(errors, 1e-3);
  EXPECT_NEAR(std::sqrt(first + second), 1.5034855337, 1e-9);
}

TEST(SecondOrderAreaVariance, MonteCarloOfDriftRoundAPointAgrees) {
  // All fixes at one place: the first order vanishes, the second is all there is.
  constexpr double time = 30.0;
  constexpr int fixes = 40;
  const std::vector<TimedError> errors = secondsApart(fixes, 1.5);
  std::mt19937_64 random(5);
  std::normal_distribution<double> normal;
  const double fade = std::exp(-1.0 / time);
  double squares = 0.0;
  constexpr int runs = 40'000;
  for (int run = 0; run < runs; ++run) {
    LocalRing ring;
    LocalPoint error{1.5 * normal(random), 1.5 * normal(random)};
    for (int i = 0; i < fixes; ++i) {
      ring.push_back(error);
      const double fresh = 1.5 * std::sqrt(1.0 - fade * fade);
      error = {fade * error.east_m + fresh * normal(random),
               fade * error.north_m + fresh * normal(random)};
    }
    const double area = signedArea_m2(ring);
    squares += area * area;
  }
  const double variance = secondOrderAreaVariance(errors, time);
  // The area of a random loop has heavy tails: 40,000 runs give its variance to 1.5 %.
  EXPECT_NEAR(squares / runs, variance, 0.05 * variance);
}

TEST(DriftVariance, MonteCarloOfIndependentAndDriftingFixesAgreesWithFirstAndSecondOrder) {
  // Shares no step with the closed form but the shoelace: errors are drawn and added.
  for (const double correlation : {0.0, 0.5, 0.9, 0.99}) {
    constexpr double u_m = 0.25;
    std::mt19937_64 random(11);
    std::normal_distribution<double> normal(0.0, u_m);
    constexpr int runs = 200'000;
    double sum = 0.0;
    double squares = 0.0;
    const double fresh = std::sqrt(1.0 - correlation * correlation);
    const double truth_m2 = signedArea_m2(hexagon);
    for (int run = 0; run < runs; ++run) {
      LocalRing ring = hexagon;
      LocalPoint error{normal(random), normal(random)};
      for (LocalPoint& point : ring) {
        point.east_m += error.east_m;
        point.north_m += error.north_m;
        error = {correlation * error.east_m + fresh * normal(random),
                 correlation * error.north_m + fresh * normal(random)};
      }
      const double off_m2 = signedArea_m2(ring) - truth_m2;
      sum += off_m2;
      squares += off_m2 * off_m2;
    }
    const double time_s = correlation > 0.0 ? timeFor(correlation) : 1e-3;
    const std::vector<TimedError> errors = secondsApart(hexagon.size(), u_m);
    const double variance = driftVariance(gradientOf(hexagon), errors, time_s) +
                            secondOrderAreaVariance(errors, time_s);
    const double found = squares / runs;
    // Three standard deviations: sqrt(2 / runs) of a variance, one in sqrt(runs) of a mean.
    EXPECT_NEAR(found, variance, 3.0 * std::sqrt(2.0 / runs) * variance) << correlation;
    EXPECT_NEAR(sum / runs, 0.0, 3.0 * std::sqrt(variance / runs)) << correlation;
  }
}

}  // namespace
}  // namespace swardwalk::geo
