#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "tests/common/course/devices.h"

namespace swardwalk::course {
namespace {

std::string sighting(std::string_view patch, std::string_view seen, std::string_view more = "") {
  return fmt::format(R"({{"patch":"{}","kind":"bare","seen":"{}"{}}})", patch, seen, more);
}

/// The groups as text: "A+B C".
std::string groupsOf(const CourseState& state) {
  std::string text;
  for (const Patch& patch : state.patches) {
    if (!text.empty()) text += ' ';
    text += patch.id;
    for (const std::string& id : patch.joined) text += '+' + id;
  }
  return text;
}

class Patches : public testing::Test {
 protected:
  void make(std::initializer_list<const char*> ids) {
    for (const char* id : ids)
      device.write("sighting", sighting(id, "2027-04-10T06:00:00Z"), point(1, 1));
  }
  journal::Record join(std::string_view a, std::string_view b) {
    return device.write("join", fmt::format(R"({{"patch":"{}","same_as":"{}"}})", a, b));
  }
  Device device{1, nullptr};
};

TEST_F(Patches, JoinsRunOnOverOthersUnderTheSmallestIdentity_X4) {
  make({"A", "B", "C", "D"});
  join("C", "B");
  EXPECT_EQ(groupsOf(device.state()), "A B+C D");
  join("D", "C");
  join("B", "A");
  EXPECT_EQ(groupsOf(device.state()), "A+B+C+D");
  EXPECT_EQ(device.state().patch("D")->id, "A");
}

TEST_F(Patches, JoinsAreUndoneInAnyOrder_X4) {
  // What is left depends on which joins stand, not on the order of undoing.
  const std::string expected = "A B C";
  for (const auto& order : {std::vector<int>{0, 1}, std::vector<int>{1, 0}}) {
    Device own(1, nullptr);
    for (const char* id : {"A", "B", "C"})
      own.write("sighting", sighting(id, "2027-04-10T06:00:00Z"), point(1, 1));
    const std::vector<journal::Record> joins{own.write("join", R"({"patch":"A","same_as":"B"})"),
                                             own.write("join", R"({"patch":"B","same_as":"C"})")};
    EXPECT_EQ(groupsOf(own.state()), "A+B+C");
    own.recorder().withdraw(joins[static_cast<std::size_t>(order[0])].digest, "").value();
    EXPECT_EQ(groupsOf(own.state()), order[0] == 0 ? "A B+C" : "A+B C");
    own.recorder().withdraw(joins[static_cast<std::size_t>(order[1])].digest, "").value();
    EXPECT_EQ(groupsOf(own.state()), expected);
  }
}

TEST_F(Patches, APatchNamesTheDecisionsThatMadeItOneUntilTheyAreTakenBack_X4) {
  make({"A", "B", "C"});
  const auto first = join("C", "B");
  const auto second = join("A", "B");
  const CourseState state = device.state();
  ASSERT_EQ(state.patches.size(), 1U);
  ASSERT_EQ(state.patches[0].joins.size(), 2U);
  EXPECT_EQ(state.patches[0].joins.back().source.digest, second.digest);
  device.recorder().withdraw(second.digest, "").value();
  EXPECT_TRUE(device.state().patch("A")->joins.empty());
  ASSERT_EQ(device.state().patch("B")->joins.size(), 1U);
  EXPECT_EQ(device.state().patch("B")->joins[0].source.digest, first.digest);
}

TEST_F(Patches, ARingOfJoinsIsOneGroup) {
  make({"A", "B", "C"});
  join("A", "B");
  join("B", "C");
  const auto third = join("C", "A");
  EXPECT_EQ(groupsOf(device.state()), "A+B+C");
  device.recorder().withdraw(third.digest, "").value();
  EXPECT_EQ(groupsOf(device.state()), "A+B+C");
}

TEST_F(Patches, WhatNamesAPatchThatNobodyMadeIsListedUntilItIsMade_J6) {
  device.write("closed", R"({"patch":"Z","seen":"2027-04-11T06:00:00Z"})");
  device.write("repair", R"({"patch":"Z","done":"2027-04-11T06:00:00Z"})");
  device.write("came_up", R"({"patch":"Z","seen":"2027-04-11T06:00:00Z"})");
  device.write("choice", R"({"patch":"Z","choice":"turf"})");
  make({"A"});
  join("A", "Z");
  CourseState state = device.state();
  ASSERT_EQ(state.unusable.size(), 5u);
  for (const Unusable& unusable : state.unusable)
    EXPECT_EQ(unusable.reason, "a patch that nobody made: \"Z\"");
  make({"Z"});
  state = device.state();
  EXPECT_TRUE(state.unusable.empty());
  EXPECT_EQ(groupsOf(state), "A+Z");
  EXPECT_EQ(state.patches[0].repairs.size(), 1u);
}

TEST_F(Patches, BelongToTheGreenThatIsSaidElseToWhereTheyLie) {
  device.write("green", R"({"name":"North"})", square(0, 0, 20));
  device.write("green", R"({"name":"South"})", square(100, 0, 20));
  device.write("surround", R"({"green":"South","zone":"apron"})", square(120, 0, 5));
  const std::string day = "2027-04-10T06:00:00Z";
  device.write("sighting", sighting("said", day, R"(,"green":"North")"), point(110, 5));
  device.write("sighting", sighting("inside", day), point(110, 5));
  device.write("sighting", sighting("apron", day), point(122, 2));
  device.write("sighting", sighting("far", day), point(60, 60));
  const CourseState state = device.state();
  EXPECT_EQ(state.patch("said")->green, "North");
  EXPECT_EQ(state.patch("inside")->green, "South");
  EXPECT_EQ(state.patch("inside")->zone, Zone::green);
  EXPECT_EQ(state.patch("apron")->green, "South");
  EXPECT_EQ(state.patch("apron")->zone, Zone::apron);
  EXPECT_EQ(state.patch("far")->green, "");
}

TEST_F(Patches, TakeKindAndLabelFromTheLastSightingThatGivesThem) {
  device.write("sighting",
               R"({"patch":"P","kind":"dug","label":"N4","seen":"2027-04-11T06:00:00Z"})",
               point(1, 1));
  device.write("sighting", R"({"patch":"P","kind":"washed","seen":"2027-04-12T06:00:00Z"})",
               point(1, 1));
  device.write("sighting",
               R"({"patch":"P","kind":"bare","label":"N1","seen":"2027-04-10T06:00:00Z"})",
               point(1, 1));
  const CourseState state = device.state();
  EXPECT_EQ(state.patches.at(0).kind, turf::Kind::washed);
  EXPECT_EQ(state.patches.at(0).label, "N4");
  make({"Q"});
  EXPECT_EQ(device.state().patch("Q")->label, "Q");
}

TEST_F(Patches, LieWhereTheTapesFromMarksMeet) {
  device.write("green", R"({"name":"North"})", square(0, 0, 25));
  device.write("mark", R"({"name":"a"})", point(0, 0));
  device.write("mark", R"({"name":"b"})", point(20, 0));
  device.write("mark", R"({"name":"c"})", point(0, 20));
  const auto tapes = [](double a, double b, const char* third) {
    return fmt::format(
        R"(,"tapes":[{{"mark":"a","distance_m":{}}},{{"mark":"b","distance_m":{}}}{}])", a, b,
        third);
  };
  const std::string day = "2027-04-10T06:00:00Z";
  const double diagonal_m = std::sqrt(200.0);
  device.write("sighting",
               sighting("three", day,
                        tapes(diagonal_m, diagonal_m, R"(,{"mark":"c","distance_m":14.142})")));
  device.write("sighting",
               sighting("two", day, tapes(diagonal_m, diagonal_m, "") + R"(,"green":"North")"));
  device.write("sighting", sighting("unclear", day, tapes(diagonal_m, diagonal_m, "")));
  device.write("sighting", sighting("apart", day, tapes(3, 4, "")));
  const CourseState state = device.state();
  for (const char* id : {"three", "two"}) {
    const auto place = state.patch(id)->sightings.at(0).point;
    ASSERT_TRUE(place) << id;
    // A centimetre is 9e-8 degrees of latitude; the third tape is read to a millimetre.
    EXPECT_NEAR(place->latitude_deg, 52.0 + 10.0 / 111'267.0, 9e-8) << id;
    EXPECT_NEAR(place->longitude_deg, 5.0 + 10.0 / 68'677.0, 15e-8) << id;
  }
  EXPECT_FALSE(state.patch("unclear")->sightings.at(0).point) << "two places fit";
  EXPECT_FALSE(state.patch("apart")->sightings.at(0).point) << "the tapes do not meet";
  EXPECT_EQ(state.patch("three")->green, "North");
}

TEST_F(Patches, ARoughPositionSaysOnWhichSideOfTheMarksTheTapesMeet) {
  device.write("mark", R"({"name":"a"})", point(0, 0));
  device.write("mark", R"({"name":"b"})", point(20, 0));
  const std::string tapes =
      R"(,"tapes":[{"mark":"a","distance_m":12},{"mark":"b","distance_m":16}],"accuracy_m":3)";
  const std::string day = "2027-04-10T06:00:00Z";
  device.write("sighting", sighting("south", day, tapes), point(9, -7));
  device.write("sighting", sighting("far", day, tapes), point(9, -70));
  const CourseState state = device.state();
  const Sighting& south = state.patch("south")->sightings.at(0);
  EXPECT_NEAR(south.point->latitude_deg, 52.0 - 9.6 / 111'267.0, 9e-8);
  // At a right angle: 31 and 38 mm from the tapes, 30 mm from each mark.
  EXPECT_NEAR(south.accuracy_m.value(), 0.046, 0.002);
  EXPECT_EQ(south.tapes.size(), 2u) << "what was read is kept";
  const Sighting& far = state.patch("far")->sightings.at(0);
  EXPECT_NEAR(far.point->latitude_deg, 52.0 - 70.0 / 111'267.0, 9e-7) << "contradicts: left alone";
  EXPECT_EQ(far.accuracy_m, 3.0);
}

}  // namespace
}  // namespace swardwalk::course
