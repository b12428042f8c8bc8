#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>

#include "tests/common/answers/small_course.h"

// What the records of a course change about its forecasts, and how the answers say so.
namespace swardwalk::answers {
namespace {

using infill::Verdict;
using test::CourseBuilder;
using test::find;
using testing::HasSubstr;
using turf::Kind;

/// A strip of 100 mm, seen once on the day of the answer.
CourseBuilder strip(double mean_c) {
  CourseBuilder course;
  course.temperature("2027-03-01", "2027-04-12", mean_c);
  course.seen(course.patch("N1"), "2027-04-12", Kind::bare, 2.0, 0.1);
  return course;
}

PatchProgress one(const CourseBuilder& course) { return find(course.progress("2027-04-12"), "N1"); }

void typicalYear(CourseBuilder& course, double january_c, double july_c) {
  const char* months[] = {"january", "february", "march",     "april",   "may",      "june",
                          "july",    "august",   "september", "october", "november", "december"};
  for (int i = 0; i < 12; ++i) {
    const double part = 0.5 - 0.5 * std::cos(2.0 * M_PI * i / 12.0);
    course.state.course.settings[std::string("typical_") + months[i] + "_c"] =
        january_c + part * (july_c - january_c);
  }
}

TEST(GrowingDays, BelowTheGrassesLimitNothingCreeps) {
  // Creeping bentgrass stands still below 7 C.
  const PatchProgress cold = one(strip(6.0));
  EXPECT_EQ(cold.verdict, Verdict::cannotSayYet);
  EXPECT_FALSE(cold.closesOn);
  EXPECT_FALSE(cold.puttableOn);
  EXPECT_FALSE(cold.edgeCreep_mm_d);
  EXPECT_EQ(cold.answer, "At rest: too cold to creep");
  EXPECT_EQ(cold.why,
            "One sighting; below 7 °C creeping bentgrass does not creep, and it is 6 °C.");
  EXPECT_TRUE(one(strip(8.0)).closesOn);
}

TEST(GrowingDays, ATypicalYearBringsTheSpring) {
  CourseBuilder course = strip(6.0);
  typicalYear(course, 3.0, 18.0);
  const PatchProgress spring = one(course);
  EXPECT_EQ(spring.verdict, Verdict::closing);
  ASSERT_TRUE(spring.closesOn);
  // Nothing before it is warm enough in May; 50 mm at up to 1 mm a day after that.
  EXPECT_GT(*spring.closesOn, test::date("2027-05-20"));
  EXPECT_LT(*spring.closesOn, test::date("2027-08-31"));
  course.state.course.settings.erase("typical_may_c");
  EXPECT_FALSE(one(course).closesOn) << "eleven months are no year";
}

TEST(GrowingDays, ATypicalYearSlowsWhatAnAutumnBegins) {
  CourseBuilder course = strip(15.0);
  const PatchProgress onward = one(course);
  typicalYear(course, 25.0, 2.0);  // a winter in July
  const PatchProgress winter = one(course);
  ASSERT_TRUE(onward.closesOn && winter.closesOn);
  EXPECT_GT(*winter.closesOn, *onward.closesOn);
}

TEST(GrowingDays, ColdDaysBetweenSizesDoNotSlowTheGrass) {
  // 20 mm in four weeks, of which two were below the limit: the pace is that of two weeks.
  const auto crept = [](double middle_c) {
    CourseBuilder course;
    course.temperature("2027-03-01", "2027-03-15", 16.0);
    course.temperature("2027-03-16", "2027-03-29", middle_c);
    course.temperature("2027-03-30", "2027-04-12", 16.0);
    course::Patch& patch = course.patch("N1");
    for (const auto& [day, width_m] :
         {std::pair{"2027-03-15", 0.44}, {"2027-03-29", 0.43}, {"2027-04-12", 0.40}}) {
      course.seen(patch, day, Kind::bare, 2.0, width_m).edge_u_m = 0.002;
    }
    return one(course).edgeCreep_mm_d->value;
  };
  EXPECT_GT(crept(6.5), 1.15 * crept(16.0));
}

TEST(Pool, ANewPatchLearnsFromItsGreen) {
  CourseBuilder course;
  course.temperature("2027-02-01", "2027-04-12", 16.0);
  for (const char* id : {"a", "b", "c", "d"}) {
    course::Patch& patch = course.patch(id);
    double radius_m = 0.5;
    for (const char* day : {"2027-03-15", "2027-03-22", "2027-03-29", "2027-04-05"}) {
      course.seen(patch, day, Kind::bare, 2 * radius_m, 2 * radius_m).edge_u_m = 0.003;
      radius_m -= 0.0018 * 7;
    }
  }
  CourseBuilder alone = course;
  alone.state.patches.clear();
  for (CourseBuilder* each : {&course, &alone}) {
    each->seen(each->patch("N1"), "2027-04-12", Kind::bare, 0.6, 0.6);
  }
  const PatchProgress pooled = one(course);
  EXPECT_LT(*pooled.closesOn, *one(alone).closesOn);
  EXPECT_GT(pooled.edgeCreep_mm_d->value, 1.2 * one(alone).edgeCreep_mm_d->value);
  EXPECT_THAT(pooled.why, HasSubstr("by four other patches of North and its grass it creeps"));
  EXPECT_THAT(one(alone).why, HasSubstr("creeping bentgrass usually creeps"));
}

CourseBuilder shrinking() {
  CourseBuilder course;
  course.temperature("2027-02-01", "2027-04-12", 16.0);
  course::Patch& patch = course.patch("N1");
  double width_m = 0.60;
  for (const char* day : {"2027-03-15", "2027-03-22", "2027-03-29", "2027-04-05", "2027-04-12"}) {
    course.seen(patch, day, Kind::bare, width_m + 0.4, width_m).edge_u_m = 0.005;
    width_m -= 0.014;
  }
  return course;
}

TEST(Reason, NamesTheSizeThatWasSetAside) {
  CourseBuilder course = shrinking();
  const PatchProgress good = one(course);
  course.state.patches[0].sightings[2].tape->width_m = 5.7;  // a slip of the point
  const PatchProgress wild = one(course);
  EXPECT_THAT(good.why, testing::Not(HasSubstr("Set aside")));
  EXPECT_THAT(wild.why, HasSubstr("Set aside: 5.5"));
  EXPECT_THAT(wild.why, HasSubstr("on 29 March does not fit the others, which say 0.5"));
  ASSERT_TRUE(wild.closesOn && good.closesOn);
  EXPECT_LT(std::abs((*wild.closesOn - *good.closesOn).count()), 30);
  EXPECT_NEAR(*wild.shareClosed, *good.shareClosed, 0.01);
}

TEST(Reason, NamesFeedingHeightOfCutAndSeason) {
  CourseBuilder course = shrinking();
  EXPECT_THAT(one(course).why, testing::Not(HasSubstr("Since it was first measured")));
  course::Feeding feeding;
  feeding.green = "North";
  feeding.done = test::at("2027-04-02");
  course.state.feedings.push_back(feeding);
  for (const auto& [day, height_mm] : {std::pair{"2027-03-10", 6.0}, {"2027-04-01", 4.5}}) {
    course::Mowing mowing;
    mowing.green = "North";
    mowing.done = test::at(day);
    mowing.height_mm = height_mm;
    course.state.mowings.push_back(mowing);
  }
  EXPECT_THAT(one(course).why,
              HasSubstr("Since it was first measured it was fed on 2 April and the cut went down "
                        "from 6.0 to 4.5 mm: its pace may change."));
  for (course::Temperature& day : course.state.temperatures) {
    if (day.on < test::date("2027-03-30")) day.min_c = day.max_c = 9.0;
  }
  EXPECT_THAT(one(course).why, HasSubstr("warmer"));
}

TEST(Reason, SaysWhatPuttableNeedsByTheCoursesOwnFigure) {
  CourseBuilder course;
  course.temperature("2027-03-01", "2027-04-12", 18.0);
  course.seen(course.patch("N1"), "2027-04-12", Kind::bare, 0.3, 0.06);
  const PatchProgress usual = one(course);
  EXPECT_EQ(*usual.puttableOn - *usual.closesOn, std::chrono::days(14));
  EXPECT_THAT(usual.why, HasSubstr(": knit and at height, 14 days after it touches."));
  course.state.course.settings["puttable_after_touching_d"] = 35.0;
  const PatchProgress own = one(course);
  EXPECT_EQ(*own.puttableOn - *own.closesOn, std::chrono::days(35));
  EXPECT_THAT(own.why, HasSubstr(": knit and at height, five weeks after it touches."));
}

TEST(Reason, OfANarrowScarIsHalfItsWidth) {
  CourseBuilder course;
  course.temperature("2027-03-01", "2027-04-12", 18.0);
  course.seen(course.patch("N1"), "2027-04-12", Kind::bare, 2.0, 0.06);
  EXPECT_THAT(one(course).why, HasSubstr("half its width, 30.0 mm, decides"));
  course.seen(course.patch("N2"), "2027-04-12", Kind::bare, 0.6, 0.6);
  EXPECT_THAT(find(course.progress("2027-04-12"), "N2").why,
              testing::Not(HasSubstr("half its width")));
}

TEST(Cover, OfLivingPlantsInsideAnOutlineThatStays) {
  CourseBuilder course;
  course::Patch& patch = course.patch("N1");
  const double bare[] = {0.80, 0.62, 0.45, 0.28};
  int week = 0;
  for (const char* day : {"2027-03-22", "2027-03-29", "2027-04-05", "2027-04-12"}) {
    course.seen(patch, day, Kind::bare, 2.0, 1.5).bareShare = bare[week++];
  }
  const PatchProgress covering = one(course);
  EXPECT_EQ(covering.model, "cover");
  EXPECT_EQ(covering.verdict, Verdict::closing);
  EXPECT_FALSE(covering.edgeCreep_mm_d);
  EXPECT_THAT(covering.why, HasSubstr("plants inside cover it"));
  ASSERT_TRUE(covering.closesOn);
  EXPECT_GT(*covering.closesOn, test::date("2027-04-20"));
  EXPECT_LT(*covering.closesOn, test::date("2027-07-01"));
  // An outline that shrinks closes from its edge.
  for (std::size_t i = 0; i < 4; ++i) {
    course.state.patches[0].sightings[i].tape->width_m = 1.5 - 0.1 * static_cast<double>(i);
  }
  EXPECT_EQ(one(course).model, "edge creep");
}

TEST(LookNext, NamesTwoOrThreePatchesWithTheirReason) {
  CourseBuilder course;
  course.temperature("2027-03-01", "2027-04-12", 16.0);
  course.state.course.openingDay = test::date("2027-08-15");
  course.seen(course.patch("old"), "2027-03-20", Kind::bare, 4.0, 1.5);
  course.seen(course.patch("new"), "2027-04-11", Kind::bare, 9.0, 0.9);
  for (const char* id : {"x", "y", "z", "w"}) {
    course.seen(course.patch(id), "2027-04-11", Kind::bare, 12.0, 0.25);
  }
  course.seen(course.patch("tiny"), "2027-04-11", Kind::bare, 0.1, 0.05);
  const GreenProgress north = course.progress("2027-04-12").greens.at(0);
  ASSERT_GE(north.lookNext.size(), 2U);
  ASSERT_LE(north.lookNext.size(), 3U);
  for (const LookNext& look : north.lookNext) {
    EXPECT_NE(look.patch, "tiny");
    if (look.patch == "old") {
      EXPECT_EQ(look.why, "not measured for 23 days");
    }
    if (look.patch == "new") {
      EXPECT_EQ(look.why, "one sighting so far");
    }
  }
  EXPECT_THAT(north.lookNextText, HasSubstr(north.lookNext.front().why));
  course.seen(course.patch("unknown"), "2027-04-11", Kind::bare);
  const LookNext first = course.progress("2027-04-12").greens.at(0).lookNext.at(0);
  EXPECT_EQ(first.patch, "unknown");
  EXPECT_EQ(first.why, "never measured");
}

// Ten frames of 25 points as clusters: 0.296, u 0.055361439 (reference values, sampling).
TEST(ThinStand, OfThrownFramesHasTheScatterBetweenThem) {
  CourseBuilder course;
  const int hits[] = {5, 9, 2, 14, 7, 11, 0, 8, 12, 6};
  for (const int bare : hits) {
    course::Frame frame;
    frame.green = "North";
    frame.seen = test::at("2027-04-11");
    frame.squaresBare = bare;
    frame.squares = 25;
    course.state.frames.push_back(frame);
  }
  const GreenProgress north = course.progress("2027-04-12").greens.at(0);
  ASSERT_TRUE(north.thinShare);
  EXPECT_NEAR(north.thinShare->value, 0.296, 1e-12);
  EXPECT_NEAR(*north.thinShare->u, 0.055361439, 1e-9);
  EXPECT_EQ(north.frames, 10);
  EXPECT_TRUE(north.looked);
  EXPECT_EQ(north.thinText, "thin stand: 30 ± 6 % bare in ten frames");
  ASSERT_TRUE(north.probabilityReady);
  EXPECT_LT(*north.probabilityReady, 0.4) << "a third bare, five weeks before opening day";
}

// Unequal frames: ratio 0.266666667, u 0.056119586 (reference values, sampling).
TEST(ThinStand, OfUnequalFramesIsTheirRatio) {
  CourseBuilder course;
  const std::pair<int, int> counts[] = {{3, 20}, {10, 25}, {1, 15}, {8, 25}, {6, 20}};
  for (const auto& [bare, squares] : counts) {
    course::Frame frame;
    frame.green = "North";
    frame.seen = test::at("2027-04-11");
    frame.squaresBare = bare;
    frame.squares = squares;
    course.state.frames.push_back(frame);
  }
  const GreenProgress north = course.progress("2027-04-12").greens.at(0);
  EXPECT_NEAR(north.thinShare->value, 0.266666667, 1e-9);
  EXPECT_NEAR(*north.thinShare->u, 0.056119586, 1e-9);
  course.state.frames.resize(1);
  EXPECT_FALSE(course.progress("2027-04-12").greens.at(0).thinShare->u) << "one frame";
}

TEST(Carried, DoubtGrowsWhileNobodyMeasures) {
  CourseBuilder course;
  course.temperature("2027-03-01", "2027-05-31", 16.0);
  course.seen(course.patch("N1"), "2027-04-01", Kind::bare, 1.0, 1.0);
  double before = 0.0;
  for (const char* on : {"2027-04-01", "2027-04-10", "2027-05-10"}) {
    const GreenProgress north = course.progress(on).greens.at(0);
    EXPECT_NEAR(north.bare_m2.value, 1.0, 1e-12) << "as last seen";
    EXPECT_GT(*north.bare_m2.u, before) << on;
    before = *north.bare_m2.u;
  }
}

}  // namespace
}  // namespace swardwalk::answers
