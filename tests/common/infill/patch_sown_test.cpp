#include "common/infill/patch_forecast.h"

#include <gtest/gtest.h>

#include "histories.h"
#include "outlines.h"

namespace swardwalk::infill {
namespace {

using test::bentgrass;
using test::every;
using test::expectSane;

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

}  // namespace
}  // namespace swardwalk::infill
