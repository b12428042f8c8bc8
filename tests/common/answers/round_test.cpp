#include "common/answers/round.h"

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <boost/json.hpp>

#include "tests/common/answers/small_course.h"

namespace swardwalk::answers {
namespace {

using test::CourseBuilder;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::StartsWith;
using turf::Kind;

/// A patch of 1 m2 where it is said, seen on a day.
course::Patch& patchAt(CourseBuilder& course, const std::string& id, double east_m, double north_m,
                       std::string_view seen, Kind kind = Kind::bare,
                       course::Zone zone = course::Zone::green) {
  course::Patch& patch = course.patch(id, zone);
  course.seen(patch, seen, kind, 1.0, 1.0).point = test::place(east_m, north_m);
  return patch;
}

Round roundOn(const CourseBuilder& course, std::string_view on,
              std::optional<geo::Position> from = {}) {
  return round(course.state, course.progress(on), from);
}

std::vector<std::string> patchesOf(const Round& round) {
  std::vector<std::string> names;
  for (const RoundStop& stop : round.stops) names.push_back(stop.patch);
  return names;
}

TEST(Round, WithoutAReasonNothingIsOnTheList) {
  CourseBuilder course;
  patchAt(course, "N1", 5, 5, "2027-04-11");
  const Round round = roundOn(course, "2027-04-12");
  EXPECT_TRUE(round.stops.empty());
  EXPECT_EQ(round.headline, "Nothing asks to be looked at first");
}

TEST(Round, AfterAStormPlacesThatWashedBeforeAndThoseOnTheBank) {
  CourseBuilder course;
  patchAt(course, "N1", 5, 5, "2027-04-10");
  patchAt(course, "N2", 9, 5, "2027-04-10", Kind::washed);
  patchAt(course, "N3", 13, 5, "2027-04-10", Kind::bare, course::Zone::bank);
  course.rain("2027-04-11", 19.9);
  EXPECT_TRUE(roundOn(course, "2027-04-12").stops.empty()) << "less than washes seed off";
  course.rain("2027-04-11", 0.1);
  const Round round = roundOn(course, "2027-04-12");
  ASSERT_THAT(patchesOf(round), testing::UnorderedElementsAre("N2", "N3"));
  for (const RoundStop& stop : round.stops) {
    EXPECT_THAT(stop.why, HasSubstr("20.0 mm fell on 11 April since it was last seen."));
    EXPECT_THAT(stop.why,
                StartsWith(stop.patch == "N2" ? "It washed before" : "It lies on the bank"));
  }
}

TEST(Round, WhoWasSeenSinceTheStormIsNotOnTheList) {
  CourseBuilder course;
  course.rain("2027-04-10", 31.0);
  patchAt(course, "N2", 9, 5, "2027-04-11", Kind::washed);
  EXPECT_TRUE(roundOn(course, "2027-04-12").stops.empty());
}

TEST(Round, AnHourOfHeavyRainIsAStormToo) {
  CourseBuilder course;
  patchAt(course, "N2", 9, 5, "2027-04-10", Kind::washed);
  course.rain("2027-04-11", 12.0, 9.9);
  EXPECT_TRUE(roundOn(course, "2027-04-12").stops.empty());
  course.rain("2027-04-11", 1.0, 10.0);
  EXPECT_EQ(roundOn(course, "2027-04-12").stops.size(), 1U);
}

TEST(Round, SeedThatIsDueOrOverdueUnlessItWasLookedAtToday) {
  CourseBuilder course;
  course.shed();
  course.temperature("2027-03-01", "2027-05-20", 15.0);
  course::Patch& patch = patchAt(course, "N1", 5, 5, "2027-04-01");
  course.sown(patch, "2027-04-01");
  // Creeping bentgrass at 15 C: up after 8 to 15 days.
  EXPECT_TRUE(roundOn(course, "2027-04-07").stops.empty());
  const Round due = roundOn(course, "2027-04-12");
  ASSERT_EQ(due.stops.size(), 1U);
  EXPECT_EQ(due.stops[0].why, "Sown 1 April, due since 9 April: is it up?");
  const Round overdue = roundOn(course, "2027-04-20");
  ASSERT_EQ(overdue.stops.size(), 1U);
  EXPECT_EQ(overdue.stops[0].why, "Sown 1 April, overdue since 16 April: is it up?");
  EXPECT_EQ(overdue.stops[0].weight, Weight::watch);
  course.seen(patch, "2027-04-20", Kind::bare, 1.0, 1.0);
  EXPECT_TRUE(roundOn(course, "2027-04-20").stops.empty());
}

TEST(Round, SeedThatRainMayHaveTakenComesWithItsReason) {
  CourseBuilder course;
  course.shed();
  course::Patch& patch = patchAt(course, "N1", 5, 5, "2027-04-01", Kind::bare, course::Zone::bank);
  course.sown(patch, "2027-04-05", "Ryegrass 26-1", 25.0);
  course.rain("2027-04-09", 24.0, 18.0);
  const Round round = roundOn(course, "2027-04-12");
  ASSERT_EQ(round.stops.size(), 1U);
  EXPECT_EQ(round.stops[0].weight, Weight::stop);
  EXPECT_THAT(round.stops[0].why, HasSubstr("look, and sow again."));
}

TEST(Round, WhatHasNoSizeAndWhatNobodySawForAWeek) {
  CourseBuilder course;
  course::Patch& unmeasured = course.patch("N1");
  course.seen(unmeasured, "2027-04-11", Kind::bare);
  patchAt(course, "N2", 5, 5, "2027-04-06");
  const Round round = roundOn(course, "2027-04-12");
  ASSERT_THAT(patchesOf(round), ElementsAre("N1"));
  EXPECT_EQ(round.stops[0].why, "It has no size yet: measure it.");
  const Round later = roundOn(course, "2027-04-13");
  ASSERT_EQ(later.stops.size(), 2U);
  course.state.course.settings["look_again_after_d"] = 8;
  EXPECT_EQ(roundOn(course, "2027-04-13").stops.size(), 1U);
}

TEST(Round, GoesTheShortWayFromWhereOneStands) {
  CourseBuilder course;
  for (const int at : {12, 3, 20, 7}) {
    patchAt(course, fmt::format("N{}", at), at, 10, "2027-03-01");
  }
  const Round fromWest = roundOn(course, "2027-04-12", test::place(0, 10));
  EXPECT_THAT(patchesOf(fromWest), ElementsAre("N3", "N7", "N12", "N20"));
  EXPECT_NEAR(fromWest.walk_m, 20.0, 1e-6);
  EXPECT_EQ(fromWest.headline, "Four places to look at, 20 m to walk");
  const Round fromEast = roundOn(course, "2027-04-12", test::place(25, 10));
  EXPECT_THAT(patchesOf(fromEast), ElementsAre("N20", "N12", "N7", "N3"));
  EXPECT_NEAR(fromEast.walk_m, 22.0, 1e-6);
  EXPECT_NEAR(roundOn(course, "2027-04-12").walk_m, 17.0, 1e-6) << "begins at an end";
}

TEST(Round, PrintsTheContractsKeysAndNoOthers) {
  CourseBuilder course;
  patchAt(course, "N1", 5, 5, "2027-03-01");
  const auto printed = boost::json::parse(roundJson(roundOn(course, "2027-04-12"))).as_object();
  std::vector<std::string> keys;
  for (const auto& member : printed) keys.emplace_back(member.key());
  EXPECT_THAT(keys, ElementsAre("on", "stops", "walk_m", "incomplete"));
  keys.clear();
  for (const auto& member : printed.at("stops").at(0).as_object()) keys.emplace_back(member.key());
  EXPECT_THAT(keys, ElementsAre("patch", "label", "green", "why"));
  EXPECT_THAT(roundText(roundOn(course, "2027-04-12")), HasSubstr("Not seen for 42 days."));
  EXPECT_THAT(roundCsv(roundOn(course, "2027-04-12")), StartsWith("patch,label,green,why\r\n"));
}

}  // namespace
}  // namespace swardwalk::answers
