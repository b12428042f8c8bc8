#include "common/infill/cover_forecast.h"

#include <gtest/gtest.h>

#include "common/infill/spread.h"

namespace swardwalk::infill {
namespace {

SownPatch bentgrassAtFifteen(double daysAgo) {
  return {.sownDay = 100.0,
          .upDay = {},
          .daysUntilUp = {11, 8, 15},
          .sownToPuttable_d = {70, 50, 100},
          .today = 100.0 + daysAgo};
}

TEST(Cover, OfASowingIsPuttableAfterItsRange) {
  const auto cover = coverOfSown(bentgrassAtFifteen(0));
  ASSERT_TRUE(cover);
  EXPECT_NEAR(likelyQuantile(cover->puttableDays, 0.5), 170.0, 0.5);
  EXPECT_NEAR(likelyQuantile(cover->puttableDays, 0.1), 150.0, 0.5);
  EXPECT_NEAR(likelyQuantile(cover->puttableDays, 0.9), 200.0, 0.5);
  EXPECT_NEAR(likelyQuantile(cover->closesDays, 0.5), 156.0, 0.5);
  EXPECT_NEAR(cover->startDay, 111.0, 1e-12);
}

TEST(Cover, OfAnOverdueSowingIsNotExpected) {
  EXPECT_TRUE(coverOfSown(bentgrassAtFifteen(15)));
  EXPECT_FALSE(coverOfSown(bentgrassAtFifteen(15.1)));
}

TEST(Cover, OfASowingThatCameUpGoesOn) {
  SownPatch sown = bentgrassAtFifteen(40);
  sown.upDay = 113.0;
  const auto cover = coverOfSown(sown);
  ASSERT_TRUE(cover);
  EXPECT_EQ(cover->startDay, 113.0);
  EXPECT_NEAR(likelyQuantile(cover->puttableDays, 0.5), 170.0, 0.5);
}

TEST(Cover, WhatIsNotUpTodayHasItsGrowingToDo) {
  SownPatch quick = bentgrassAtFifteen(14);
  quick.sownToPuttable_d = {20, 16, 25};
  const auto cover = coverOfSown(quick);
  ASSERT_TRUE(cover);
  // At the quickest 16 - 11 days from up.
  EXPECT_GE(cover->puttableDays.front(), 114.0 + 5.0 - 1e-9);
}

TEST(Cover, OpenShareFallsFromAllToNothing) {
  const auto cover = coverOfSown(bentgrassAtFifteen(0));
  double before = 1.0;
  for (double day = 100; day <= 160; day += 1) {
    const double open = cover->openShare(day, 156.0);
    EXPECT_LE(open, before);
    EXPECT_GE(open, 0.0);
    before = open;
  }
  EXPECT_EQ(cover->openShare(105, 156.0), 1.0);
  EXPECT_EQ(cover->openShare(156, 156.0), 0.0);
}

TEST(Cover, OfTurfIsPuttableInTwoToThreeWeeks) {
  // Common practice, no source.
  const CoverForecast cover = coverOfTurf(100.0);
  EXPECT_NEAR(likelyQuantile(cover.puttableDays, 0.1), 114.0, 0.2);
  EXPECT_NEAR(likelyQuantile(cover.puttableDays, 0.9), 121.0, 0.2);
  EXPECT_EQ(cover.closesDays.front(), 100.0);
}

}  // namespace
}  // namespace swardwalk::infill
