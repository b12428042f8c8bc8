#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>

#include "common/answers/growth.h"
#include "tests/common/answers/small_course.h"

// How a sowing's days add up over warm and cold ones.
namespace swardwalk::answers {
namespace {

using test::CourseBuilder;
using test::date;

/// The last moment of a day is a millisecond before the next.
constexpr double rounding_d = 1e-7;

/// Ryegrass sown at the begin of 1 April, asked on 20 April.
std::optional<turf::Range> daysUp(CourseBuilder& course, std::string_view grass = "ryegrass") {
  const measure::Date on = date("2027-04-20");
  const Calendar calendar(course.state, on);
  const Settings settings(course.state.course.settings);
  const Seasons seasons(course.state, calendar, settings);
  return seasons.daysUntilUp(*settings.grass(grass), calendar.beginOf(date("2027-04-01")));
}

TEST(SowingDays, AtOneTemperatureAreThoseOfTheTable) {
  CourseBuilder course;
  course.temperature("2027-03-20", "2027-04-20", 10.0);
  const auto days = daysUp(course);
  ASSERT_TRUE(days);
  EXPECT_NEAR(days->best, 13.0, rounding_d);
  EXPECT_NEAR(days->low, 10.0, rounding_d);
  EXPECT_NEAR(days->high, 18.0, rounding_d);
}

TEST(SowingDays, WarmDaysTakeItFartherThanColdOnes) {
  CourseBuilder course;
  course.temperature("2027-04-01", "2027-04-04", 20.0);
  course.temperature("2027-04-05", "2027-04-20", 10.0);
  // Four days of six, and a third of thirteen.
  EXPECT_NEAR(daysUp(course)->best, 4.0 + 13.0 / 3.0, rounding_d);
}

TEST(SowingDays, AgreeWithSixtyFourDegreeDaysAboveThreePointSix) {
  // Larsen & Bibby 2005: half of the ryegrass is up after 64 degree-days above 3.6 C; in the
  // field two or three days more are needed until it is seen (common practice, no source).
  CourseBuilder course;
  const double means_c[] = {9.0, 14.0, 11.0, 17.0, 12.5, 10.0, 15.0, 13.0, 16.0, 12.0, 14.0, 12.0};
  double sum = 0.0;
  double days_d = 0.0;
  for (int i = 0; i < 12; ++i) {
    const std::string day = fmt::format("2027-04-{:02}", i + 1);
    course.temperature(day, day, means_c[i]);
    if (sum < 64.0) {
      days_d += std::min(1.0, (64.0 - sum) / (means_c[i] - 3.6));
      sum += means_c[i] - 3.6;
    }
  }
  course.temperature("2027-04-13", "2027-04-20", 12.0);
  const double later_d = daysUp(course)->best - days_d;
  EXPECT_GT(later_d, 1.5);
  EXPECT_LT(later_d, 3.5);
}

TEST(SowingDays, ColdDaysDoNotTakeItAnyFarther) {
  CourseBuilder course;
  course.temperature("2027-04-01", "2027-04-10", 3.0);
  course.temperature("2027-04-11", "2027-04-20", 20.0);
  EXPECT_NEAR(daysUp(course)->best, 10.0 + 6.0, rounding_d);
}

TEST(SowingDays, NothingWhereItNeverGetsWarmEnough) {
  CourseBuilder course;
  course.temperature("2027-04-01", "2027-04-20", 6.0);
  EXPECT_FALSE(daysUp(course, "creeping bentgrass"));
}

TEST(SowingDays, WhatIsStillToComeHasTheMeanOfTheLastFortnight) {
  CourseBuilder course;
  course.temperature("2027-04-01", "2027-04-20", 10.0);
  // Bentgrass: 20 days of 20, the high end eight days ahead.
  EXPECT_NEAR(daysUp(course, "creeping bentgrass")->high, 28.0, rounding_d);
}

TEST(SowingDays, WithoutAThermometerTheRangeIsThatOfAllSeasons) {
  CourseBuilder course;
  const auto days = daysUp(course);
  EXPECT_EQ(days->best, 8.0);
  EXPECT_EQ(days->low, 4.0);
  EXPECT_EQ(days->high, 18.0);
}

}  // namespace
}  // namespace swardwalk::answers
