#include "common/turf/water.h"

#include <gtest/gtest.h>

#include <cmath>

namespace swardwalk::turf {
namespace {

// FAO Irrigation and Drainage Paper 56 (Allen et al. 1998), worked examples; the further
// digits were computed from its equations with 40 digits.

TEST(Evaporation, RadiationOfExampleEight) {
  // 20 degrees south, 3 September: printed 32.2.
  EXPECT_NEAR(radiation_MJ_m2(-20.0, 246), 32.193996, 5e-7);
}

TEST(Evaporation, RadiationPublishedForTwoOtherPlaces) {
  // ncl.ucar.edu, radsol_clrsky_fao56 and refevt_hargreaves_fao56.
  EXPECT_NEAR(radiation_MJ_m2(-22.9, 135), 25.111, 5e-4);
  EXPECT_NEAR(0.408 * radiation_MJ_m2(45.72, 196), 16.5463, 5e-5);
}

TEST(Evaporation, OfExampleTwenty) {
  // Lyon in July, 26.6 and 14.8 C: printed 5.0.
  EXPECT_NEAR(referenceEvaporation_mm(45.0 + 43.0 / 60.0, 196, 14.8, 26.6), 5.033055, 5e-5);
}

TEST(Evaporation, WorkedInFull) {
  EXPECT_NEAR(referenceEvaporation_mm(-20.0, 246, 14.0, 28.0), 4.385899, 5e-7);
  EXPECT_NEAR(referenceEvaporation_mm(51.5, 172, 10.0, 20.0), 4.060549, 5e-7);
}

TEST(Evaporation, HasNoSquareRootOfNothing) {
  EXPECT_EQ(referenceEvaporation_mm(50.0, 172, 20.0, 10.0), 0.0);
  EXPECT_EQ(referenceEvaporation_mm(50.0, 172, -30.0, -25.0), 0.0);
  EXPECT_EQ(radiation_MJ_m2(80.0, 355), 0.0) << "polar night";
  // 67 degrees north at midsummer: the sun does not set.
  EXPECT_TRUE(std::isfinite(radiation_MJ_m2(67.0, 172)));
  EXPECT_GT(radiation_MJ_m2(67.0, 172), 40.0);
}

TEST(WashedDown, FollowsBurns) {
  // f = [P/(P + Vm/100)]^h, computed with 40 digits.
  struct Row {
    double drained_cm, holds_percent, roots_cm, share;
  };
  for (const Row& row :
       {Row{1, 12, 10, 0.321973237}, Row{2.5, 12, 15, 0.494972146}, Row{5, 12, 15, 0.700649232}}) {
    EXPECT_NEAR(washedDown(10 * row.drained_cm, 10 * row.roots_cm, row.holds_percent / 100),
                row.share, 5e-10);
  }
  EXPECT_EQ(washedDown(0.0, 100.0, 0.15), 0.0);
}

TEST(WashedDown, HalfIsGoneAfterTheDrainageThatItsInverseNames) {
  for (const auto& [drained_cm, share] :
       {std::pair{0.678563, 0.05}, std::pair{0.904081, 0.1}, std::pair{3.171641, 0.5}}) {
    EXPECT_NEAR(washedDown(10 * drained_cm, 150.0, 0.15), share, 5e-7);
  }
}

}  // namespace
}  // namespace swardwalk::turf
