#include "common/infill/patch_forecast.h"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>

#include "histories.h"
#include "outlines.h"

namespace swardwalk::infill {
namespace {

using test::bentgrass;
using test::every;
using test::expectSane;

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

TEST(PatchForecast, ProbabilityFollowsTheDates) {
  const PatchForecast forecast = forecastPatch(bentgrass(18.0, every(7, {0.05}, 0.005)));
  EXPECT_NEAR(*probabilityPuttable(forecast, *forecast.puttableDay), 0.5, 1e-9);
  EXPECT_NEAR(*probabilityPuttable(forecast, *forecast.closesEarliestDay + 14), 0.1, 1e-9);
  EXPECT_NEAR(*probabilityPuttable(forecast, *forecast.closesLatestDay + 14), 0.9, 1e-9);
  EXPECT_EQ(probabilityPuttable(forecast, -100), 0.0);
  EXPECT_FALSE(probabilityPuttable(forecast, std::numeric_limits<double>::quiet_NaN()));
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
