#include "common/infill/growing_time.h"

#include <gtest/gtest.h>

namespace swardwalk::infill {
namespace {

// Days 100 to 103 at half pace, still, double pace; before and after as now.
const GrowingTime time(100.0, {0.5, 0.0, 2.0}, 1.0);

TEST(GrowingTime, CountsDaysByTheirPace) {
  EXPECT_DOUBLE_EQ(time.between_d(100.0, 103.0), 2.5);
  EXPECT_DOUBLE_EQ(time.between_d(98.0, 100.5), 2.25);
  EXPECT_DOUBLE_EQ(time.between_d(101.0, 102.0), 0.0);
  EXPECT_DOUBLE_EQ(time.between_d(102.5, 110.0), 8.0);
  EXPECT_DOUBLE_EQ(time.between_d(103.0, 100.0), -2.5);
}

TEST(GrowingTime, FindsTheDayByWhichSoMuchHasGrown) {
  for (const double from : {90.0, 100.25, 101.5, 102.9, 200.0}) {
    for (const double growing : {0.1, 0.7, 2.5, 40.0}) {
      const auto day = time.dayAfter(from, growing);
      ASSERT_TRUE(day);
      EXPECT_NEAR(time.between_d(from, *day), growing, 1e-9) << from;
    }
  }
  EXPECT_EQ(time.dayAfter(101.5, 0.0), 101.5);
}

TEST(GrowingTime, NeverComesWhereNothingGrowsAnyMore) {
  const GrowingTime still(100.0, {1.0}, 0.0);
  EXPECT_TRUE(still.dayAfter(100.0, 0.9));
  EXPECT_FALSE(still.dayAfter(100.0, 1.1));
}

}  // namespace
}  // namespace swardwalk::infill
