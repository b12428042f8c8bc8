#include "common/infill/creep_fit.h"

#include <gtest/gtest.h>

#include <cmath>
#include <vector>

#include "common/infill/drift.h"
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

CreepFit fitted(const GapShape& shape, const std::vector<SizeSeen>& sizes,
                const std::optional<CreepPrior>& prior) {
  return fitCreep(shape, sizes, prior, {}, nullptr);
}

std::optional<EdgeForecast> ahead(const GapShape& shape, const std::vector<SizeSeen>& sizes,
                                  const std::optional<CreepPrior>& prior) {
  return edgeForecast(fitted(shape, sizes, prior), shape, nullptr);
}

/// Quantile of the creep that is likely.
double creepAt(const CreepFit& fit, double share) {
  double upTo = 0.0;
  for (const CreepLevel& level : fit.levels) {
    upTo += level.weight;
    if (upTo >= share) return level.creep_mm_d;
  }
  return fit.levels.back().creep_mm_d;
}

TEST(CreepFit, WithOneSizeThePriorIsTheAnswer) {
  const CreepFit fit = fitted(disc(0.3), closing(0.3, 0, {0}, 0.01), warm);
  EXPECT_FALSE(fit.free_mm_d);
  // The prior's 0.5 to 1.8 and the weather of now, which may be any of a season's.
  const double wider = std::sqrt(1.0 + held2 / logCreepOf(warm.creep_mm_d).variance());
  EXPECT_NEAR(creepAt(fit, 0.1), std::pow(0.5, wider), 0.02);
  EXPECT_NEAR(creepAt(fit, 0.5), 1.0, 0.05);
  EXPECT_NEAR(creepAt(fit, 0.9), std::pow(1.8, wider), 0.08);
}

TEST(CreepFit, PreciseSizesOutweighThePrior) {
  const CreepFit fit = fitted(disc(0.5), closing(0.5, 2.5, {0, 7, 14, 21, 28, 35}, 0.001), warm);
  ASSERT_TRUE(fit.free_mm_d);
  EXPECT_NEAR(fit.free_mm_d->value, 2.5, 1e-9);
  // The pace of now: that of 35 days, but for what it may have wandered in them.
  EXPECT_NEAR(fit.creep_mm_d->value, 2.5, 0.15);
  EXPECT_LT(*fit.creep_mm_d->u, 0.4);
}

TEST(CreepFit, CoarseSizesLeaveThePriorStanding) {
  const CreepFit fit = fitted(disc(0.5), closing(0.5, 2.5, {0, 2}, 0.05), warm);
  EXPECT_NEAR(fit.creep_mm_d->value, 1.1, 0.15);
}

TEST(CreepFit, PosteriorIsTheOneOfBruteForce) {
  // Of two sizes only their difference tells: normal about creep x 20 d, with the variance of
  // both edges times the scatter's square, and of the drift. Summed finely over creep and
  // over the scatter, whose logarithm has the density of four degrees of freedom.
  const CreepFit fit = fitted(disc(0.5), closing(0.5, 1.6, {0, 20}, 0.01), warm);
  const double strayed = strayed_mm2(20, 20);
  const double priorVariance = logCreepOf(warm.creep_mm_d).variance();
  const double wider = std::sqrt(1.0 + held2 / priorVariance);
  double mass = 0.0;
  double mean = 0.0;
  for (double log = -4.0; log < 3.0; log += 0.01) {
    const double creep = std::exp(log);
    const double spread = wider * std::log(log > 0.0 ? 1.8 : 2.0) / 1.2815515655446004;
    for (double logScatter = -2.0; logScatter < 2.0; logScatter += 0.02) {
      const double scatter2 = std::exp(2.0 * logScatter);
      const double variance = 200.0 * scatter2 + creep * creep * strayed;
      const double off = 32.0 - 20.0 * creep;
      const double density =
          std::exp(-0.5 * log * log / (spread * spread) - 0.5 * off * off / variance -
                   4.0 * logScatter - 2.0 / scatter2) /
          spread / std::sqrt(variance);
      mass += density;
      mean += density * creep;
    }
  }
  // The grid of the fit is coarse in the scatter and ends at four times it.
  EXPECT_NEAR(fit.creep_mm_d->value, mean / mass, 0.005 * mean / mass);
}

TEST(CreepFit, UncertaintyOfOneStepIsThatOfItsTwoEdges) {
  // Two sizes 10 d apart, each edge good to 10 mm: u = 10 sqrt(2) / 10, but for the drift
  // of the older one: 0.35 / sqrt(30) x 1 x sqrt(10^3 / 3) = 1.17 mm.
  const CreepFit fit = fitted(disc(0.5), closing(0.5, 1.0, {0, 10}, 0.01), warm);
  // The spring takes off some per cent of that after ten days of its memory of 75.
  EXPECT_NEAR(*fit.free_mm_d->u, std::sqrt(100 + 100 + 0.35 * 0.35 / 30 * 1000 / 3) / 10, 5e-4);
}

