#include "common/answers/history.h"

#include <gtest/gtest.h>

#include "tests/common/answers/small_course.h"

namespace swardwalk::answers {
namespace {

using repair::SowingState;
using test::CourseBuilder;
using turf::Kind;

std::shared_ptr<const PatchStory> story(const CourseBuilder& course, const course::Patch& patch,
                                        std::string_view on) {
  const Calendar calendar(course.state, test::date(on));
  const Settings settings(course.state.course.settings);
  Seasons seasons(course.state, calendar, settings);
  KeptWork kept;
  return storyOf(course.state, patch, calendar, settings, seasons, kept);
}

TEST(Chapters, AWashThatGrewBeyondDoubtBeginsOne) {
  CourseBuilder course;
  course::Patch& patch = course.patch("N1");
  course.seen(patch, "2027-03-01", Kind::washed, 1.0, 1.0);
  course.seen(patch, "2027-03-08", Kind::washed, 0.98, 0.98);
  course.seen(patch, "2027-03-15", Kind::washed, 1.3, 1.2);
  const auto told = story(course, patch, "2027-03-20");
  EXPECT_EQ(told->history.chapter, 2);
  EXPECT_EQ(told->history.sizes.size(), 1U);
  EXPECT_EQ(told->history.sightings, 3);
  EXPECT_EQ(told->timesWashed, 2);
}

TEST(Chapters, GrowthWithinTheDoubtOfTheTapeBeginsNone) {
  CourseBuilder course;
  course::Patch& patch = course.patch("N1");
  // 1 x 1 m by tape is known to 0.04 m2: 5 % more is nothing new.
  course.seen(patch, "2027-03-01", Kind::washed, 1.0, 1.0);
  course.seen(patch, "2027-03-08", Kind::washed, 1.05, 1.0);
  EXPECT_EQ(story(course, patch, "2027-03-20")->history.chapter, 1);
}

TEST(Chapters, ABarePatchThatGrowsStaysInItsChapter) {
  CourseBuilder course;
  course::Patch& patch = course.patch("N1");
  course.seen(patch, "2027-03-01", Kind::bare, 1.0, 1.0);
  course.seen(patch, "2027-03-08", Kind::bare, 2.0, 1.0);
  EXPECT_EQ(story(course, patch, "2027-03-20")->history.chapter, 1);
}

TEST(Chapters, TurningDugOrWashedBeginsOne) {
  CourseBuilder course;
  course::Patch& patch = course.patch("N1");
  course.seen(patch, "2027-03-01", Kind::bare, 1.0, 1.0);
  course.seen(patch, "2027-03-08", Kind::dug, 0.9, 0.9);
  course.seen(patch, "2027-03-09", Kind::washed);
  const auto told = story(course, patch, "2027-03-20");
  ASSERT_EQ(told->chapters.size(), 3U);
  EXPECT_EQ(told->chapters[1].begins, Chapter::Begins::dug);
  EXPECT_EQ(told->chapters[2].begins, Chapter::Begins::washed);
  EXPECT_TRUE(told->history.sizes.empty());
}

TEST(Chapters, HungryAndBareAreMeasuredApart) {
  CourseBuilder course;
  course::Patch& patch = course.patch("N1");
  course.seen(patch, "2027-03-01", Kind::hungry, 3.0, 2.0);
  course.seen(patch, "2027-03-08", Kind::bare, 0.5, 0.5);
  const auto told = story(course, patch, "2027-03-20");
  EXPECT_EQ(told->history.chapter, 2);
  EXPECT_NEAR(told->history.sizes.at(0).area_m2.value, 0.25, 1e-12);
}

TEST(Chapters, SowingAgainBeginsOneWithTheLastSize) {
  CourseBuilder course;
  course::Patch& patch = course.patch("N1");
  course.seen(patch, "2027-03-01", Kind::bare, 1.0, 1.0);
  course.sown(patch, "2027-03-02");
  course.seen(patch, "2027-03-20", Kind::bare, 0.9, 0.9);
  EXPECT_EQ(story(course, patch, "2027-03-20")->history.chapter, 1);
  course.sown(patch, "2027-03-21");
  const auto told = story(course, patch, "2027-03-22");
  EXPECT_EQ(told->history.chapter, 2);
  ASSERT_EQ(told->history.sizes.size(), 1U);
  EXPECT_NEAR(told->history.sizes[0].area_m2.value, 0.81, 1e-12);
  EXPECT_EQ(told->timesWashed, 0);
}

TEST(Chapters, SeenAgainAfterItWasClosedItIsOpenAgain) {
  CourseBuilder course;
  course::Patch& patch = course.patch("N1");
  course.seen(patch, "2027-03-01", Kind::bare, 1.0, 1.0);
  course.closed(patch, "2027-03-20");
  EXPECT_TRUE(story(course, patch, "2027-03-21")->history.closedDay.has_value());
  course.seen(patch, "2027-03-25", Kind::bare, 0.4, 0.4);
  const auto told = story(course, patch, "2027-03-26");
  EXPECT_FALSE(told->history.closedDay.has_value());
  EXPECT_EQ(told->chapters.back().begins, Chapter::Begins::reopened);
}

/// A patch on a bank, sown on 5 April.
struct SownOnABank {
  explicit SownOnABank(course::Zone zone = course::Zone::bank) : patch(course.patch("N1", zone)) {
    course.shed();
    course.temperature("2027-03-20", "2027-04-20", 10.0);
    course.seen(patch, "2027-04-04", Kind::bare, 1.0, 1.0);
    course.sown(patch, "2027-04-05", "Ryegrass 26-1");
  }
  SowingState state() const { return story(course, patch, "2027-04-12")->sowingState; }

