#include <gtest/gtest.h>

#include "common/repair/choice.h"

namespace swardwalk::repair {
namespace {

Sowing ryegrassAtTenDegrees(double today) {
  Sowing sowing;
  sowing.sownDay = 100.0;
  sowing.daysUntilUp = turf::daysUp(*turf::findSpecies("perennial ryegrass"), 10.0);
  sowing.today = 100.0 + today;
  return sowing;
}

TEST(SowingState, RyegrassAtTenDegreesWaitsOnDayEightAndIsOverdueOnDayTwentyTwo) {
  // Common practice, no source: up in 10 to 18 days.
  EXPECT_EQ(sowingState(ryegrassAtTenDegrees(8)), SowingState::waiting);
  EXPECT_EQ(sowingState(ryegrassAtTenDegrees(13)), SowingState::due);
  EXPECT_EQ(sowingState(ryegrassAtTenDegrees(22)), SowingState::overdue);
}

TEST(SowingState, ChangesExactlyAtTheEndsOfTheRange) {
  EXPECT_EQ(sowingState(ryegrassAtTenDegrees(9.99)), SowingState::waiting);
  EXPECT_EQ(sowingState(ryegrassAtTenDegrees(10)), SowingState::due);
  EXPECT_EQ(sowingState(ryegrassAtTenDegrees(18)), SowingState::due);
  EXPECT_EQ(sowingState(ryegrassAtTenDegrees(18.01)), SowingState::overdue);
}

TEST(SowingState, UpIsUpWhateverTheRainDidAfter) {
  Sowing sowing = ryegrassAtTenDegrees(22);
  sowing.upDay = 112.0;
  EXPECT_EQ(sowingState(sowing), SowingState::up);
  sowing.washedDay = 115.0;
  EXPECT_EQ(sowingState(sowing), SowingState::up);
}

TEST(SowingState, AWashBeforeItCameUpLosesIt) {
  Sowing sowing = ryegrassAtTenDegrees(8);
  sowing.washedDay = 104.0;
  EXPECT_EQ(sowingState(sowing), SowingState::washedOut);
  sowing.washedDay = 96.0;
  EXPECT_EQ(sowingState(sowing), SowingState::waiting) << "that wash was before the sowing";
}

TEST(SowingState, TooColdWaits) {
  Sowing sowing = ryegrassAtTenDegrees(60);
  sowing.daysUntilUp.reset();
  EXPECT_EQ(sowingState(sowing), SowingState::waiting);
}

TEST(SowingState, NothingSownHasNone) {
  EXPECT_EQ(sowingState(Sowing{}), SowingState::none);
  EXPECT_EQ(word(SowingState::none), "");
  EXPECT_EQ(word(SowingState::washedOut), "washed out");
}

}  // namespace
}  // namespace swardwalk::repair
