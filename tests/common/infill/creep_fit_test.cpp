#include "common/infill/creep_fit.h"

#include <gtest/gtest.h>

#include <cmath>
#include <vector>

#include "common/infill/edge_forecast.h"
#include "common/infill/spread.h"

namespace swardwalk::infill {
namespace {

const CreepPrior warm = {{1.0, 0.5, 1.8}};

GapShape disc(double radius_m) { return *GapShape::of(nullptr, M_PI * radius_m * radius_m); }

/// A disc closing at a steady pace, each radius uncertain by `edge_u_m`.
std::vector<SizeSeen> closing(double radius_m, double creep_mm_d, std::vector<double> days,
                              double edge_u_m) {
  std::vector<SizeSeen> sizes;
  for (const double day : days) {
    const double left_m = radius_m - creep_mm_d * day / 1000.0;
    sizes.push_back({day, {M_PI * left_m * left_m, 2.0 * M_PI * left_m * edge_u_m}});
  }
  return sizes;
}

TEST(CreepFit, WithOneSizeThePriorIsTheAnswer) {
  const CreepFit fit = fitCreep(disc(0.3), closing(0.3, 0, {0}, 0.01), warm);
  EXPECT_FALSE(fit.free_mm_d);
  EXPECT_NEAR(likelyQuantile(fit.likely_mm_d, 0.1), 0.5, 0.01);
  EXPECT_NEAR(likelyQuantile(fit.likely_mm_d, 0.5), 1.0, 0.01);
  EXPECT_NEAR(likelyQuantile(fit.likely_mm_d, 0.9), 1.8, 0.01);
}

TEST(CreepFit, PreciseSizesOutweighThePrior) {
  const CreepFit fit = fitCreep(disc(0.5), closing(0.5, 2.5, {0, 7, 14, 21, 28, 35}, 0.001), warm);
  ASSERT_TRUE(fit.free_mm_d);
  EXPECT_NEAR(fit.free_mm_d->value, 2.5, 1e-9);
  EXPECT_NEAR(fit.creep_mm_d->value, 2.5, 0.1);
  EXPECT_LT(*fit.creep_mm_d->u, 0.2);
}

TEST(CreepFit, CoarseSizesLeaveThePriorStanding) {
  const CreepFit fit = fitCreep(disc(0.5), closing(0.5, 2.5, {0, 2}, 0.05), warm);
  EXPECT_NEAR(fit.creep_mm_d->value, 1.1, 0.15);
}

TEST(CreepFit, PosteriorIsTheOneOfBruteForce) {
  // Product of the prior's density and the fit's, summed finely over creep.
  const auto sizes = closing(0.5, 1.6, {0, 10, 20}, 0.01);
  const CreepFit fit = fitCreep(disc(0.5), sizes, warm);
  const double u = *fit.free_mm_d->u;
  double mass = 0.0;
  double mean = 0.0;
  for (double creep = 0.0005; creep < 8.0; creep += 0.001) {
    const double spread = std::log(creep > 1.0 ? 1.8 : 2.0) / 1.2815515655446004;
    const double off = std::log(creep) / spread;
    const double seen = (creep - fit.free_mm_d->value) / u;
    const double density = std::exp(-0.5 * off * off - 0.5 * seen * seen) / spread / creep;
    mass += density;
    mean += density * creep;
  }
  // The grid of the fit has 301 points: three digits.
  EXPECT_NEAR(fit.creep_mm_d->value, mean / mass, 2e-3);
}

TEST(CreepFit, UncertaintyOfOneStepIsThatOfItsTwoEdges) {
  // Two sizes 10 d apart, each edge good to 10 mm: u = 10 sqrt(2) / 10, but for the drift
  // of the older one: 0.25 / sqrt(30) x 1 x sqrt(10^3 / 3) = 0.83 mm.
  const CreepFit fit = fitCreep(disc(0.5), closing(0.5, 1.0, {0, 10}, 0.01), warm);
  EXPECT_NEAR(*fit.free_mm_d->u, std::sqrt(100 + 100 + 0.25 * 0.25 / 30 * 1000 / 3) / 10, 1e-9);
}

TEST(CreepFit, ScatterWidensTheAnswer) {
  auto smooth = closing(0.5, 1.0, {0, 7, 14, 21, 28}, 0.005);
  auto rough = smooth;
  for (std::size_t i = 0; i < rough.size(); ++i) {
    rough[i].area_m2.value *= i % 2 == 0 ? 1.08 : 0.92;
  }
  EXPECT_GT(*fitCreep(disc(0.5), rough, warm).free_mm_d->u,
            2.0 * *fitCreep(disc(0.5), smooth, warm).free_mm_d->u);
}

TEST(CreepFit, RecentSizesCountMore) {
  // Fast for two months, then slow for two: the pace of now is nearer the slow one than
  // an unweighted line has it.
  std::vector<SizeSeen> sizes;
  double radius_m = 0.8;
  std::vector<double> x;
  std::vector<double> y;
  for (int week = 0; week <= 16; ++week) {
    sizes.push_back({7.0 * week, {M_PI * radius_m * radius_m, 2 * M_PI * radius_m * 0.002}});
    x.push_back(7.0 * week);
    y.push_back(-1000 * radius_m);
    radius_m -= (week < 8 ? 2.0 : 0.5) * 7.0 / 1000.0;
  }
  double sumXX = 0.0;
  double sumXY = 0.0;
  for (std::size_t i = 0; i < x.size(); ++i) {
    sumXX += (x[i] - 56) * (x[i] - 56);
    sumXY += (x[i] - 56) * y[i];
  }
  const double unweighted = sumXY / sumXX;
  EXPECT_LT(fitCreep(disc(0.8), sizes, warm).free_mm_d->value, 0.75 * unweighted);
}

TEST(CreepFit, WithoutPriorNothingIsSaidFromSizesThatTellNothing) {
  EXPECT_TRUE(fitCreep(disc(0.5), closing(0.5, 1.0, {0}, 0.01), {}).likely_mm_d.empty());
  EXPECT_TRUE(fitCreep(disc(0.5), closing(0.5, 1.0, {0, 3}, 0.05), {}).likely_mm_d.empty());
  EXPECT_FALSE(fitCreep(disc(0.5), closing(0.5, 1.0, {0, 30, 60}, 0.005), {}).likely_mm_d.empty());
}

TEST(CreepFit, WithoutPriorTheFitStandsForItself) {
  const CreepFit fit = fitCreep(disc(0.5), closing(0.5, 1.0, {0, 30, 60}, 0.005), {});
  ASSERT_TRUE(fit.free_mm_d);
  EXPECT_EQ(fit.creep_mm_d, fit.free_mm_d);
  // What lies below 0 is a few in a million here.
  const double off = 1.2816 * *fit.free_mm_d->u;
  EXPECT_NEAR(likelyQuantile(fit.likely_mm_d, 0.1), fit.free_mm_d->value - off, 0.02 * off);
  EXPECT_NEAR(likelyQuantile(fit.likely_mm_d, 0.9), fit.free_mm_d->value + off, 0.02 * off);
}

TEST(CreepFit, UnknownUncertaintyCountsAsATenthAndAnEdgeOfTwentyMillimetres) {
  std::vector<SizeSeen> sizes = closing(0.5, 1.0, {0, 100}, 0.0);
  sizes[0].area_m2.u.reset();
  sizes[1].area_m2.u = 2 * M_PI * 0.4 * 1.0;  // useless, so the other one decides
  const CreepFit fit = fitCreep(disc(0.5), sizes, warm);
  // Inset: a tenth of the area over the edge is radius / 20 = 25 mm, and 20 mm; drift of
  // 100 days 26 mm.
  const double drift = 0.25 / std::sqrt(30) * std::sqrt(1e6 / 3);
  EXPECT_NEAR(fit.inset_mm, 0.0, 1.0);
  EXPECT_NEAR(fit.inset_u_mm, std::hypot(25, 20, drift), 0.2);
}

TEST(EdgeForecast, DiscClosesInHalfItsDiameterOverThePace) {
  // t = D / (2 v): 108 mm at 1 and 2 mm/d are 54 and 27 d (reference values, section 7).
  for (const double pace : {1.0, 2.0}) {
    const CreepFit fit =
        fitCreep(disc(0.054), closing(0.054, pace, {0}, 1e-9), CreepPrior{{pace, pace, pace}});
    const auto edge = edgeForecast(fit, disc(0.054));
    ASSERT_TRUE(edge);
    // The grid of creep and the hundredth of a day to which dates are sought.
    EXPECT_NEAR(*edge->closesDay(0.5), 54.0 / pace, 0.1);
  }
}

TEST(EdgeForecast, WidensWithTheDistanceLookedAhead) {
  // A pace known exactly now still wanders: the mean rate's spread grows with sqrt(days).
  const CreepPrior exact = {{1.0, 1.0, 1.0}};
  double before = 0.0;
  for (const double radius_m : {0.02, 0.05, 0.1, 0.3}) {
    const auto edge = edgeForecast(fitCreep(disc(radius_m), closing(radius_m, 1, {0}, 1e-9), exact),
                                   disc(radius_m));
    const double relative = (*edge->closesDay(0.9) - *edge->closesDay(0.1)) / *edge->closesDay(0.5);
    EXPECT_GT(relative, before);
    before = relative;
  }
  // 30 d ahead: log spread 0.25 / sqrt(3) about a month's; both ends at 1.2816 of it.
  const auto month =
      edgeForecast(fitCreep(disc(0.03), closing(0.03, 1, {0}, 1e-9), exact), disc(0.03));
  EXPECT_NEAR(std::log(*month->closesDay(0.1) / 30.0), -1.2816 * 0.25 / std::sqrt(3), 0.04);
}

TEST(EdgeForecast, QuantilesKeepTheirOrderAndTheEdgeMovesOn) {
  const auto sizes = closing(0.3, 0.8, {0, 9, 20}, 0.01);
  const auto edge = edgeForecast(fitCreep(disc(0.3), sizes, warm), disc(0.3));
  double before = 0.0;
  for (const double share : {0.01, 0.1, 0.3, 0.5, 0.7, 0.9, 0.99}) {
    const auto day = edge->closesDay(share);
    ASSERT_TRUE(day) << share;
    EXPECT_GE(*day, before);
    before = *day;
    for (double on = 20; on < 2000; on += 50) {
      EXPECT_GT(edge->inset_mmOn(on + 50, share), edge->inset_mmOn(on, share)) << on;
    }
  }
}

}  // namespace
}  // namespace swardwalk::infill
