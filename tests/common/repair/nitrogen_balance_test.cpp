#include "common/repair/nitrogen_balance.h"

#include <gtest/gtest.h>

#include <cmath>

namespace swardwalk::repair {
namespace {

/// Days of even rain and evaporation from day 0 on.
std::vector<WaterDay> days(int count, double fallen_mm, double evaporated_mm = 0.0) {
  std::vector<WaterDay> out;
  for (int day = 0; day < count; ++day) {
    out.push_back({static_cast<double>(day), fallen_mm, evaporated_mm});
  }
  return out;
}

NitrogenCase fed(double soluble_g_m2) {
  NitrogenCase green;
  green.given.push_back({0.3, soluble_g_m2, 0.0});
  green.today = 4.99;
  return green;
}

TEST(NitrogenBalance, OfFiveGramsAfterTwentyFiveMillimetresIsTheOneOfBurns) {
  // Burns 1975, worked with 40 digits: drainage 2.5 cm, 12 %, 15 cm: 2.474861 of 5 lost.
  NitrogenCase green = fed(5.0);
  green.water = days(5, 5.0);
  const NitrogenBalance balance = nitrogenBalance(green);
  EXPECT_NEAR(balance.drained_mm, 25.0, 1e-9);
  EXPECT_NEAR(balance.washed, 2.474861, 5e-7);
  EXPECT_NEAR(balance.left.value, 2.525139, 5e-7);
  EXPECT_DOUBLE_EQ(balance.given, 5.0);
}

TEST(NitrogenBalance, OfAFeedingBeforeAHundredAndFiftyMillimetresLeavesLittle) {
  // Common practice, no source: 1.5 g/m2 of soluble nitrogen, then 150 mm in five days: 0
  // to 25 % are left.
  NitrogenCase green = fed(1.5);
  green.water = days(5, 30.0, 3.0);
  const NitrogenBalance balance = nitrogenBalance(green);
  EXPECT_GT(balance.left.value, 0.0);
  EXPECT_LT(balance.left.value / 1.5, 0.25);
  EXPECT_GT(*balance.left.u, 0.0);
}

TEST(NitrogenBalance, OfDryDaysLosesNothing) {
  NitrogenCase green = fed(0.7);
  green.water = days(5, 2.0, 4.0);
  const NitrogenBalance balance = nitrogenBalance(green);
  EXPECT_EQ(balance.washed, 0.0);
  EXPECT_DOUBLE_EQ(balance.left.value, 0.7);
}

TEST(NitrogenBalance, FillsADryRootzoneBeforeAnythingRunsThrough) {
  NitrogenCase green = fed(1.0);
  green.water = {{0, 0, 5}, {1, 0, 5}, {2, 8, 0}, {3, 0, 0}};
  EXPECT_EQ(nitrogenBalance(green).drained_mm, 0.0);
  green.water[2].fallen_mm = 12.0;
  EXPECT_NEAR(nitrogenBalance(green).drained_mm, 2.0, 1e-9);
}

TEST(NitrogenBalance, ClippingsTakeFromWhatIsLeftAndNoMore) {
  NitrogenCase green = fed(1.0);
  green.water = days(5, 0.0);
  green.taken = {{1.4, 0.3}, {2.4, 0.3}};
  EXPECT_NEAR(nitrogenBalance(green).taken, 0.6, 1e-12);
  EXPECT_NEAR(nitrogenBalance(green).left.value, 0.4, 1e-12);
  green.taken.push_back({3.4, 2.0});
  EXPECT_NEAR(nitrogenBalance(green).taken, 1.0, 1e-12);
  EXPECT_NEAR(nitrogenBalance(green).left.value, 0.0, 1e-12);
}

TEST(NitrogenBalance, ASlowFeedComesFreeOverItsTime) {
  NitrogenCase green;
  green.given.push_back({0.0, 0.0, 5.6});
  green.water = days(60, 0.0);
  green.today = 13.99;
  EXPECT_NEAR(nitrogenBalance(green).left.value, 1.4, 1e-9) << "14 of 56 days";
  EXPECT_NEAR(nitrogenBalance(green).unreleased, 5.6 * (1 - 13.99 / 56), 1e-9);
  green.today = 59.0;
  EXPECT_NEAR(nitrogenBalance(green).left.value, 5.6, 1e-9);
  EXPECT_EQ(nitrogenBalance(green).unreleased, 0.0);
}

TEST(NitrogenBalance, SumsCountFromTheirDayButAllIsFollowed) {
  NitrogenCase green;
  green.given = {{0.0, 1.0, 0.0}, {10.0, 0.5, 0.0}};
  green.water = days(20, 0.0);
  green.water[2].fallen_mm = 40.0;
  green.water[12].fallen_mm = 40.0;
  green.today = 19.0;
  green.from = 8.0;
  const NitrogenBalance balance = nitrogenBalance(green);
  EXPECT_DOUBLE_EQ(balance.given, 0.5);
  EXPECT_DOUBLE_EQ(balance.drained_mm, 40.0);
  EXPECT_LT(balance.left.value, 1.5 - balance.washed) << "the first rain took some before";
}

TEST(NitrogenBalance, NothingThatIsGivenIsLostFromTheBooks) {
  NitrogenCase green;
  green.given = {{0.0, 1.0, 0.6}, {10.0, 0.5, 0.0}};
  green.water = days(30, 4.0, 1.0);
  green.taken = {{5.0, 0.1}, {15.0, 0.2}};
  green.today = 29.99;
  const NitrogenBalance balance = nitrogenBalance(green);
  // A slow feed is counted by whole days, so that half a day's share may be on both sides.
  EXPECT_NEAR(balance.given,
              balance.taken + balance.washed + balance.left.value + balance.unreleased, 0.6 / 56);
}

TEST(NitrogenBalance, OfSixtyLitresFromFiveHundredSquareMetres) {
  // Common practice, no source: 120 mL/m2, 0.2 to 0.4 g of nitrogen. By 60 g dry a litre
  // and 4 % (asianturfgrass.com, growth ratio): 12 mL/m2 are 0.0288, 50 mL/m2 0.12 g/m2.
  const double nitrogen =
      clippedNitrogen_g_m2(60.0, 500.0, clippingsDry_g_l, clippingsNitrogenShare);
  EXPECT_NEAR(nitrogen, 0.288, 1e-12);
  EXPECT_NEAR(clippedNitrogen_g_m2(6.0, 500.0, clippingsDry_g_l, clippingsNitrogenShare), 0.0288,
              1e-12);
  EXPECT_NEAR(clippedNitrogen_g_m2(25.0, 500.0, clippingsDry_g_l, 0.04), 0.12, 1e-12);
  EXPECT_NEAR(clippedNitrogen_g_m2(25.0, 500.0, clippingsDry_g_l, 0.045), 0.135, 1e-12);
}

}  // namespace
}  // namespace swardwalk::repair
