#include "common/answers/same_patch.h"

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/common/answers/small_course.h"

namespace swardwalk::answers::test {
namespace {

using testing::HasSubstr;
using turf::Kind;

PatchFinder finderOf(const CourseBuilder& course,
                     measure::UnitSystem units = measure::UnitSystem::metric) {
  return PatchFinder(
      course.state, [](const course::Patch&) { return true; }, units);
}

class SamePatchTest : public testing::Test {
 protected:
  course::Patch& add(const std::string& id, double east_m, double north_m, double u_m,
                     Kind kind = Kind::dug, const std::string& device = "Tablet a") {
    course::Patch& patch = course.patch(id);
    course::Sighting& sighting = course.seen(patch, "2027-04-01", kind);
    sighting.point = place(east_m, north_m);
    sighting.accuracy_m = u_m;
    sighting.source.device = device;
    return patch;
  }
  static SameQuestion look(double east_m, double north_m, double u_m, Kind kind = Kind::dug) {
    SameQuestion question;
    question.position = place(east_m, north_m);
    question.u_m = u_m;
    question.kind = kind;
    question.green = "North";
    return question;
  }
  CourseBuilder course;
};

TEST_F(SamePatchTest, GoodPositionsNameThePatchWithItsReason) {
  add("N6", 10, 10, 0.1);
  const SameAnswer same = finderOf(course).find(look(10.1, 10.05, 0.1));
  ASSERT_EQ(same.candidates.size(), 1U);
  EXPECT_EQ(same.candidates[0].patch, "N6");
  EXPECT_GT(same.candidates[0].score, 0.95);
  EXPECT_EQ(same.title, "Probably North 6.");
  EXPECT_EQ(same.reason, "0.1 m away, dug as well.");
}

TEST_F(SamePatchTest, ABareReceiverSaysHowLittleItCanTell) {
  add("N6", 10, 10, 4.0);
  const SameAnswer same = finderOf(course).find(look(12, 10, 4.0));
  EXPECT_EQ(same.title, "May be North 6.");
  EXPECT_LT(same.candidates.at(0).score, 0.5);
  EXPECT_THAT(same.reason, HasSubstr("tell apart only what lies farther than 17 m"));
}

TEST_F(SamePatchTest, FiveThatAReceiverCannotTellApartAreOfferedTwoTapes) {
  for (int i = 0; i < 5; ++i) add(fmt::format("N{}", i + 1), 10.0 + 1.2 * i, 10, 0.1);
  const SameAnswer same = finderOf(course).find(look(12.4, 10, 4.0));
  EXPECT_EQ(same.cannotTell, 5);
  EXPECT_THAT(same.reason,
              HasSubstr("The positions alone can't tell these five apart: two tapes from marks "
                        "would."));
  const SameAnswer taped = finderOf(course).find(look(12.4, 10.05, 0.1));
  EXPECT_EQ(taped.cannotTell, 1) << "as it said";
  EXPECT_EQ(taped.candidates.at(0).patch, "N3");
}

TEST_F(SamePatchTest, WhatWasPlacedRoughlyItselfTapesAloneDoNotHelp) {
  add("N1", 10, 10, 3.0);
  add("N2", 11, 10, 3.0);
  const SameAnswer same = finderOf(course).find(look(10.4, 10, 3.0));
  EXPECT_EQ(same.cannotTell, 2);
  EXPECT_THAT(same.reason, HasSubstr("tape each of them"));
}

TEST_F(SamePatchTest, FarOnesAreNamedAsTooFar) {
  add("N6", 10, 10, 0.5);
  const SameAnswer same = finderOf(course).find(look(20, 10, 0.5));
  EXPECT_TRUE(same.candidates.empty());
  EXPECT_EQ(same.title, "A new patch.");
  EXPECT_EQ(same.reason, "The nearest dug one, North 6, is 10 m away: too far to be the same.");
  EXPECT_EQ(same.newScore, 1.0);
  EXPECT_THAT(finderOf(CourseBuilder()).find(look(20, 10, 0.5)).reason, HasSubstr("No other"));
}

TEST_F(SamePatchTest, AnotherGreenIsAnotherPatchHoweverNear) {
  add("N6", 10, 10, 4.0);
  SameQuestion question = look(10, 10, 4.0);
  question.green = "South";
  EXPECT_TRUE(finderOf(course).find(question).candidates.empty());
  question.green.clear();
  EXPECT_EQ(finderOf(course).find(question).candidates.size(), 1U) << "unknown green";
}

TEST_F(SamePatchTest, TheKindTellsBetweenTwoThatLieAlike) {
  add("N1", 9, 10, 1.0, Kind::hungry);
  add("N2", 11, 10, 1.0, Kind::washed);
  const SameAnswer same = finderOf(course).find(look(10, 10, 1.0, Kind::washed));
  EXPECT_EQ(same.candidates.at(0).patch, "N2");
  EXPECT_GT(same.candidates[0].score, 5.0 * same.candidates.at(1).score);
  EXPECT_THAT(same.candidates[1].reason, HasSubstr("but hungry, not washed"));
}

TEST_F(SamePatchTest, OverlappingOutlinesSpeakForIt) {
  course::Patch& patch = add("N6", 10, 10, 1.0);
  patch.sightings.back().point.reset();
  patch.sightings.back().outline = rectangle(9, 9, 2, 2);
  SameQuestion without = look(10, 10, 1.0);
  SameQuestion with = without;
  with.outline = rectangle(10, 9, 2, 2);
  with.position = place(11, 10);
  without.position = with.position;
  const PatchFinder finder = finderOf(course);
  EXPECT_GT(finder.find(with).candidates.at(0).score, finder.find(without).candidates.at(0).score);
  EXPECT_NEAR(finder.find(with).candidates[0].overlapShare.value(), 0.5, 1e-6);
  EXPECT_THAT(finder.find(with).candidates[0].reason, HasSubstr("outlines overlap by 50 %"));
}

TEST_F(SamePatchTest, ClosedOnesAreNotAskedAbout) {
  add("N6", 10, 10, 0.1);
  const PatchFinder finder(
      course.state, [](const course::Patch&) { return false; }, measure::UnitSystem::metric);
  EXPECT_TRUE(finder.find(look(10, 10, 0.1)).candidates.empty());
}

TEST_F(SamePatchTest, TheBestPlacedOfItsSightingsCounts) {
  course::Patch& patch = add("N6", 10, 10, 0.1);
  course::Sighting& later = course.seen(patch, "2027-04-08", Kind::dug);
  later.point = place(14, 10);
  later.accuracy_m = 4.0;
  EXPECT_NEAR(finderOf(course).find(look(10, 10, 0.5)).candidates.at(0).distance_m, 0.0, 1e-6);
}

TEST_F(SamePatchTest, DistancesAreInTheUnitsAsked) {
  add("N6", 10, 10, 0.5);
  const SameAnswer same = finderOf(course, measure::UnitSystem::imperial).find(look(20, 10, 0.5));
  EXPECT_THAT(same.reason, HasSubstr("33 ft away"));
}

TEST_F(SamePatchTest, X4PatchesOfTwoCrewsAreSuggestedAndThoseOfOneAreNot) {
  add("N6", 10, 10, 0.5, Kind::dug, "Tablet a");
  add("N7", 10.4, 10, 0.5, Kind::dug, "Tablet b");
  add("N8", 10.8, 10, 0.5, Kind::dug, "Tablet b");
  const std::vector<SamePair> pairs = finderOf(course).pairs();
  ASSERT_EQ(pairs.size(), 2U) << "a with each of b's, but not b's with each other";
  EXPECT_EQ(pairs[0].patch, "N6");
  EXPECT_EQ(pairs[0].other, "N7");
  EXPECT_GE(pairs[0].score, pairs[1].score);
  EXPECT_THAT(pairs[0].reason, HasSubstr("0.4 m away, dug as well."));
  EXPECT_THAT(pairs[0].reason, HasSubstr("can't tell these two apart"));
}

TEST_F(SamePatchTest, X4APairSaysHowMuchThePositionsCanTellAndWhatJoiningMakesOfIt) {
  add("N6", 10, 10, 0.5, Kind::dug, "Tablet a");
  course::Patch& second = add("N7", 10.4, 10, 0.5, Kind::dug, "Tablet b");
  course.seen(second, "2027-04-08", Kind::dug).source.device = "Tablet b";
  const std::vector<SamePair> pairs = finderOf(course).pairs();
  ASSERT_EQ(pairs.size(), 1U);
  EXPECT_EQ(pairs[0].green, "North");
  EXPECT_THAT(pairs[0].limits, HasSubstr("tell apart only what lies farther than"));
  EXPECT_THAT(pairs[0].change, HasSubstr("As one patch it has three sightings"));
}

TEST(QuestionOf, ASizeWithoutAnOutlineLeavesOpenWhereInItOneStood) {
  course::Sighting sighting;
  EXPECT_FALSE(questionOf(sighting));
  sighting.point = place(1, 1);
  sighting.tape = course::TapeSize{geo::TapeForm::ellipse, 4.0, 4.0};
  EXPECT_NEAR(questionOf(sighting)->radius_m, 2.0, 1e-9);
}

TEST_F(SamePatchTest, ProgressNamesWhatTwoCrewsMayHaveSeenAndNotWhatIsClosed) {
  add("N6", 10, 10, 0.1, Kind::dug, "Tablet a");
  add("N7", 10.1, 10, 0.1, Kind::dug, "Tablet b");
  course::Patch& gone = add("N8", 10.05, 10, 0.1, Kind::dug, "Tablet c");
  course.closed(gone, "2027-04-10");
  const Progress progress = course.progress("2027-04-12");
  ASSERT_EQ(progress.samePatches.size(), 1U);
  ASSERT_FALSE(progress.notes.empty());
  EXPECT_EQ(progress.notes.back(), "Same patch? North 6 and North 7: 0.1 m away, dug as well.");
}

}  // namespace
}  // namespace swardwalk::answers::test
