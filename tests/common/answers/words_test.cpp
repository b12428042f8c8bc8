#include <gtest/gtest.h>

#include <cmath>
#include <fstream>
#include <iterator>

#include "common/answers/sentences.h"
#include "common/answers/settings.h"
#include "tests/common/answers/small_course.h"

namespace swardwalk::answers {
namespace {

using test::date;

TEST(Words, CountsUpToTwelveAreWords) {
  EXPECT_EQ(count(1), "one");
  EXPECT_EQ(count(12), "twelve");
  EXPECT_EQ(count(13), "13");
  EXPECT_EQ(counted(1, "day", "days"), "one day");
  EXPECT_EQ(counted(21, "day", "days"), "21 days");
}

TEST(Words, LongSpansAreSaidInWeeksAndMonths) {
  EXPECT_EQ(duration(1), "one day");
  EXPECT_EQ(duration(20), "20 days");
  EXPECT_EQ(duration(48), "seven weeks");
  EXPECT_EQ(duration(244), "eight months");
}

TEST(Words, WhatIsYearsAwayHasNoDay) {
  EXPECT_EQ(duration(2700), "seven years");
  EXPECT_EQ(onWords(date("2027-07-02"), date("2027-04-12")), "on 2 July");
  EXPECT_EQ(onWords(date("2034-10-21"), date("2027-04-12")), "in 2034");
  EXPECT_EQ(byWords(date("2034-10-21"), date("2027-04-12")), "in 2034");
}

TEST(Words, AnotherYearIsNamed) {
  EXPECT_EQ(dateWords(date("2027-05-20"), date("2027-04-12")), "20 May");
  EXPECT_EQ(dateWords(date("2028-05-20"), date("2027-04-12")), "20 May 2028");
}

TEST(Words, WeekdayOfALongDate) { EXPECT_EQ(longDate(date("2027-04-12")), "Monday 12 April 2027"); }

TEST(Words, ListsEndWithAnd) {
  EXPECT_EQ(listed({}), "");
  EXPECT_EQ(listed({"one"}), "one");
  EXPECT_EQ(listed({"one", "two", "three"}), "one, two and three");
}

TEST(Words, HeadingsTakeTheGreensName) {
  EXPECT_EQ(headingOf("N7", "North"), "North 7");
  EXPECT_EQ(headingOf("H12b", "Hollow"), "Hollow 12b");
  EXPECT_EQ(headingOf("X7", "North"), "X7");
  EXPECT_EQ(headingOf("7", "North"), "7");
  EXPECT_EQ(headingOf("", "North"), "");
}

TEST(Words, NumbersInLabelsSortAsNumbers) {
  EXPECT_TRUE(naturalLess("N2", "N10"));
  EXPECT_FALSE(naturalLess("N10", "N2"));
  EXPECT_TRUE(naturalLess("H12", "H12b"));
  EXPECT_FALSE(naturalLess("N7", "N7"));
}

TEST(Settings, ACoursesOwnValueGoesBeforeTheDefault) {
  const Settings settings({{"soluble_n_g_m2", 1.2}});
  EXPECT_EQ(settings["soluble_n_g_m2"], 1.2);
  EXPECT_TRUE(settings.changed("soluble_n_g_m2"));
  EXPECT_TRUE(settings.notes().empty());
  EXPECT_EQ(Settings({})["soluble_n_g_m2"], 0.7);
}

TEST(Settings, UnknownNamesAndValuesOutOfRangeAreSaidAndLeftOut) {
  const Settings settings({{"soluble_n_g_m2", -1.0}, {"moon_phase", 3.0}});
  EXPECT_EQ(settings["soluble_n_g_m2"], 0.7);
  ASSERT_EQ(settings.notes().size(), 2U);
  EXPECT_NE(settings.notes()[0].find("moon_phase"), std::string::npos);
  EXPECT_NE(settings.notes()[1].find("0.7"), std::string::npos);
}

TEST(Settings, TheTableStandsInItsDocument) {
  std::ifstream file(SWARDWALK_SOURCE "/common/answers/SETTINGS.md");
  const std::string document((std::istreambuf_iterator<char>(file)), {});
  EXPECT_NE(document.find(settingsTable()), std::string::npos) << "SETTINGS.md must hold:\n"
                                                               << settingsTable();
}

TEST(Settings, EveryDefaultLiesInItsRangeAndHasAnOrigin) {
  for (const Setting& setting : allSettings()) {
    if (!std::isnan(setting.standard)) {  // else nothing is assumed
      EXPECT_LE(setting.low, setting.standard) << setting.name;
      EXPECT_GE(setting.high, setting.standard) << setting.name;
    }
    EXPECT_FALSE(setting.origin.empty()) << setting.name;
    EXPECT_FALSE(setting.unit.empty()) << setting.name;
  }
}

}  // namespace
}  // namespace swardwalk::answers
