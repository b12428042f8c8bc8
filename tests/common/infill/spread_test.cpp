#include "common/infill/spread.h"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <vector>

namespace swardwalk::infill {
namespace {

TEST(Spread, RangeIsTheMiddleAndTheCentralEightyPercent) {
  const turf::Range creep = {1.0, 0.5, 1.8};
  EXPECT_NEAR(rangeQuantile(creep, 0.1), 0.5, 1e-9);
  EXPECT_NEAR(rangeQuantile(creep, 0.5), 1.0, 1e-12);
  EXPECT_NEAR(rangeQuantile(creep, 0.9), 1.8, 1e-9);
  EXPECT_NEAR(rangeShare(creep, 0.5), 0.1, 1e-9);
  EXPECT_NEAR(rangeShare(creep, 1.8), 0.9, 1e-9);
  EXPECT_EQ(rangeShare(creep, 0.0), 0.0);
  EXPECT_EQ(rangeShare(creep, -1.0), 0.0);
}

TEST(Spread, RangeWithoutWidthIsItsBest) {
  const turf::Range sure = {14, 14, 14};
  EXPECT_EQ(rangeQuantile(sure, 0.9), 14.0);
  EXPECT_EQ(rangeShare(sure, 13.9), 0.0);
  EXPECT_EQ(rangeShare(sure, 14.0), 1.0);
}

TEST(Spread, RangesWithoutSenseAreKnownAsSuch) {
  EXPECT_TRUE(usable({1.0, 0.0, 2.0}));
  EXPECT_FALSE(usable({0.0, 0.0, 0.0}));
  EXPECT_FALSE(usable({1.0, 1.5, 2.0}));
  EXPECT_FALSE(usable({1.0, 0.5, 0.9}));
  EXPECT_FALSE(usable({std::nan(""), 0.5, 2.0}));
  EXPECT_FALSE(usable({1.0, 0.5, std::numeric_limits<double>::infinity()}));
}

TEST(Spread, UncertaintyOfARangeIsThatOfItsCentralEightyPercent) {
  // Normal distribution: 80 % lies within 1.2816 standard deviations.
  EXPECT_NEAR(rangeU({1.0, -1.2815515655446004, 1.2815515655446004}), 1.0, 1e-15);
}

TEST(Spread, StudentQuantilesAreTheTabulatedOnes) {
  // t(0.9) of 5 and 10, t(0.975) of 4 degrees of freedom: any table, three decimals.
  EXPECT_NEAR(studentQuantile(0.9, 5), 1.476, 5e-4);
  EXPECT_NEAR(studentQuantile(0.9, 10), 1.372, 5e-4);
  EXPECT_NEAR(studentQuantile(0.975, 4), 2.776, 5e-4);
}

TEST(Spread, ShareAndQuantileOfLikelyValuesAreInverse) {
  std::vector<double> values;
  for (int k = 0; k < 64; ++k) values.push_back(k * k);
  for (const double share : {0.05, 0.1, 0.37, 0.5, 0.9}) {
    EXPECT_NEAR(likelyShare(values, likelyQuantile(values, share)), share, 1e-12);
  }
  EXPECT_EQ(likelyShare(values, -1.0), 0.0);
  EXPECT_EQ(likelyShare(values, 1e9), 1.0);
  EXPECT_EQ(likelyQuantile(values, 1e-9), 0.0);
}

TEST(Spread, WhatMayNeverHappenKeepsItsShare) {
  const double never = std::numeric_limits<double>::infinity();
  const std::vector<double> values = {10.0, 20.0, never, never};
  EXPECT_EQ(likelyShare(values, 1e12), 0.5);
  EXPECT_EQ(likelyQuantile(values, 0.9), never);
  EXPECT_EQ(likelyQuantile(values, 0.125), 10.0);
}

}  // namespace
}  // namespace swardwalk::infill
