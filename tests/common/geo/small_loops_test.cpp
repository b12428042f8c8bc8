#include "common/geo/small_loops.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace swardwalk::geo {
namespace {

using testing::ElementsAre;

/// A square of 10 m whose southern edge makes a loop of 0.8 m at its middle.
const LocalRing looped = {{0, 0},      {5.1, 0}, {5.1, 0.2}, {4.9, 0.2},
                          {4.9, -0.1}, {10, 0},  {10, 10},   {0, 10}};

TEST(SmallLoops, AreCutWhereTheRingComesBackAcrossItself) {
  // The way down crosses the southern edge: three points of the loop go.
  EXPECT_THAT(keptWithoutSmallLoops(looped, 1.0), ElementsAre(0, 4, 5, 6, 7));
}

TEST(SmallLoops, LongerOnesStay) {
  EXPECT_THAT(keptWithoutSmallLoops(looped, 0.1), ElementsAre(0, 1, 2, 3, 4, 5, 6, 7));
}

TEST(SmallLoops, AreCutAlsoWhereTheRingCloses) {
  // Walked a little over its start: the last edge crosses the first one.
  const LocalRing ring = {{5, 0.1}, {5.3, -0.1}, {10, 0}, {10, 10}, {0, 10}, {0, 0}, {5.4, 0.05}};
  EXPECT_THAT(keptWithoutSmallLoops(ring, 1.0), ElementsAre(1, 2, 3, 4, 5));
}

TEST(SmallLoops, AFigureOfEightIsLeftAlone) {
  const LocalRing eight = {{0, 0}, {4, 4}, {4, 0}, {0, 4}};
  EXPECT_THAT(keptWithoutSmallLoops(eight, 1.0), ElementsAre(0, 1, 2, 3));
  EXPECT_THAT(keptWithoutSmallLoops({}, 1.0), ElementsAre());
}

}  // namespace
}  // namespace swardwalk::geo
