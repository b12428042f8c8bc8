#include "common/geo/thinning.h"

#include <gtest/gtest.h>

#include <cmath>

#include "common/geo/outline.h"
#include "common/geo/tape.h"

namespace swardwalk::geo {
namespace {

TEST(Thinned, PointsOnStraightEdgesGo) {
  const LocalRing ring = {{0, 0}, {1, 0}, {2, 0}, {2, 1}, {2, 2}, {1, 2}, {0, 2}, {0, 1}};
  const LocalRing corners = thinned(ring, 1e-6);
  EXPECT_EQ(corners, (LocalRing{{0, 0}, {2, 0}, {2, 2}, {0, 2}}));
}

TEST(Thinned, NoPointLiesFartherOffThanTheTolerance) {
  const LocalRing ring = tapeRing(TapeForm::ellipse, 4.0, 2.0, 720);
  const LocalRing few = thinned(ring, 0.01);
  EXPECT_LT(few.size(), 60U);
  // What a chord cuts off is at most two thirds of tolerance times its length.
  EXPECT_NEAR(signedArea_m2(few), signedArea_m2(ring), 0.01 * 9.7 * 2.0 / 3.0);
  EXPECT_LT(signedArea_m2(few), signedArea_m2(ring));
}

TEST(Thinned, NeverLeavesFewerThanThreePoints) {
  EXPECT_GE(thinned({{0, 0}, {1, 0}, {1, 1}, {0, 1}}, 100.0).size(), 3U);
  EXPECT_EQ(thinned({{0, 0}, {1, 0}}, 100.0).size(), 2U);
  EXPECT_TRUE(thinned({}, 1.0).empty());
}

TEST(ThinnedTo, FewPointsComeBackAsTheyAre) {
  const LocalShape shape = {{tapeRing(TapeForm::ellipse, 4.0, 2.0, 100), {}}};
  EXPECT_EQ(thinnedTo(shape, 100)[0].outer, shape[0].outer);
}

TEST(ThinnedTo, ManyBecomeAsFewAsWanted) {
  const LocalShape shape = {
      {tapeRing(TapeForm::ellipse, 4.0, 2.0, 3000), {tapeRing(TapeForm::ellipse, 1.0, 1.0, 3000)}}};
  const LocalShape few = thinnedTo(shape, 240);
  EXPECT_LE(few[0].outer.size() + few[0].holes[0].size(), 240U);
  EXPECT_NEAR(area_m2(few), area_m2(shape), 1e-2 * area_m2(shape));
}

}  // namespace
}  // namespace swardwalk::geo
