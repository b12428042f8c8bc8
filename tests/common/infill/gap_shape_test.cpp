#include "common/infill/gap_shape.h"

#include <gtest/gtest.h>

#include <cmath>

#include "outlines.h"

namespace swardwalk::infill {
namespace {

TEST(GapShape, WithoutOutlineIsADisc) {
  const auto disc = GapShape::of(nullptr, M_PI * 0.25);  // radius 0.5 m
  ASSERT_TRUE(disc);
  EXPECT_NEAR(disc->closingInset_m(), 0.5, 1e-12);
  EXPECT_NEAR(disc->area_m2(0.25), M_PI * 0.0625, 1e-12);
  EXPECT_NEAR(disc->inset_m(M_PI * 0.0625), 0.25, 1e-12);
  EXPECT_NEAR(disc->edge_m(0.25), 2.0 * M_PI * 0.25, 1e-12);
  EXPECT_EQ(disc->area_m2(0.6), 0.0);
  EXPECT_EQ(disc->inset_m(0.0), disc->closingInset_m());
}

TEST(GapShape, AtHalfTimeThreeQuartersOfADiscAreClosed) {
  // Reference values (more), section 7.
  const auto disc = GapShape::of(nullptr, 0.3);
  EXPECT_NEAR(disc->area_m2(0.5 * disc->closingInset_m()) / 0.3, 0.25, 1e-12);
}

TEST(GapShape, NarrowScarClosesByHalfItsWidth) {
  const geo::InsetCurve curve(rectangle(2.0, 0.06));
  const auto scar = GapShape::of(&curve, 0.12);
  ASSERT_TRUE(scar);
  EXPECT_NEAR(scar->closingInset_m(), 0.03, 0.001);
  // (2 - 0.02) x (0.06 - 0.02) m2 at 10 mm; the grid of the curve is good to 2 %.
  EXPECT_NEAR(scar->area_m2(0.01), 1.98 * 0.04, 0.02 * 0.12);
  EXPECT_NEAR(scar->edge_m(0.0), 4.12, 0.25);
}

TEST(GapShape, OutlineSmallerThanTheLargestSizeIsEnlargedToIt) {
  const geo::InsetCurve curve(rectangle(1.0, 0.5));
  const auto twice = GapShape::of(&curve, 4 * 0.5);
  ASSERT_TRUE(twice);
  EXPECT_NEAR(twice->closingInset_m(), 0.5, 0.01);
  EXPECT_NEAR(twice->area_m2(0.0), 2.0, 0.02);
  EXPECT_NEAR(twice->inset_m(twice->area_m2(0.1)), 0.1, 0.005);
}

TEST(GapShape, NothingToGoByIsNoShape) {
  EXPECT_FALSE(GapShape::of(nullptr, 0.0));
  EXPECT_FALSE(GapShape::of(nullptr, std::nan("")));
}

}  // namespace
}  // namespace swardwalk::infill
