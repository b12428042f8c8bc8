#include "common/infill/creep_pool.h"

#include <gtest/gtest.h>

#include <cmath>

#include "common/infill/drift.h"
#include "common/infill/patch_forecast.h"

namespace swardwalk::infill {
namespace {

const LogCreep warm = logCreepOf({1.0, 0.5, 1.8});

TEST(LogCreep, HasTheMomentsOfItsHalves) {
  // Summed finely over both halves, each with half of the mass.
  double mass = 0.0;
  double mean = 0.0;
  double square = 0.0;
  for (double log = -5.0; log < 5.0; log += 1e-3) {
    const double density = std::exp(warm.logDensity(log));
    mass += density;
    mean += density * log;
    square += density * log * log;
  }
  mean /= mass;
  EXPECT_NEAR(warm.mean(), mean, 1e-3);
  EXPECT_NEAR(warm.variance(), square / mass - mean * mean, 1e-3);
  EXPECT_NEAR(std::exp(warm.quantile(0.1)), 0.5, 1e-9);
  EXPECT_NEAR(std::exp(warm.quantile(0.9)), 1.8, 1e-9);
}

TEST(GreenPool, IsTheTextbooksShrunkenMean) {
  // Normal means with known spread: with n patches that tell exactly, the green's part g2 is
  // learned from own2 / n: shift g2 / (g2 + own2 / n) of their mean.
  const double own2 = 0.5 * warm.variance();
  const double green2 = 0.5 * warm.variance() + held2;
  std::vector<CreepTold> told(5, CreepTold{warm.mean() + 0.4, 1e12, 0.0, 0.0, 0});
  const CreepPool pool = GreenPool(warm, told).without(0);
  EXPECT_EQ(pool.patches, 4);
  EXPECT_NEAR(pool.shift, 0.4 * green2 / (green2 + own2 / 4.0), 1e-6);
  EXPECT_NEAR(pool.learned2, 1.0 / (1.0 / green2 + 4.0 / own2), 1e-6);
}

TEST(GreenPool, WhatAllWanderedTogetherIsNotAveragedAway) {
  std::vector<CreepTold> told(200, CreepTold{warm.mean() + 0.4, 1e12, 0.1, 0.0, 0});
  const CreepPool pool = GreenPool(warm, told).without(0);
  EXPECT_GT(pool.learned2, 0.05);
}

TEST(GreenPool, OfPatchesThatTellNothingChangesNothing) {
  const CreepPool pool = GreenPool(warm, std::vector<CreepTold>(4)).without(2);
  EXPECT_EQ(pool.patches, 0);
  EXPECT_EQ(pool.shift, 0.0);
  EXPECT_EQ(CreepBefore(warm, pool).now().middle, warm.middle);
}

TEST(GreenPool, CountsOnlyPatchesOfRealWeight) {
  // One that is as vague as the patches differ weighs half of one known exactly; one nine times
  // as vague a tenth: that one still moves the pool a little, but nobody goes by it.
  const double own2 = 0.5 * warm.variance();
  const CreepTold half{warm.mean() + 0.4, 1.0 / own2, 0.0, 0.0, 0};
  const CreepTold tenth{warm.mean() + 0.4, 1.0 / (9.0 * own2), 0.0, 0.0, 0};
  const CreepPool both = GreenPool(warm, {CreepTold{}, half, tenth}).without(0);
  EXPECT_EQ(both.patches, 1);
  const CreepPool vague = GreenPool(warm, {CreepTold{}, tenth}).without(0);
  EXPECT_EQ(vague.patches, 0);
  EXPECT_GT(vague.shift, 0.0);
  EXPECT_GT(both.shift, vague.shift);
  EXPECT_LT(CreepBefore(warm, both).now().above, CreepBefore(warm, vague).now().above);
}

TEST(GreenPool, ScatterOfTheOthersNarrowsOrWidens) {
  const auto scatter = [](double chiSquared) {
    return GreenPool(warm, std::vector<CreepTold>(8, CreepTold{0.0, 0.0, 0.0, chiSquared, 4}))
        .without(0);
  };
  EXPECT_LT(scatter(1.0).scatter2, 0.5);
  EXPECT_NEAR(scatter(4.0).scatter2, 1.0, 1e-12);
  EXPECT_GT(scatter(16.0).scatter2, 3.0);
  EXPECT_NEAR(scatter(4.0).belief, 4.0 + 28.0, 1e-12);
}

PatchHistory closingDisc(double creep_mm_d, int looks) {
  PatchHistory history;
  for (int look = 0; look < looks; ++look) {
    const double radius_m = 0.25 - 0.007 * look * creep_mm_d;
    history.sizes.push_back({7.0 * look, {M_PI * radius_m * radius_m, 2 * M_PI * radius_m * 0.01}});
  }
  history.prior = CreepPrior{{1.0, 0.5, 1.8}};
  history.today = history.sizes.back().day;
  return history;
}

TEST(GreenPool, APatchSeenOnceLearnsFromAGreenThatCreepsFast) {
  std::vector<CreepTold> told;
  for (int i = 0; i < 6; ++i) told.push_back(*forecastPatch(closingDisc(1.7, 6)).told);
  told.emplace_back();
  PatchHistory once = closingDisc(1.0, 1);
  const PatchForecast alone = forecastPatch(once);
  once.pool = GreenPool(warm, told).without(6);
  const PatchForecast pooled = forecastPatch(once);
  EXPECT_LT(*pooled.closesDay, 0.8 * *alone.closesDay);
  EXPECT_LT(*pooled.closesLatestDay - *pooled.closesEarliestDay,
            0.8 * (*alone.closesLatestDay - *alone.closesEarliestDay));
  EXPECT_GT(pooled.creep_mm_d->value, 1.25 * alone.creep_mm_d->value);
}

}  // namespace
}  // namespace swardwalk::infill
