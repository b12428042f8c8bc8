#include "common/infill/green_forecast.h"

#include <gtest/gtest.h>

#include <cmath>
#include <deque>
#include <limits>

namespace swardwalk::infill {
namespace {

constexpr double green_m2 = 500.0;
constexpr double limit = 0.02;  // 10 m2

/// Patches of one green with their forecasts at 18 C, seen on day 0.
struct Green {
  std::deque<PatchHistory> histories;
  std::deque<PatchForecast> forecasts;
  std::vector<PatchOnGreen> patches;

  PatchHistory& add(double area_m2) {
    PatchHistory history;
    if (area_m2 > 0.0) history.sizes = {{0.0, {area_m2, 0.05 * area_m2}}};
    history.prior = CreepPrior{{1.0, 0.5, 1.8}};
    return histories.emplace_back(history);
  }

  std::optional<double> ready(double day, std::uint64_t seed = 1) {
    forecasts.clear();
    patches.clear();
    for (const PatchHistory& history : histories) {
      patches.push_back({&history, &forecasts.emplace_back(forecastPatch(history))});
    }
    return probabilityReady(patches, green_m2, limit, day, seed);
  }
};

TEST(GreenForecast, WithoutPatchesIsReady) { EXPECT_EQ(Green().ready(10.0), 1.0); }

TEST(GreenForecast, SameSeedGivesTheSameBitsAndAnotherNearlyTheSame) {
  Green green;
  for (int i = 0; i < 8; ++i) green.add(1.5);
  const auto first = green.ready(120.0, 42);
  EXPECT_EQ(first, green.ready(120.0, 42));
  EXPECT_GT(*first, 0.05);
  EXPECT_LT(*first, 0.95);
  // 4,000 draws: a standard deviation of 0.008 at most, so 0.05 is beyond six of the pair.
  EXPECT_NEAR(*first, *green.ready(120.0, 43), 0.05);
}

TEST(GreenForecast, GetsLikelierWithTimeAndLessLikelyWithAnotherPatch) {
  Green green;
  for (int i = 0; i < 8; ++i) green.add(1.5);
  double before = 0.0;
  for (const double day : {20.0, 60.0, 120.0, 250.0, 600.0}) {
    const double now = *green.ready(day);
    EXPECT_GE(now, before) << day;
    before = now;
  }
  EXPECT_GT(before, 0.8);
  const double without = *green.ready(120.0);
  green.add(1.5);
  EXPECT_LT(*green.ready(120.0), without);
}

TEST(GreenForecast, OnePatchAgreesWithItsOwnQuantile) {
  // One disc of 12 m2 must shrink below 10 m2, knit: its radius by 170 mm.
  Green green;
  green.add(12.0);
  const double day = 200.0;
  const auto chance = green.ready(day);
  const PatchForecast& forecast = green.forecasts.front();
  const PatchHistory& history = green.histories.front();
  double low = 0.001;
  double high = 0.999;
  for (int i = 0; i < 40; ++i) {
    const double middle = 0.5 * (low + high);
    (*openArea_m2(forecast, history, day - 14.0, middle) < 10.0 ? low : high) = middle;
  }
  // Sampling error of 4,000 draws 0.008; 0.03 is beyond three of it.
  EXPECT_NEAR(*chance, low, 0.03);
}

TEST(GreenForecast, StalledPatchStaysAsLargeAsSeen) {
  Green green;
  PatchHistory& stalled = green.add(11.0);
  stalled.sizes = {{-20.0, {11.0, 0.01}}, {-10.0, {11.0, 0.01}}, {0.0, {11.0, 0.01}}};
  // Three equal sizes do not prove that it never moves; nearly.
  EXPECT_LT(*green.ready(3000.0), 0.1);
  stalled.sizes = {{-20.0, {9.0, 0.01}}, {-10.0, {9.0, 0.01}}, {0.0, {9.0, 0.01}}};
  EXPECT_EQ(green.ready(3000.0), 1.0);
}

TEST(GreenForecast, AreasCountUntilTheyArePuttable) {
  Green green;
  PatchHistory& turfed = green.add(20.0);
  turfed.turfedDay = 1.0;
  EXPECT_EQ(green.ready(5.0), 0.0) << "green, not knit";
  EXPECT_EQ(green.ready(40.0), 1.0);
  turfed.turfedDay.reset();
  turfed.closedDay = 1.0;
  EXPECT_EQ(green.ready(5.0), 0.0) << "touching, not puttable";
  EXPECT_EQ(green.ready(16.0), 1.0);
}

TEST(GreenForecast, HungryPatchesDoNotCount) {
  Green green;
  green.add(100.0).kind = turf::Kind::hungry;
  EXPECT_EQ(green.ready(1.0), 1.0);
}

TEST(GreenForecast, PatchWithoutASizeCountsAsTheMiddleOne) {
  Green green;
  green.add(0.0);
  EXPECT_FALSE(green.ready(1.0)) << "nothing to go by";
  green.add(6.0);
  EXPECT_EQ(green.ready(1.0), 0.0) << "6 and as much again";
}

TEST(GreenForecast, NoNumbersGiveNoAnswer) {
  const double nan = std::numeric_limits<double>::quiet_NaN();
  EXPECT_FALSE(probabilityReady({}, nan, 0.02, 1.0, 1));
  EXPECT_FALSE(probabilityReady({}, 0.0, 0.02, 1.0, 1));
  EXPECT_FALSE(probabilityReady({}, 500.0, nan, 1.0, 1));
  EXPECT_FALSE(probabilityReady({}, 500.0, 0.02, nan, 1));
}

TEST(GreenForecast, AThinStandKeepsAGreenShutUntilItCovers) {
  Green green;
  green.add(0.5);
  EXPECT_EQ(green.ready(30.0), 1.0);
  const ThinStand thin{0.2, 0.04, 0.0};
  const auto ready = [&](double day) {
    return *probabilityReady(green.patches, green_m2, limit, day, 1, thin);
  };
  EXPECT_LT(ready(5.0), 0.01);
  // From 20 % bare to 2 % at 0.08 a day: (ln 49 - ln 4)/0.08 = 31 d in the middle, and knit.
  EXPECT_NEAR(ready(45.0), 0.45, 0.2);
  EXPECT_GT(ready(150.0), 0.95);
}

TEST(NextLooks, AreThoseInDoubtThatDecide) {
  Green green;
  green.add(9.0);   // as large as the limit
  green.add(0.01);  // decides nothing
  green.add(6.0);
  green.ready(150.0);
  const auto looks = nextLooks(green.patches, green_m2, limit, 150.0, 0.0, 1, 3);
  for (const NextLook& look : looks) EXPECT_NE(look.patch, 1U);
  // A fresh size tells of the place, but hardly of a pace seen once; in a month it will.
  const auto later = nextLooks(green.patches, green_m2, limit, 150.0, 40.0, 1, 3);
  ASSERT_GE(later.size(), 1U);
  EXPECT_EQ(later.front().patch, 0U);
  EXPECT_GT(later.front().moves, looks.empty() ? 0.0 : looks.front().moves);
}

TEST(NextLooks, BeginWithWhatWasNeverMeasured) {
  Green green;
  green.add(9.0);
  green.add(0.0);
  green.ready(150.0);
  const auto looks = nextLooks(green.patches, green_m2, limit, 150.0, 40.0, 1, 3);
  ASSERT_FALSE(looks.empty());
  EXPECT_EQ(looks.front().patch, 1U);
}

}  // namespace
}  // namespace swardwalk::infill