  CourseBuilder course;
  course::Patch& patch;
};

// Rain that washes fresh seed: bank 10 mm/h or 20 mm/d, flat sand 40 mm/h (common
// practice, no source).
TEST(WashedOut, TwentyMillimetresInADayTakeTheSeedOffABank) {
  SownOnABank sown;
  sown.course.rain("2027-04-09", 20.0);
  EXPECT_EQ(sown.state(), SowingState::washedOut);
}

TEST(WashedOut, NineteenDoNot) {
  SownOnABank sown;
  sown.course.rain("2027-04-09", 19.0);
  EXPECT_EQ(sown.state(), SowingState::waiting);
}

TEST(WashedOut, TwoRecordsOfADayAddUp) {
  SownOnABank sown;
  sown.course.rain("2027-04-09", 12.0);
  sown.course.rain("2027-04-09", 9.0);
  EXPECT_EQ(sown.state(), SowingState::washedOut);
}

TEST(WashedOut, TenMillimetresAnHourTakeTheSeedOffABank) {
  SownOnABank sown;
  sown.course.rain("2027-04-09", 12.0, 10.0);
  EXPECT_EQ(sown.state(), SowingState::washedOut);
}

TEST(WashedOut, FlatSandNeedsFortyAnHour) {
  SownOnABank flat(course::Zone::green);
  flat.course.rain("2027-04-09", 35.0, 39.0);
  EXPECT_NE(flat.state(), SowingState::washedOut);
  flat.course.rain("2027-04-10", 35.0, 40.0);
  EXPECT_EQ(flat.state(), SowingState::washedOut);
}

TEST(WashedOut, TheCourseMayMoveTheLimit) {
  SownOnABank sown;
  sown.course.rain("2027-04-09", 19.0);
  sown.course.state.course.settings["rain_slope_mm_d"] = 15.0;
  EXPECT_EQ(sown.state(), SowingState::washedOut);
}

TEST(WashedOut, RainBeforeTheSowingDoesNotCount) {
  SownOnABank sown;
  sown.course.rain("2027-04-04", 60.0, 50.0);
  EXPECT_EQ(sown.state(), SowingState::waiting);
}

TEST(WashedOut, WhatIsUpHolds) {
  SownOnABank sown;
  sown.course.up(sown.patch, "2027-04-08");
  sown.course.rain("2027-04-09", 60.0, 50.0);
  EXPECT_EQ(sown.state(), SowingState::up);
}

TEST(WashedOut, AWashSeenBeforeItWasUpTakesTheSeed) {
  SownOnABank sown(course::Zone::green);
  sown.course.seen(sown.patch, "2027-04-09", Kind::washed, 1.4, 1.2);
  EXPECT_EQ(sown.state(), SowingState::washedOut);
}

TEST(WashedOut, SownAgainItWaitsAgain) {
  SownOnABank sown;
  sown.course.rain("2027-04-09", 24.0);
  sown.course.sown(sown.patch, "2027-04-11", "Ryegrass 26-1");
  EXPECT_EQ(sown.state(), SowingState::waiting);
}

TEST(WashedOut, LostSeedIsNoCoverToComeInTheForecast) {
  SownOnABank sown;
  sown.course.rain("2027-04-09", 24.0);
  EXPECT_FALSE(story(sown.course, sown.patch, "2027-04-12")->history.sownDay.has_value());
}

TEST(Prior, FollowsTheGrassOfTheZoneAndTheTemperature) {
  CourseBuilder course;
  course::Patch& patch = course.patch("N1");
  course.seen(patch, "2027-04-01", Kind::bare, 1.0, 1.0);
  // Creeping bentgrass: 0.3 mm/d at 8 to 12 C, 1.0 at 15 to 22 C and where the
  // temperature is unknown (common practice, no source).
  EXPECT_EQ(story(course, patch, "2027-04-02")->history.prior->creep_mm_d.low, 0.3);
  course.temperature("2027-03-25", "2027-04-02", 10.0);
  EXPECT_EQ(story(course, patch, "2027-04-02")->history.prior->creep_mm_d.best, 0.3);
  course.state.temperatures.clear();
  course.temperature("2027-03-25", "2027-04-02", 18.0);
  EXPECT_EQ(story(course, patch, "2027-04-02")->history.prior->creep_mm_d.best, 1.0);
}

TEST(Prior, TemperaturesOlderThanFourteenDaysSayNothing) {
  CourseBuilder course;
  course::Patch& patch = course.patch("N1");
  course.seen(patch, "2027-04-01", Kind::bare, 1.0, 1.0);
  course.temperature("2027-03-01", "2027-03-18", 10.0);
  EXPECT_TRUE(story(course, patch, "2027-03-31")->mean_c.has_value());
  EXPECT_FALSE(story(course, patch, "2027-04-01")->mean_c.has_value());
}

TEST(Prior, AGreenWithoutSpeciesHasNone) {
  CourseBuilder course;
  course.state.greens[0].species.clear();
  course::Patch& patch = course.patch("N1");
  course.seen(patch, "2027-04-01", Kind::bare, 1.0, 1.0);
  EXPECT_FALSE(story(course, patch, "2027-04-02")->history.prior.has_value());
}

TEST(Depth, IsGoneOnceThePlaceWasFilled) {
  CourseBuilder course;
  course::Patch& patch = course.patch("N1");
  course.seen(patch, "2027-04-01", Kind::dug, 1.0, 1.0).depths_mm = {40.0, 50.0};
  EXPECT_EQ(story(course, patch, "2027-04-02")->depths_mm.size(), 2U);
  course.repair(patch, "2027-04-02").fill_l = 20.0;
  EXPECT_TRUE(story(course, patch, "2027-04-02")->depths_mm.empty());
}

}  // namespace
}  // namespace swardwalk::answers
