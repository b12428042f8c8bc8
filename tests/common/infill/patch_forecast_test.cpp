#include "common/infill/patch_forecast.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <random>

#include "outlines.h"

namespace swardwalk::infill {
namespace {

constexpr double nan = std::numeric_limits<double>::quiet_NaN();

PatchHistory bentgrass(double mean_c, std::vector<SizeSeen> sizes) {
  PatchHistory history;
  history.sizes = std::move(sizes);
  history.sightings = static_cast<int>(history.sizes.size());
  history.today = history.sizes.empty() ? 0.0 : history.sizes.back().day;
  const auto creep = turf::creepFor(*turf::findSpecies("creeping bentgrass"), mean_c);
  if (creep) history.prior = CreepPrior{*creep};
  return history;
}

std::vector<SizeSeen> every(double step_d, std::vector<double> areas, double u_m2) {
  std::vector<SizeSeen> sizes;
  for (const double area : areas) {
    sizes.push_back({step_d * static_cast<double>(sizes.size()), {area, u_m2}});
  }
  return sizes;
}

void expectSane(const PatchForecast& forecast) {
  for (const auto& day : {forecast.closesDay, forecast.closesEarliestDay, forecast.closesLatestDay,
                          forecast.puttableDay, forecast.shareClosed}) {
    if (day) {
      EXPECT_TRUE(std::isfinite(*day));
    }
  }
  if (forecast.creep_mm_d) {
    EXPECT_TRUE(std::isfinite(forecast.creep_mm_d->value));
    EXPECT_TRUE(std::isfinite(*forecast.creep_mm_d->u));
  }
  if (forecast.closesDay) {
    EXPECT_LE(*forecast.closesEarliestDay, *forecast.closesDay);
    EXPECT_LE(*forecast.closesDay, *forecast.puttableDay);
    if (forecast.closesLatestDay) {
      EXPECT_LE(*forecast.closesDay, *forecast.closesLatestDay);
    }
  }
  const bool dated = forecast.verdict == Verdict::closing || forecast.verdict == Verdict::closed;
  if (!dated && forecast.verdict != Verdict::waitingForSeed) {
    EXPECT_FALSE(forecast.closesDay);
    EXPECT_FALSE(probabilityPuttable(forecast, 1e6));
  }
}

void expectSaneCurve(const PatchForecast& forecast, const PatchHistory& history) {
  for (const auto& point : closingCurve(forecast, history)) {
    EXPECT_TRUE(std::isfinite(point.day) && std::isfinite(point.area_m2));
    EXPECT_LE(point.low_m2, point.area_m2 + 1e-12);
    EXPECT_GE(point.high_m2, point.area_m2 - 1e-12);
    EXPECT_GE(point.low_m2, 0.0);
  }
}

TEST(PatchForecast, BareDiscOfBentgrassTakesMostOfAYear) {
  // Common practice, no source: 0.3 m2 at 18 C, left alone: 170 to 620 d.
  const PatchForecast forecast = forecastPatch(bentgrass(18.0, every(7, {0.3}, 0.01)));
  EXPECT_EQ(forecast.verdict, Verdict::closing);
  EXPECT_EQ(forecast.model, "edge creep");
  EXPECT_TRUE(forecast.fromPriorOnly);
  EXPECT_GT(*forecast.closesDay, 170.0);
  EXPECT_LT(*forecast.closesDay, 620.0);
  // Half the width over the ends of the prior, wider by a year's drift.
  EXPECT_LT(*forecast.closesEarliestDay, 309.0 / 1.8 + 20);
  EXPECT_GT(*forecast.closesLatestDay, 309.0 / 0.5);
  EXPECT_NEAR(*forecast.puttableDay - *forecast.closesDay, 14.0, 0.1);
  expectSane(forecast);
}

TEST(PatchForecast, NarrowScarTouchesByHalfItsWidth) {
  // Common practice, no source: 60 mm by 2 m at 1 mm/d touches in 17 to 60 d; at 9 C it
  // takes at least twice as long.
  const geo::InsetCurve curve(rectangle(2.0, 0.06));
  PatchHistory warm = bentgrass(18.0, every(7, {0.12}, 0.01));
  warm.curve = &curve;
  const PatchForecast inSummer = forecastPatch(warm);
  EXPECT_GT(*inSummer.closesDay, 17.0);
  EXPECT_LT(*inSummer.closesDay, 60.0);
  EXPECT_NEAR(*inSummer.closesDay, 30.0, 2.0);
  PatchHistory cool = bentgrass(9.0, every(7, {0.12}, 0.01));
  cool.curve = &curve;
  EXPECT_GT(*forecastPatch(cool).closesDay, 2.0 * *inSummer.closesDay);
  // A round patch of the same area closes much later.
  EXPECT_GT(*forecastPatch(bentgrass(18.0, every(7, {0.12}, 0.01))).closesDay,
            5.0 * *inSummer.closesDay);
}

TEST(PatchForecast, FollowsSizesThatShrinkSteadily) {
  // Radius 300 mm less 1.2 mm a day: closed 250 d after the first look.
  std::vector<SizeSeen> sizes;
  for (double day = 0; day <= 63; day += 7) {
    const double radius_m = 0.3 - 0.0012 * day;
    sizes.push_back({day, {M_PI * radius_m * radius_m, 2 * M_PI * radius_m * 0.005}});
  }
  const PatchForecast forecast = forecastPatch(bentgrass(18.0, sizes));
  EXPECT_EQ(forecast.verdict, Verdict::closing);
  EXPECT_FALSE(forecast.fromPriorOnly);
  EXPECT_NEAR(forecast.creep_mm_d->value, 1.2, 0.1);
  // Part of what is faster than usual is taken for the weather of now, which passes.
  EXPECT_NEAR(*forecast.closesDay, 260.0, 20.0);
  EXPECT_LT(*forecast.closesEarliestDay, 250.0);
  EXPECT_GT(*forecast.closesLatestDay, 250.0);
  EXPECT_NEAR(forecast.sightingSpan_d, 63.0, 1e-12);
  expectSane(forecast);
}

TEST(PatchForecast, StalledNeedsFourteenDaysAndThreeSizes) {
  const auto flat = [](double step_d, int count) {
    return forecastPatch(bentgrass(
        18.0, every(step_d, std::vector<double>(static_cast<std::size_t>(count), 0.5), 0.01)));
  };
  EXPECT_EQ(flat(7, 3).verdict, Verdict::stalled);
  EXPECT_EQ(flat(6.9, 3).verdict, Verdict::closing) << "13.8 days";
  EXPECT_EQ(flat(20, 2).verdict, Verdict::closing) << "two sizes";
  expectSane(flat(7, 3));
  EXPECT_NEAR(flat(7, 3).creep_mm_d->value, 0.0, 1e-9);
}

TEST(PatchForecast, GrowingGetsNoDate) {
  const PatchForecast forecast =
      forecastPatch(bentgrass(18.0, every(7, {0.5, 0.6, 0.7, 0.8}, 0.01)));
  EXPECT_EQ(forecast.verdict, Verdict::growing);
  EXPECT_LT(forecast.creep_mm_d->value, 0.0);
  EXPECT_EQ(forecast.shareClosed, 0.0);
  expectSane(forecast);
}

TEST(PatchForecast, TwoTapeReadingsADayApartAreNotGrowth) {
  EXPECT_EQ(forecastPatch(bentgrass(18.0, every(1, {0.50, 0.52}, 0.02))).verdict, Verdict::closing);
  EXPECT_EQ(forecastPatch(bentgrass(18.0, every(1, {0.5, 1.5}, 0.02))).verdict, Verdict::growing);
}

TEST(PatchForecast, UnderFivePercentOfItsLargestIsClosed) {
  const PatchForecast closed = forecastPatch(bentgrass(18.0, every(7, {1.0, 0.4, 0.0499}, 0.01)));
  EXPECT_EQ(closed.verdict, Verdict::closed);
  EXPECT_EQ(closed.closesDay, 14.0);
  EXPECT_EQ(closed.puttableDay, 28.0);
  EXPECT_EQ(probabilityPuttable(closed, 27.9), 0.0);
  EXPECT_EQ(probabilityPuttable(closed, 28.0), 1.0);
  EXPECT_NE(forecastPatch(bentgrass(18.0, every(7, {1.0, 0.4, 0.0501}, 0.01))).verdict,
            Verdict::closed);
}

TEST(PatchForecast, SomebodySaidClosedUntilItIsSeenOpenAgain) {
  PatchHistory history = bentgrass(18.0, every(7, {0.3, 0.2}, 0.01));
  history.closedDay = 20.0;
  EXPECT_EQ(forecastPatch(history).verdict, Verdict::closed);
  EXPECT_EQ(forecastPatch(history).closesDay, 20.0);
  history.sizes.push_back({30.0, {0.2, 0.01}});
  EXPECT_NE(forecastPatch(history).verdict, Verdict::closed);
}

TEST(PatchForecast, HungryIsFedAndGetsNoDate) {
  PatchHistory history = bentgrass(18.0, every(7, {4.0, 4.5}, 0.2));
  history.kind = turf::Kind::hungry;
  const PatchForecast forecast = forecastPatch(history);
  EXPECT_EQ(forecast.verdict, Verdict::feed);
  EXPECT_FALSE(forecast.closesDay);
  EXPECT_EQ(forecast.model, "none");
  EXPECT_FALSE(openArea_m2(forecast, history, 10.0, 0.5));
  expectSane(forecast);
}

TEST(PatchForecast, TooColdWithoutSizesThatTellCannotSayYet) {
  const PatchForecast forecast = forecastPatch(bentgrass(6.0, every(7, {0.3}, 0.01)));
  EXPECT_EQ(forecast.verdict, Verdict::cannotSayYet);
  EXPECT_EQ(forecast.model, "none");
  expectSane(forecast);
}

TEST(PatchForecast, WithoutSpeciesItLearnsFromSizes) {
  std::vector<SizeSeen> sizes;
  for (double day = 0; day <= 60; day += 10) {
    const double radius_m = 0.3 - 0.001 * day;
    sizes.push_back({day, {M_PI * radius_m * radius_m, 2 * M_PI * radius_m * 0.003}});
  }
  PatchHistory history = bentgrass(6.0, sizes);
  ASSERT_FALSE(history.prior);
  const PatchForecast forecast = forecastPatch(history);
  EXPECT_EQ(forecast.verdict, Verdict::closing);
  EXPECT_NEAR(*forecast.closesDay, 300.0, 10.0);
}

TEST(PatchForecast, WithoutAnySizeCannotSayYet) {
  const PatchForecast forecast = forecastPatch(bentgrass(18.0, {}));
  EXPECT_EQ(forecast.verdict, Verdict::cannotSayYet);
  EXPECT_FALSE(forecast.area_m2);
  EXPECT_FALSE(openArea_m2(forecast, bentgrass(18.0, {}), 10.0, 0.5));
  expectSane(forecast);
}

PatchHistory sownDisc(double today) {
  PatchHistory history = bentgrass(15.0, every(7, {0.3}, 0.02));
  history.sownDay = 0.0;
  history.daysUntilUp = turf::Range{11, 8, 15};
  history.sownToPuttable_d = turf::Range{70, 50, 100};
  history.today = today;
  return history;
}

TEST(PatchForecast, SownWaitsForSeedAndClosesAsCover) {
  const PatchForecast forecast = forecastPatch(sownDisc(5));
  EXPECT_EQ(forecast.verdict, Verdict::waitingForSeed);
  EXPECT_EQ(forecast.model, "cover");
  EXPECT_NEAR(*forecast.puttableDay, 70.0, 1.0);
  EXPECT_NEAR(*forecast.closesDay, 56.0, 1.0);
  expectSane(forecast);
}

TEST(PatchForecast, SownAndUpIsClosing) {
  PatchHistory history = sownDisc(30);
  history.upDay = 12.0;
  const PatchForecast forecast = forecastPatch(history);
  EXPECT_EQ(forecast.verdict, Verdict::closing);
  EXPECT_EQ(forecast.model, "cover");
  EXPECT_NEAR(*forecast.puttableDay, 70.0, 1.0);
}

TEST(PatchForecast, OverdueSeedIsNotCountedOn) {
  const PatchForecast forecast = forecastPatch(sownDisc(30));
  EXPECT_EQ(forecast.verdict, Verdict::waitingForSeed);
  EXPECT_GT(*forecast.closesDay, 200.0) << "only its edge creeps";
  expectSane(forecast);
}

TEST(PatchForecast, SownScarMayCloseFromItsEdgeFirst) {
  const geo::InsetCurve curve(rectangle(2.0, 0.03));
  PatchHistory history = sownDisc(1);
  history.sizes = every(7, {0.06}, 0.002);
  history.curve = &curve;
  EXPECT_LT(*forecastPatch(history).closesDay, 25.0);
}

TEST(PatchForecast, TurfIsPuttableInAboutTwoAndAHalfWeeks) {
  PatchHistory history = bentgrass(15.0, every(7, {0.3}, 0.02));
  history.turfedDay = 3.0;
  history.today = 4.0;
  const PatchForecast forecast = forecastPatch(history);
  EXPECT_EQ(forecast.verdict, Verdict::closing);
  EXPECT_NEAR(*forecast.puttableDay, 20.5, 0.2);
  EXPECT_EQ(probabilityPuttable(forecast, 10.0), 0.0);
  EXPECT_EQ(probabilityPuttable(forecast, 40.0), 1.0);
  history.sizes.push_back({10.0, {0.25, 0.02}});
  EXPECT_GT(*forecastPatch(history).closesDay, 100.0) << "seen open again since";
}

TEST(PatchForecast, ProbabilityFollowsTheDates) {
  const PatchForecast forecast = forecastPatch(bentgrass(18.0, every(7, {0.05}, 0.005)));
  EXPECT_NEAR(*probabilityPuttable(forecast, *forecast.puttableDay), 0.5, 1e-9);
  EXPECT_NEAR(*probabilityPuttable(forecast, *forecast.closesEarliestDay + 14), 0.1, 1e-9);
  EXPECT_NEAR(*probabilityPuttable(forecast, *forecast.closesLatestDay + 14), 0.9, 1e-9);
  EXPECT_EQ(probabilityPuttable(forecast, -100), 0.0);
  EXPECT_FALSE(probabilityPuttable(forecast, nan));
}

TEST(PatchForecast, OpenAreaShrinksByDayAndGrowsWithTheShare) {
  const PatchHistory history = bentgrass(18.0, every(7, {0.3, 0.29}, 0.01));
  const PatchForecast forecast = forecastPatch(history);
  double before = 1.0;
  for (double day = 7; day < 700; day += 20) {
    const double middle = *openArea_m2(forecast, history, day, 0.5);
    EXPECT_LE(middle, before);
    EXPECT_LE(*openArea_m2(forecast, history, day, 0.1), middle);
    EXPECT_GE(*openArea_m2(forecast, history, day, 0.9), middle);
    before = middle;
  }
  EXPECT_EQ(*openArea_m2(forecast, history, *forecast.closesDay + 1, 0.5), 0.0);
}

TEST(PatchForecast, OrderOfSizesDoesNotMatter) {
  auto sizes = every(7, {0.30, 0.28, 0.27, 0.25}, 0.01);
  const PatchForecast inOrder = forecastPatch(bentgrass(18.0, sizes));
  std::reverse(sizes.begin(), sizes.end());
  PatchHistory reversed = bentgrass(18.0, sizes);
  reversed.today = 21.0;
  EXPECT_EQ(forecastPatch(reversed).closesDay, inOrder.closesDay);
  EXPECT_EQ(forecastPatch(reversed).area_m2->value, 0.25);
}

TEST(PatchForecast, SizesThatCannotBeAreLeftOut) {
  const PatchForecast forecast =
      forecastPatch(bentgrass(18.0, every(7, {0.30, 0.28, -1.0, nan}, 0.01)));
  EXPECT_EQ(forecast.area_m2->value, 0.28);
  EXPECT_EQ(forecast.verdict, Verdict::closing);
  EXPECT_EQ(forecast.sightingSpan_d, 7.0);
}

TEST(PatchForecast, OddSizesGiveSenseAndNoNaN) {
  const std::vector<std::vector<SizeSeen>> cases = {
      every(7, {0.0}, 0.0),
      every(7, {0.0, 0.0, 0.0}, 0.0),
      every(7, {0.0, 0.3, 0.2}, 0.01),
      every(0, {0.3, 0.3}, 0.01),
      every(0, {0.3, 0.9}, 0.01),
      every(0.01, std::vector<double>(100, 0.4), 0.01),
      every(730, {0.3, 0.2}, 0.01),
      every(7, {0.3, 0.3, 0.3, 0.3}, 0.0),
      every(7, {1e-12, 1e-12}, 1e-12),
      every(7, {1e6, 1e6 - 1}, 1.0),
      every(7, {nan, 0.3, -1.0, nan}, 0.01),
      {{nan, {0.3, 0.01}}, {3.0, {0.2, nan}}, {4.0, {0.2, -1.0}}, {5.0, {0.19, {}}}},
      every(1, {0.3, 30.0, 0.0, 12.0, 0.1, 0.5}, 0.0)};
  for (std::size_t i = 0; i < cases.size(); ++i) {
    for (const double mean_c : {6.0, 9.0, 18.0}) {
      SCOPED_TRACE(testing::Message() << "case " << i << " at " << mean_c);
      PatchHistory history = bentgrass(mean_c, cases[i]);
      history.today = 800.0;
      const PatchForecast forecast = forecastPatch(history);
      expectSane(forecast);
      expectSaneCurve(forecast, history);
      for (const double share : {0.01, 0.5, 0.99}) {
        const auto open = openArea_m2(forecast, history, 805.0, share);
        if (open) {
          EXPECT_TRUE(std::isfinite(*open) && *open >= 0.0);
        }
      }
    }
  }
}

TEST(PatchForecast, RandomHistoriesNeverGiveNaN) {
  std::mt19937 random(4711);
  const auto any = [&random](double to) {
    return to * static_cast<double>(random()) / 4294967296.0;
  };
  for (int i = 0; i < 300; ++i) {
    std::vector<SizeSeen> sizes;
    for (int k = static_cast<int>(random() % 8); k >= 0; --k) {
      sizes.push_back({any(i % 3 == 0 ? 2.0 : 400.0),
                       {random() % 6 == 0 ? 0.0 : std::exp(any(12.0) - 8.0), any(0.3)}});
    }
    PatchHistory history = bentgrass(5.0 + any(25.0), sizes);
    history.today = any(500.0);
    if (random() % 4 == 0) history.sownDay = any(400.0);
    history.daysUntilUp = turf::Range{11, 8, 15};
    history.sownToPuttable_d = turf::Range{70, 50, 100};
    SCOPED_TRACE(i);
    const PatchForecast forecast = forecastPatch(history);
    expectSane(forecast);
    expectSaneCurve(forecast, history);
  }
}

/// A disc closing 1.2 mm a day, each radius known to 5 mm.
std::vector<SizeSeen> sixLooks() {
  std::vector<SizeSeen> sizes;
  for (double day = 0; day <= 35; day += 7) {
    const double radius_m = 0.3 - 0.0012 * day;
    sizes.push_back({day, {M_PI * radius_m * radius_m, 2 * M_PI * radius_m * 0.005}});
  }
  return sizes;
}

TEST(WildSize, IsSetAsideWhereverItStandsButLast) {
  const PatchForecast good = forecastPatch(bentgrass(18.0, sixLooks()));
  EXPECT_FALSE(good.setAside);
  for (const double factor : {0.4, 2.5, 10.0}) {
    for (std::size_t i = 0; i + 1 < 6; ++i) {
      auto sizes = sixLooks();
      sizes[i].area_m2.value *= factor;
      const PatchForecast wild = forecastPatch(bentgrass(18.0, sizes));
      SCOPED_TRACE(testing::Message() << i << " times " << factor);
      ASSERT_TRUE(wild.setAside);
      EXPECT_EQ(wild.setAside->day, sizes[i].day);
      EXPECT_NEAR(*wild.expected_m2, sixLooks()[i].area_m2.value, 0.03);
      EXPECT_EQ(wild.verdict, Verdict::closing);
      // One size less moves the median by less than a fifth of the interval.
      EXPECT_NEAR(*wild.closesDay, *good.closesDay,
                  0.2 * (*good.closesLatestDay - *good.closesEarliestDay));
    }
  }
}

TEST(WildSize, LastOneIsNotSetAsideBecauseItMayBeTrue) {
  auto sizes = sixLooks();
  sizes.back().area_m2.value *= 2.5;
  EXPECT_FALSE(forecastPatch(bentgrass(18.0, sizes)).setAside);
}

TEST(WildSize, HonestScatterIsKept) {
  // Of 200 honest series with five sizes hardly any has one four uncertainties off.
  std::mt19937 random(11);
  int setAside = 0;
  for (int i = 0; i < 200; ++i) {
    auto sizes = sixLooks();
    for (SizeSeen& size : sizes) {
      // The sum of twelve even numbers is nearly normal.
      double z = -6.0;
      for (int k = 0; k < 12; ++k) z += static_cast<double>(random()) / 4294967296.0;
      size.area_m2.value += z * *size.area_m2.u;
    }
    setAside += forecastPatch(bentgrass(18.0, sizes)).setAside ? 1 : 0;
  }
  EXPECT_LE(setAside, 2);
}

TEST(PatchForecast, GrowingTimeStretchesTheWayAhead) {
  PatchHistory history = bentgrass(18.0, every(7, {0.05}, 0.001));
  const double calendar_d = *forecastPatch(history).closesDay;
  history.time = std::make_shared<const GrowingTime>(0.0, std::vector<double>(4000, 0.5), 0.5);
  // Twice as long, and the drift of twice the days.
  EXPECT_NEAR(*forecastPatch(history).closesDay, 2.0 * calendar_d, 0.1 * calendar_d);
  history.time = std::make_shared<const GrowingTime>(0.0, std::vector<double>{}, 0.0);
  EXPECT_FALSE(forecastPatch(history).closesDay);
}

TEST(PatchForecast, VerdictsAreTheWordsOfTheAnswers) {
  EXPECT_EQ(word(Verdict::waitingForSeed), "waiting for seed");
  EXPECT_EQ(word(Verdict::cannotSayYet), "cannot say yet");
  EXPECT_EQ(word(Verdict::feed), "feed");
}

}  // namespace
}  // namespace swardwalk::infill
