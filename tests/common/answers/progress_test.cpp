#include "common/answers/progress.h"

#include <gtest/gtest.h>

#include <cmath>

#include "common/answers/answer_text.h"
#include "tests/common/answers/small_course.h"

namespace swardwalk::answers {
namespace {

using infill::Verdict;
using test::CourseBuilder;
using test::find;
using turf::Kind;

TEST(Progress, IsSortedByGreenThenPatch) {
  CourseBuilder course;
  for (const char* id : {"b", "a"}) {
    course.seen(course.patch(id), "2027-04-01", Kind::bare, 1.0, 1.0);
  }
  course.seen(course.patch("c", course::Zone::green, ""), "2027-04-01", Kind::bare, 1.0, 1.0);
  const Progress progress = course.progress("2027-04-12");
  ASSERT_EQ(progress.patches.size(), 3U);
  EXPECT_EQ(progress.patches[0].patch, "c");
  EXPECT_EQ(progress.patches[1].patch, "a");
  EXPECT_EQ(progress.patches[2].patch, "b");
}

TEST(Progress, ShareClosedRefersToTheChaptersLargest) {
  CourseBuilder course;
  course::Patch& patch = course.patch("N1");
  course.seen(patch, "2027-03-01", Kind::washed, 1.0, 1.0);
  course.seen(patch, "2027-03-15", Kind::washed, 2.0, 1.0);
  course.seen(patch, "2027-04-10", Kind::washed, 1.5, 1.0);
  const PatchProgress one = find(course.progress("2027-04-12"), "N1");
  EXPECT_EQ(one.chapter, 2);
  EXPECT_NEAR(*one.shareClosed, 0.25, 1e-12);
}

TEST(Progress, UnderFivePerCentIsClosed) {
  CourseBuilder course;
  course::Patch& patch = course.patch("N1");
  course.seen(patch, "2027-03-01", Kind::bare, 1.0, 1.0);
  course.seen(patch, "2027-04-10", Kind::bare, 0.2, 0.24);
  const PatchProgress one = find(course.progress("2027-04-12"), "N1");
  EXPECT_EQ(one.verdict, Verdict::closed);
  EXPECT_EQ(one.look, Look::closed);
  EXPECT_NEAR(*one.shareClosed, 0.952, 1e-12);
}

TEST(GreenProgress, OverlapsCountOnceAndOutsideDoesNot) {
  CourseBuilder course;
  const auto outlined = [&](const char* id, double east_m, double width_m) {
    course::Sighting& sighting = course.seen(course.patch(id), "2027-04-10", Kind::bare);
    sighting.outline = test::rectangle(east_m, 4.0, width_m, 1.0);
  };
  outlined("a", 4.0, 2.0);   // 2 m2
  outlined("b", 5.0, 2.0);   // 2 m2, half of it on a
  outlined("c", 24.0, 2.0);  // 2 m2, half of it outside the green
  const GreenProgress north = course.progress("2027-04-12").greens.at(0);
  EXPECT_NEAR(north.area_m2, 500.0, 1e-3);  // drawn on a plane, measured on the ellipsoid
  EXPECT_NEAR(north.bare_m2.value, 4.0, 1e-4);
  EXPECT_NEAR(north.bareShare.value, 4.0 / 500.0, 1e-6);
  EXPECT_EQ(north.openPatches, 3);
}

TEST(GreenProgress, ABareShareCountsByThatShareAlsoWhereItOverlaps) {
  CourseBuilder course;
  course::Sighting& dense = course.seen(course.patch("a"), "2027-04-10", Kind::bare);
  dense.outline = test::rectangle(4.0, 4.0, 2.0, 1.0);
  course::Sighting& thin = course.seen(course.patch("b"), "2027-04-10", Kind::bare);
  thin.outline = test::rectangle(5.0, 4.0, 2.0, 1.0);
  thin.bareShare = 0.5;
  EXPECT_NEAR(course.progress("2027-04-12").greens.at(0).bare_m2.value, 2.5, 1e-4);
}

TEST(GreenProgress, HungryAndBankPatchesAreOpenButNotBare) {
  CourseBuilder course;
  course.seen(course.patch("h"), "2027-04-10", Kind::hungry, 3.0, 2.0);
  course.seen(course.patch("b", course::Zone::bank), "2027-04-10", Kind::washed, 3.0, 2.0);
  course.seen(course.patch("o"), "2027-04-10", Kind::bare, 1.0, 1.0);
  const GreenProgress north = course.progress("2027-04-12").greens.at(0);
  EXPECT_NEAR(north.bare_m2.value, 1.0, 1e-12);
  EXPECT_EQ(north.openPatches, 3);
}

TEST(GreenProgress, UncertaintiesOfPatchesAddInSquares) {
  CourseBuilder course;
  for (const char* id : {"a", "b"}) {
    course::Sighting& sighting = course.seen(course.patch(id), "2027-04-10", Kind::bare);
    sighting.area_m2 = measure::Measured{2.0, id[0] == 'a' ? 0.3 : 0.4};
  }
  const GreenProgress north = course.progress("2027-04-12").greens.at(0);
  // And what two days without a look add, less than a thousandth.
  EXPECT_NEAR(*north.bare_m2.u, 0.5, 1e-3);
  EXPECT_NEAR(*north.bareShare.u, *north.bare_m2.u / north.area_m2, 1e-12);
}

TEST(GreenProgress, AnUnknownUncertaintyStaysUnknown) {
  CourseBuilder course;
  course.seen(course.patch("a"), "2027-04-10", Kind::bare, 1.0, 1.0);
  course.seen(course.patch("b"), "2027-04-10", Kind::bare).area_m2 =
      measure::Measured{2.0, std::nullopt};
  const GreenProgress north = course.progress("2027-04-12").greens.at(0);
  EXPECT_FALSE(north.bare_m2.u.has_value());
  EXPECT_FALSE(north.bareShare.u.has_value());
}

TEST(GreenProgress, AGreenWithoutOpenPatchesIsReadyWhereSomebodyLooked) {
  CourseBuilder course;
  course::Round round;
  round.green = "North";
  round.started = test::at("2027-04-11");
  course.state.rounds.push_back(round);
  EXPECT_EQ(course.progress("2027-04-12").greens.at(0).probabilityReady, 1.0);
  course.state.rounds.clear();
  course.closed(course.patch("N1"), "2027-04-10");
  EXPECT_EQ(course.progress("2027-04-12").greens.at(0).probabilityReady, 1.0);
}

TEST(GreenProgress, OfAGreenThatNobodyWalkedNobodyKnows) {
  const GreenProgress north = CourseBuilder().progress("2027-04-12").greens.at(0);
  EXPECT_FALSE(north.probabilityReady);
  EXPECT_FALSE(north.bare_m2.u);
  EXPECT_EQ(north.answer, "Not walked yet");
  EXPECT_EQ(north.chance, "");
  EXPECT_EQ(north.readyText, "Nobody has looked yet");
  EXPECT_EQ(north.bareShareText, "nobody has looked yet");
  EXPECT_EQ(north.summary, "500 m², nobody has looked yet");
}

TEST(GreenProgress, WithoutAnOpeningDayThereIsNoChance) {
  CourseBuilder course;
  course.state.course.openingDay.reset();
  const GreenProgress north = course.progress("2027-04-12").greens.at(0);
  EXPECT_FALSE(north.probabilityReady.has_value());
  EXPECT_EQ(north.chance, "");
}

TEST(GreenProgress, ItsOwnOpeningDayGoesBeforeTheCourses) {
  CourseBuilder course;
  course.state.greens[0].openingDay = test::date("2027-06-01");
  course.seen(course.patch("N1"), "2027-04-10", Kind::bare, 1.0, 1.0);
  const Progress progress = course.progress("2027-04-12");
  EXPECT_EQ(progress.greens[0].openingDay, test::date("2027-06-01"));
  EXPECT_EQ(find(progress, "N1").openingDay, test::date("2027-06-01"));
}

TEST(GreenProgress, TheSameInputGivesTheSameChance) {
  const CourseBuilder course = test::stormyCourse();
  EXPECT_EQ(course.progress("2027-04-12").greens[0].probabilityReady,
            course.progress("2027-04-12").greens[0].probabilityReady);
}

struct ChanceCase {
  double probability;
  const char* answer;
  Weight weight;
};

class ChanceWords : public testing::TestWithParam<ChanceCase> {};

// The page's rule: under 50 % not on course, 50 to 79 in doubt, 80 to 94 likely, then on
// course; by the whole per cent that is shown.
TEST_P(ChanceWords, FollowTheRule) {
  CourseBuilder course;
  Progress progress;
  progress.on = test::date("2027-04-12");
  GreenProgress green;
  green.green = "North";
  green.area_m2 = 500.0;
  green.openingDay = test::date("2027-05-15");
  green.probabilityReady = GetParam().probability;
  writeGreen(green, course.state, progress, measure::UnitSystem::metric);
  EXPECT_EQ(green.answer, GetParam().answer);
  EXPECT_EQ(green.weight, GetParam().weight);
  EXPECT_EQ(green.chanceOf, "chance of being ready on 15 May");
}

INSTANTIATE_TEST_SUITE_P(All, ChanceWords,
                         testing::Values(ChanceCase{0.0, "Not on course", Weight::stop},
                                         ChanceCase{0.494, "Not on course", Weight::stop},
                                         ChanceCase{0.495, "In doubt", Weight::watch},
                                         ChanceCase{0.79, "In doubt", Weight::watch},
                                         ChanceCase{0.80, "Likely", Weight::calm},
                                         ChanceCase{0.94, "Likely", Weight::calm},
                                         ChanceCase{0.95, "On course", Weight::good},
                                         ChanceCase{1.0, "On course", Weight::good}));

/// One bare patch, closing 5 % a week.
CourseBuilder closing() {
  CourseBuilder course;
  course::Patch& patch = course.patch("N1");
  course.seen(patch, "2027-03-01", Kind::bare, 0.30, 0.30);
  course.seen(patch, "2027-03-15", Kind::bare, 0.27, 0.27);
  course.seen(patch, "2027-03-29", Kind::bare, 0.24, 0.24);
  course.seen(patch, "2027-04-12", Kind::bare, 0.21, 0.21);
  return course;
}

TEST(Answer, ClosesLateSaysByHowMuch) {
  const CourseBuilder course = closing();
  const PatchProgress one = find(course.progress("2027-04-12"), "N1");
  ASSERT_TRUE(one.closesOn.has_value());
  EXPECT_TRUE(one.late);
  EXPECT_EQ(one.weight, Weight::stop);
  EXPECT_EQ(one.look, Look::closing);
  EXPECT_EQ(one.answer.rfind("Closes ", 0), 0U) << one.answer;
  EXPECT_NE(one.answer.find(" late"), std::string::npos) << one.answer;
  EXPECT_EQ(one.brief.rfind("Late, closes ", 0), 0U) << one.brief;
  EXPECT_EQ(one.why.rfind("Four sightings in 42 days; the edge moves in ", 0), 0U) << one.why;
}

TEST(Answer, ClosesInTimeWhereOpeningDayIsFarEnough) {
  CourseBuilder course = closing();
  course.state.course.openingDay = test::date("2028-04-01");
  const PatchProgress one = find(course.progress("2027-04-12"), "N1");
  EXPECT_FALSE(one.late);
  EXPECT_EQ(one.weight, Weight::good);
  EXPECT_TRUE(one.answer.ends_with(", in time")) << one.answer;
}

TEST(Answer, PuttableOnOpeningDayIsInTimeTheDayAfterIsLate) {
  CourseBuilder course = closing();
  const measure::Date puttable = *find(course.progress("2027-04-12"), "N1").puttableOn;
  course.state.course.openingDay = puttable;
  EXPECT_FALSE(find(course.progress("2027-04-12"), "N1").late);
  course.state.course.openingDay = puttable - std::chrono::days(1);
  const PatchProgress late = find(course.progress("2027-04-12"), "N1");
  EXPECT_TRUE(late.late);
  EXPECT_TRUE(late.answer.ends_with("puttable one day late")) << late.answer;
}

TEST(Answer, GrowingSaysFromWhatToWhat) {
  const CourseBuilder course = test::stormyCourse();
  const PatchProgress one = find(course.progress("2027-04-12"), "N9");
  EXPECT_EQ(one.verdict, Verdict::growing);
  EXPECT_EQ(one.answer, "Growing: 0.480 to 1.04 m² in 21 days");
  EXPECT_EQ(one.weight, Weight::stop);
  EXPECT_TRUE(one.late);
}

TEST(Answer, WithoutASizeNobodyCanSay) {
  const CourseBuilder course = test::stormyCourse();
  const PatchProgress one = find(course.progress("2027-04-12"), "N11");
  EXPECT_EQ(one.verdict, Verdict::cannotSayYet);
  EXPECT_EQ(one.answer, "Cannot say yet: no size");
  EXPECT_EQ(one.area.figure, "");
}

TEST(Answer, OneSightingAndNoGrassNamed) {
  CourseBuilder course;
  course.state.greens[0].species.clear();
  course.seen(course.patch("N1"), "2027-04-10", Kind::bare, 1.0, 1.0);
  const PatchProgress one = find(course.progress("2027-04-12"), "N1");
  EXPECT_EQ(one.verdict, Verdict::cannotSayYet);
  EXPECT_EQ(one.answer, "Cannot say yet: one sighting");
  EXPECT_EQ(one.why, "One sighting, and no grass is named for North.");
}

TEST(Answer, HungryIsFedUntilItWasFed) {
  CourseBuilder course;
  course::Patch& patch = course.patch("N2");
  course.seen(patch, "2027-04-09", Kind::hungry, 3.0, 2.0);
  EXPECT_EQ(find(course.progress("2027-04-12"), "N2").answer, "Feed today");
  course.repair(patch, "2027-04-10").feed_g = 70.0;
  EXPECT_EQ(find(course.progress("2027-04-12"), "N2").answer, "Fed 10 April");
  EXPECT_EQ(find(course.progress("2027-04-25"), "N2").answer, "Feed today");
  EXPECT_EQ(find(course.progress("2027-04-12"), "N2").verdict, Verdict::feed);
}

TEST(Answer, SownWaitsThenIsDueThenOverdue) {
  CourseBuilder course;
  course.shed();
  course.temperature("2027-03-20", "2027-06-01", 15.0);
  course::Patch& patch = course.patch("N1");
  course.seen(patch, "2027-04-01", Kind::bare, 1.0, 1.0);
  course.sown(patch, "2027-04-02");
  // Creeping bentgrass at 15 C: up in 8 to 15 days, mostly 11 (common practice).
  EXPECT_EQ(find(course.progress("2027-04-05"), "N1").answer, "Sown, due 13 April");
  EXPECT_EQ(find(course.progress("2027-04-05"), "N1").look, Look::sownWaiting);
  EXPECT_EQ(find(course.progress("2027-04-12"), "N1").answer, "Sown, due now");
  const PatchProgress overdue = find(course.progress("2027-04-21"), "N1");
  EXPECT_EQ(overdue.answer, "Sown, four days overdue");
  EXPECT_EQ(overdue.verdict, Verdict::waitingForSeed);
  course.up(patch, "2027-04-20");
  const PatchProgress up = find(course.progress("2027-04-21"), "N1");
  EXPECT_EQ(up.look, Look::up);
  EXPECT_EQ(up.answer.rfind("Up, closes ", 0), 0U) << up.answer;
}

TEST(Answer, WashedOutSeedIsNamedWithItsRain) {
  const CourseBuilder course = test::stormyCourse();
  const PatchProgress one = find(course.progress("2027-04-12"), "N10");
  EXPECT_EQ(one.sowing, repair::SowingState::washedOut);
  EXPECT_EQ(one.note, "Seed washed out 9 April");
  EXPECT_EQ(one.why.rfind("24.0 mm of rain on 9 April took the seed.", 0), 0U) << one.why;
  EXPECT_EQ(one.weight, Weight::stop);
}

TEST(Headline, WhereSeedWasWashedOutTwiceTheCauseComesFirst) {
  test::CourseBuilder course = test::stormyCourse();
  course::Patch& patch = course.patch("N20");
  course.seen(patch, "2027-03-20", turf::Kind::bare, 1.0, 1.0);
  course.sown(patch, "2027-03-21");
  course.seen(patch, "2027-04-01", turf::Kind::washed, 1.4, 1.3);
  course.sown(patch, "2027-04-03");
  course.seen(patch, "2027-04-11", turf::Kind::washed, 1.9, 1.7);
  EXPECT_EQ(course.progress("2027-04-12").headline,
            "Find where the water comes from at North 20: it washed out two times.");
}

TEST(Headline, LostSeedComesFirst) {
  const Progress progress = test::stormyCourse().progress("2027-04-12");
  EXPECT_EQ(progress.headline, "Sow North 10 again: its seed was washed out.");
  EXPECT_EQ(progress.headlineWeight, Weight::stop);
  EXPECT_EQ(progress.openingText, "33 days to opening day, 15 May");
  EXPECT_EQ(progress.dateText, "Monday 12 April 2027");
}

TEST(Headline, NothingToSayIsSaid) {
  // Without a sighting nobody knows: silence is no good news.
  EXPECT_EQ(CourseBuilder().progress("2027-04-12").headline,
            "No patch is marked yet: walk the greens and look.");
  CourseBuilder empty;
  empty.state.greens.clear();
  EXPECT_EQ(empty.progress("2027-04-12").headline,
            "No greens yet: bring in the course's outlines first.");
}

TEST(Units, ImperialChangesTextNotNumbers) {
  const CourseBuilder course = test::stormyCourse();
  const Progress metric = course.progress("2027-04-12");
  const Progress imperial = course.progress("2027-04-12", measure::UnitSystem::imperial);
  EXPECT_EQ(find(metric, "N7").area.unit, "m²");
  EXPECT_EQ(find(imperial, "N7").area.unit, "ft²");
  EXPECT_EQ(find(imperial, "N7").area_m2, find(metric, "N7").area_m2);
  // 1.045 m2 are 11.25 ft2 (1 ft = 0.3048 m).
  EXPECT_EQ(find(imperial, "N9").answer, "Growing: 5.2 to 11.2 ft² in 21 days");
}

TEST(Rain, OfTheLastFourteenDaysByDay) {
  const Progress progress = test::stormyCourse().progress("2027-04-12");
  ASSERT_EQ(progress.rain.size(), 14U);
  EXPECT_EQ(progress.rain.back().on, test::date("2027-04-12"));
  EXPECT_EQ(progress.rain[10].amount_mm, 24.0);
  EXPECT_EQ(progress.rainText.text(), "24.0 mm");
}

}  // namespace
}  // namespace swardwalk::answers