TEST(CreepFit, ScatterWidensTheAnswer) {
  auto smooth = closing(0.5, 1.0, {0, 7, 14, 21, 28}, 0.005);
  auto rough = smooth;
  for (std::size_t i = 0; i < rough.size(); ++i) {
    rough[i].area_m2.value *= i % 2 == 0 ? 1.08 : 0.92;
  }
  EXPECT_GT(*fitted(disc(0.5), rough, warm).free_mm_d->u,
            2.0 * *fitted(disc(0.5), smooth, warm).free_mm_d->u);
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
  EXPECT_LT(fitted(disc(0.8), sizes, warm).free_mm_d->value, 0.75 * unweighted);
}

TEST(CreepFit, WithoutPriorNothingIsSaidFromSizesThatTellNothing) {
  EXPECT_TRUE(fitted(disc(0.5), closing(0.5, 1.0, {0}, 0.01), {}).levels.empty());
  EXPECT_TRUE(fitted(disc(0.5), closing(0.5, 1.0, {0, 3}, 0.05), {}).levels.empty());
  EXPECT_FALSE(fitted(disc(0.5), closing(0.5, 1.0, {0, 30, 60}, 0.005), {}).levels.empty());
}

TEST(CreepFit, WithoutPriorTheFitStandsForItself) {
  const CreepFit fit = fitted(disc(0.5), closing(0.5, 1.0, {0, 30, 60}, 0.005), {});
  ASSERT_TRUE(fit.free_mm_d);
  EXPECT_EQ(fit.creep_mm_d, fit.free_mm_d);
  // What is to come wanders, so it is wider than the mean of what was.
  const double off = 1.2816 * *fit.free_mm_d->u;
  EXPECT_LT(creepAt(fit, 0.1), fit.free_mm_d->value - off);
  EXPECT_GT(creepAt(fit, 0.9), fit.free_mm_d->value + off);
}

TEST(CreepFit, UnknownUncertaintyCountsAsATenthAndAnEdgeOfTwentyMillimetres) {
  std::vector<SizeSeen> sizes = closing(0.5, 1.0, {0}, 0.0);
  sizes[0].area_m2.u.reset();
  const CreepFit fit = fitted(disc(0.5), sizes, warm);
  // Inset: a tenth of the area over the edge is radius / 20 = 25 mm, and 20 mm.
  EXPECT_NEAR(fit.inset_mm, 0.0, 1e-9);
  EXPECT_NEAR(fit.inset_u_mm, std::hypot(25, 20), 0.2);
}

double dayAt(const EdgeForecast& edge, double share) {
  return likelyQuantile(edge.closesDays(), share);
}

TEST(EdgeForecast, DiscClosesInHalfItsDiameterOverThePace) {
  // t = D / (2 v): 108 mm at 1 and 2 mm/d are 54 and 27 d (reference values, section 7).
  for (const double pace : {1.0, 2.0}) {
    const auto edge =
        ahead(disc(0.054), closing(0.054, pace, {0}, 1e-9), CreepPrior{{pace, pace, pace}});
    ASSERT_TRUE(edge);
    // The middle of 128 paths is known to about a hundredth of their spread of a fifth. A rate
    // that wanders is a little more than its middle on the mean.
    const double straight = 54.0 / pace;
    EXPECT_NEAR(dayAt(*edge, 0.5), straight * std::exp(-driftLift(straight)), 0.01 * straight);
  }
}

TEST(EdgeForecast, WidensWithTheDistanceLookedAhead) {
  // A pace known well now still wanders: also in parts of itself a date far ahead is wider.
  double before = 0.0;
  for (const double ahead_m : {0.015, 0.03, 0.06, 0.15}) {
    const double radius_m = 0.035 + ahead_m;
    const auto sizes = closing(radius_m, 1, {0, 7, 14, 21, 28, 35}, 0.0005);
    const auto edge = ahead(disc(radius_m), sizes, warm);
    const double relative = (dayAt(*edge, 0.9) - dayAt(*edge, 0.1)) / (dayAt(*edge, 0.5) - 35.0);
    EXPECT_GT(relative, before) << ahead_m;
    before = relative;
  }
}

TEST(EdgeForecast, QuantilesKeepTheirOrderAndTheEdgeMovesOn) {
  const auto sizes = closing(0.3, 0.8, {0, 9, 20}, 0.01);
  const auto edge = ahead(disc(0.3), sizes, warm);
  double before = 0.0;
  for (const double share : {0.01, 0.1, 0.3, 0.5, 0.7, 0.9, 0.99}) {
    const double day = dayAt(*edge, share);
    EXPECT_GE(day, before);
    before = day;
    for (double on = 20; on < 2000; on += 50) {
      EXPECT_GT(likelyQuantile(edge->insets_mmOn(on + 50), share),
                likelyQuantile(edge->insets_mmOn(on), share))
          << on;
    }
  }
}

TEST(EdgeForecast, OfAPatchSeenOpenNeverClosesBeforeThat) {
  // An edge good to 40 mm about a gap of 30: most places would lie beyond touching.
  const auto edge = ahead(disc(0.03), closing(0.03, 1, {0, 7, 14}, 0.04), warm);
  EXPECT_GT(edge->closesDays().front(), 14.0);
}

}  // namespace
}  // namespace swardwalk::infill
