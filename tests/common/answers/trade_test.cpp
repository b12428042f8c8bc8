#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>

#include "common/answers/plan.h"
#include "tests/common/answers/small_course.h"

// What a greenkeeper would expect of the whole plan (common practice, no source).
namespace swardwalk::answers {
namespace {

using repair::Choice;
using repair::SowingState;
using test::CourseBuilder;
using test::date;
using test::find;
using testing::AnyOf;
using testing::Contains;
using testing::HasSubstr;
using turf::Kind;

/// A bare disc of 0.3 m2 on a bentgrass green at 18 C, seen the day before.
struct Disc {
  Disc() : patch(course.patch("N1")) {
    course.shed();
    course.temperature("2027-03-20", "2027-04-12", 18.0);
    course::Sighting& seen = course.seen(patch, "2027-04-11", Kind::bare);
    const double width_m = 2.0 * std::sqrt(0.3 / M_PI);
    seen.tape = course::TapeSize{geo::TapeForm::ellipse, width_m, width_m};
  }
  PlannedPatch opening(int inDays) {
    course.state.course.openingDay = date("2027-04-12") + std::chrono::days(inDays);
    return find(course.plan("2027-04-12"), "N1");
  }

  CourseBuilder course;
  course::Patch& patch;
};

TEST(Trade, ADiscThatMustBeReadyInFortyFiveDaysIsNeverLeft) {
  Disc disc;
  const PlannedPatch seed = disc.opening(45);
  EXPECT_EQ(seed.choice, Choice::overseed);
  EXPECT_THAT(seed.reason, HasSubstr("late")) << "the miss is stated";

  turf::Turf& sod = disc.course.state.turfs.emplace_back();
  sod.name = "Sand-grown bent";
  sod.species = "creeping bentgrass";
  EXPECT_EQ(disc.opening(45).choice, Choice::turf);
}

TEST(Trade, ADiscThatHasAHundredAndTenDaysIsSownFromStockWithDrySand) {
  Disc disc;
  const PlannedPatch planned = disc.opening(110);
  EXPECT_EQ(planned.choice, Choice::overseed);
  ASSERT_TRUE(planned.seed_g);
  EXPECT_GE(planned.seed_g->value, 1.5);
  EXPECT_LE(planned.seed_g->value, 5.0);
  EXPECT_THAT(disc.course.plan("2027-04-12").notes,
              Contains(HasSubstr("from stock, mixed with dry sand")));
}

TEST(Trade, RyegrassIsNeverPutOnABentgrassGreen) {
  Disc disc;
  std::erase_if(disc.course.state.seedLots,
                [](const turf::SeedLot& lot) { return lot.name == "Bent 26-4"; });
  ASSERT_EQ(disc.course.state.seedLots.size(), 1U) << "only ryegrass is in stock";
  const PlannedPatch planned = disc.opening(110);
  EXPECT_TRUE(planned.seedLot.empty());
  EXPECT_FALSE(planned.seed_g);
  EXPECT_THAT(planned.reason, HasSubstr("no lot of a grass that belongs on North"));
}

TEST(Trade, ABowlFortyMillimetresDeepTakesAFewLitres) {
  CourseBuilder course;
  course.shed();
  course.temperature("2027-03-20", "2027-04-12", 18.0);
  course::Patch& patch = course.patch("N1");
  course::Sighting& seen = course.seen(patch, "2027-04-11", Kind::dug);
  const double width_m = 2.0 * std::sqrt(0.3 / M_PI);
  seen.tape = course::TapeSize{geo::TapeForm::ellipse, width_m, width_m};
  seen.depths_mm = {40.0};
  const PlannedPatch planned = find(course.plan("2027-04-12"), "N1");
  EXPECT_EQ(planned.choice, Choice::fillAndSow);
  ASSERT_TRUE(planned.fill_l && planned.fill_kg);
  EXPECT_GE(planned.fill_l->value, 4.0);
  EXPECT_LE(planned.fill_l->value, 8.0);
  EXPECT_GE(planned.fill_kg->value, 6.0);
  EXPECT_LE(planned.fill_kg->value, 13.0);
  course.repair(patch, "2027-04-11T12:00:00Z").rakedBack = true;
  EXPECT_LT(find(course.plan("2027-04-12"), "N1").fill_l->value, planned.fill_l->value);
}

TEST(Trade, RyegrassAtTenDegreesIsWaitedForAWeekAndMissedAfterThree) {
  CourseBuilder course;
  course.shed();
  course.temperature("2027-03-01", "2027-05-20", 10.0);
  course::Patch& patch = course.patch("N1", course::Zone::bank);
  course.seen(patch, "2027-04-01", Kind::bare, 1.0, 1.0);
  course.sown(patch, "2027-04-01", "Ryegrass 26-1", 35.0);
  EXPECT_EQ(find(course.progress("2027-04-09"), "N1").sowing, SowingState::waiting);
  const Progress late = course.progress("2027-04-23");
  EXPECT_EQ(find(late, "N1").sowing, SowingState::overdue);
  EXPECT_THAT(find(late, "N1").why, HasSubstr("dryness")) << "named first";
}

TEST(Trade, WhatIsOverdueIsNamedInTheReasonOfItsRepair) {
  CourseBuilder course;
  course.shed();
  course.temperature("2027-02-01", "2027-04-12", 18.0);
  course.state.course.openingDay = date("2027-07-15");
  course::Patch& patch = course.patch("N1");
  course.seen(patch, "2027-03-10", Kind::bare, 1.0, 1.0);
  course.sown(patch, "2027-03-11");
  course.seen(patch, "2027-04-11", Kind::bare, 1.0, 1.0);
  const PlannedPatch planned = find(course.plan("2027-04-12"), "N1");
  ASSERT_EQ(planned.sowing, SowingState::overdue);
  EXPECT_EQ(planned.choice, Choice::overseed);
  EXPECT_THAT(planned.reason, HasSubstr("Sown 11 March and not up in time; left alone"));
}

TEST(Trade, BentgrassAtSixDegreesHasNoDate) {
  CourseBuilder course;
  course.shed();
  course.temperature("2027-03-01", "2027-04-12", 6.0);
  course::Patch& patch = course.patch("N1");
  course.seen(patch, "2027-04-11", Kind::bare, 1.0, 1.0);
  const PatchProgress bare = find(course.progress("2027-04-12"), "N1");
  EXPECT_FALSE(bare.closesOn);
  EXPECT_THAT(bare.answer, HasSubstr("too cold"));
  course.sown(patch, "2027-04-11T12:00:00Z");
  const PatchProgress sown = find(course.progress("2027-04-12"), "N1");
  EXPECT_FALSE(sown.closesOn);
  EXPECT_EQ(sown.sowing, SowingState::waiting);
}

TEST(Trade, EveryTotalIsTheSumOfItsLines) {
  const Plan plan = test::stormyCourse().plan("2027-04-12");
  for (const MaterialTotal& total : plan.totals) {
    if (!total.amount_kg) continue;
    double sum_kg = 0.0;
    for (const PlannedPatch& patch : plan.patches) {
      if (patch.green != total.green) continue;
      if (patch.seedLot == total.material && patch.seed_g) sum_kg += patch.seed_g->value / 1000.0;
      if (patch.feed == total.material && patch.feed_g) sum_kg += patch.feed_g->value / 1000.0;
      if (patch.fill == total.material && patch.fill_kg) sum_kg += patch.fill_kg->value;
    }
    EXPECT_NEAR(total.amount_kg->value, sum_kg, 1e-9) << total.material;
  }
}

// Nonsense in the records: each a clear word, and the rest of the plan still stands.

struct Spoilt : Disc {
  Spoilt() {
    course.seen(course.patch("N2"), "2027-04-11", Kind::bare, 0.5, 0.4);
    course.state.course.openingDay = date("2027-08-01");
  }
  Plan plan() const { return course.plan("2027-04-12"); }
};

TEST(Nonsense, APurityOfNothing) {
  Spoilt spoilt;
  for (turf::SeedLot& lot : spoilt.course.state.seedLots) lot.purity = 0.0;
  const Plan plan = spoilt.plan();
  EXPECT_EQ(plan.patches.size(), 2U);
  for (const PlannedPatch& patch : plan.patches) {
    EXPECT_FALSE(patch.seed_g);
    EXPECT_THAT(patch.warnings, Contains("seed unknown: Bent 26-4 has a purity of 0"));
    EXPECT_TRUE(patch.feed_g) << "the rest stands";
  }
}

TEST(Nonsense, APurityOfAHundredAndFortyPercent) {
  Spoilt spoilt;
  for (turf::SeedLot& lot : spoilt.course.state.seedLots) lot.purity = 1.4;
  for (const PlannedPatch& patch : spoilt.plan().patches) {
    EXPECT_FALSE(patch.seed_g);
    EXPECT_THAT(patch.warnings, Contains(HasSubstr("purity")));
  }
}

TEST(Nonsense, ALotPastItsTestAndStockBelowNothing) {
  Spoilt spoilt;
  for (turf::SeedLot& lot : spoilt.course.state.seedLots) {
    lot.tested = date("2025-01-01");
    lot.stock_kg = -3.0;
  }
  const Plan plan = spoilt.plan();
  for (const PlannedPatch& patch : plan.patches) {
    EXPECT_THAT(patch.warnings, Contains(HasSubstr("germination tested")));
  }
  for (const OrderLine& line : plan.order) {
    if (line.material != "Bent 26-4") continue;
    EXPECT_GE(*line.needed_kg, 0.0);
    EXPECT_GE(*line.leftOver_kg, 0.0) << "stock below nothing counts as none";
  }
}

TEST(Nonsense, ASowingFromALotThatNobodyRecorded) {
  Spoilt spoilt;
  spoilt.course.sown(spoilt.patch, "2027-04-11T15:00:00Z", "No such lot");
  const Plan plan = spoilt.plan();
  EXPECT_EQ(plan.patches.size(), 2U);
  EXPECT_THAT(find(plan, "N1").sowing, AnyOf(SowingState::waiting, SowingState::due));
}

}  // namespace
}  // namespace swardwalk::answers
