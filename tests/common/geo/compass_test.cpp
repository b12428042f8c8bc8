#include "common/geo/compass.h"

#include <gtest/gtest.h>

namespace swardwalk::geo {
namespace {

TEST(Compass, BearingsRunClockwiseFromNorth) {
  EXPECT_DOUBLE_EQ(bearing_deg({0, 0}, {0, 5}), 0.0);
  EXPECT_DOUBLE_EQ(bearing_deg({0, 0}, {5, 0}), 90.0);
  EXPECT_DOUBLE_EQ(bearing_deg({0, 0}, {0, -5}), 180.0);
  EXPECT_DOUBLE_EQ(bearing_deg({0, 0}, {-5, 0}), 270.0);
  EXPECT_DOUBLE_EQ(bearing_deg({3, 3}, {3, 3}), 0.0);
  EXPECT_LT(bearing_deg({0, 0}, {-1e-300, 1}), 360.0);
}

TEST(Compass, DistanceIsStraight) { EXPECT_DOUBLE_EQ(distance_m({1, 1}, {4, 5}), 5.0); }

TEST(Compass, WordsCoverAnEighthEach) {
  EXPECT_EQ(compassWord(0.0), "north");
  EXPECT_EQ(compassWord(22.0), "north");
  EXPECT_EQ(compassWord(23.0), "north-east");
  EXPECT_EQ(compassWord(90.0), "east");
  EXPECT_EQ(compassWord(135.0), "south-east");
  EXPECT_EQ(compassWord(180.0), "south");
  EXPECT_EQ(compassWord(225.0), "south-west");
  EXPECT_EQ(compassWord(270.0), "west");
  EXPECT_EQ(compassWord(315.0), "north-west");
  EXPECT_EQ(compassWord(338.0), "north");
  EXPECT_EQ(compassWord(360.0), "north");
  EXPECT_EQ(compassWord(-90.0), "west");
  EXPECT_EQ(compassWord(810.0), "east");
}

}  // namespace
}  // namespace swardwalk::geo
