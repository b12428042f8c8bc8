#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "common/answers/plan.h"
#include "tests/common/answers/small_course.h"

namespace swardwalk::answers {
namespace {

using test::CourseBuilder;
using test::find;
using testing::Contains;
using testing::ElementsAre;
using testing::EndsWith;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::Not;
using testing::StartsWith;
using turf::Kind;

TEST(Tasks, SandOnLivingGrassIsClearedUntilItWasRakedBack) {
  CourseBuilder course;
  course.shed();
  course::Patch& patch = course.patch("N1");
  course.seen(patch, "2027-04-11", Kind::washed, 2.0, 1.0).sandLying_mm = 15.0;
  const PlannedPatch planned = find(course.plan("2027-04-12"), "N1");
  ASSERT_TRUE(planned.sandLying_l);
  EXPECT_NEAR(planned.sandLying_l->value, 30.0, 1e-9) << "2 m2 by 15 mm";
  EXPECT_GT(*planned.sandLying_l->u, 30.0 * 2.0 / 15.0 - 1e-9) << "the depth is read to 2 mm";
  EXPECT_THAT(planned.tasks, ElementsAre(StartsWith("Clear the sand off the living grass within")));

  course.repair(patch, "2027-04-12").rakedBack = true;
  EXPECT_THAT(find(course.plan("2027-04-12"), "N1").tasks, IsEmpty());
}

TEST(Tasks, MowersStayOffSeedAndYoungGrass) {
  CourseBuilder course;
  course.shed();
  course.temperature("2027-03-01", "2027-05-20", 15.0);
  course::Patch& patch = course.patch("N1");
  course.seen(patch, "2027-04-01", Kind::bare, 1.0, 1.0);
  course.sown(patch, "2027-04-01");
  EXPECT_THAT(find(course.plan("2027-04-05"), "N1").tasks,
              ElementsAre(StartsWith("Keep mower and drag mat off it")));
  course.up(patch, "2027-04-11");
  EXPECT_THAT(find(course.plan("2027-04-12"), "N1").tasks,
              ElementsAre("No mowing and no drag mat before 25 April.",
                          "Then, where a tug holds, roll it lightly and cut it at 10 mm; lower by "
                          "0.8 mm to 1.6 mm a week."));
  EXPECT_THAT(find(course.plan("2027-04-25"), "N1").tasks,
              ElementsAre(StartsWith("Where a tug holds, roll it lightly and cut it at 10 mm")));
}

TEST(Tasks, YoungGrassComesDownToTheHeightOfItsGreenInSteps) {
  CourseBuilder course;
  course.shed();
  course::Patch& patch = course.patch("N1");
  course.seen(patch, "2027-04-01", Kind::bare, 1.0, 1.0);
  course.sown(patch, "2027-04-01");
  course.up(patch, "2027-04-11");
  course::Mowing& mowing = course.state.mowings.emplace_back();
  mowing.green = "North";
  mowing.done = test::at("2027-04-10");
  mowing.height_mm = 5.2;
  // 10 to 5.2 mm by 1.6 and by 0.8 mm a week.
  EXPECT_THAT(find(course.plan("2027-04-26"), "N1").tasks,
              ElementsAre(EndsWith("a week: at the green's 5.2 mm after three to six weeks.")));
}

TEST(Tasks, LaidTurfIsKeptMoistAndRolledBeforeItsFirstCut) {
  CourseBuilder course;
  course.shed();
  course.temperature("2027-03-01", "2027-05-20", 15.0);
  course::Patch& patch = course.patch("N1");
  course.seen(patch, "2027-04-10", Kind::bare, 1.0, 1.0);
  course.repair(patch, "2027-04-10T12:00:00Z").turf_m2 = 1.1;
  EXPECT_THAT(find(course.plan("2027-04-12"), "N1").tasks,
              ElementsAre("Keep the turf moist; no mowing and no drag mat before 24 April.",
                          StartsWith("Then, where no corner lifts, roll it and cut it at 10 mm")));
  EXPECT_THAT(find(course.plan("2027-04-25"), "N1").tasks,
              ElementsAre(StartsWith("Where no corner lifts, roll it")));
  course.state.course.settings["turf_roots_after_d"] = 20.0;
  EXPECT_THAT(find(course.plan("2027-04-12"), "N1").tasks, Contains(EndsWith("before 30 April.")))
      << "a course's own number of days";
}

TEST(Tasks, WashedOutTwiceAsksWhereTheWaterComesFrom) {
  CourseBuilder course;
  course.shed();
  course::Patch& patch = course.patch("N1");
  course.seen(patch, "2027-03-01", Kind::washed, 1.0, 1.0);
  course.seen(patch, "2027-04-10", Kind::washed, 2.0, 1.5);
  EXPECT_THAT(find(course.plan("2027-04-12"), "N1").tasks,
              Contains("Find where the water comes from before anything is sown."));
}

TEST(Loads, GoGreenByGreenUnderTheCartsLimit) {
  CourseBuilder course;
  course.shed();
  for (const char* id : {"N1", "N2", "N3"}) {
    course.seen(course.patch(id), "2027-04-11", Kind::dug, 1.0, 1.0).depths_mm = {60.0};
  }
  EXPECT_THAT(course.plan("2027-04-12").loads, IsEmpty()) << "no limit is known";
  course.state.course.cartLimit_kg = 120.0;
  const Plan plan = course.plan("2027-04-12");
  double carried_kg = 0.0;
  double planned_kg = 0.0;
  for (const CartLoad& load : plan.loads) {
    EXPECT_LE(load.weight_kg, 120.0 + 1e-3);
    EXPECT_EQ(load.green, "North");
    carried_kg += load.weight_kg;
  }
  for (const PlannedPatch& patch : plan.patches) {
    planned_kg += patch.fill_kg->value + (patch.seed_g->value + patch.feed_g->value) / 1000.0;
  }
  EXPECT_GE(plan.loads.size(), 2U);
  EXPECT_NEAR(carried_kg, planned_kg, 1e-9);
  EXPECT_EQ(plan.loads.front().number, 1);
  EXPECT_THAT(plan.loads.front().labels, StartsWith("N1"));
}

TEST(Loads, WeighTurfByItsThicknessOrSayThatTheyDoNot) {
  CourseBuilder course;
  course.shed();
  course.state.course.cartLimit_kg = 200.0;
  course.state.course.openingDay = test::date("2027-05-15");
  course.temperature("2027-03-01", "2027-04-12", 18.0);
  turf::Turf& sod = course.state.turfs.emplace_back();
  sod.name = "Sod";
  sod.species = "creeping bentgrass";
  course.seen(course.patch("N1"), "2027-04-11", Kind::bare, 1.0, 1.0);
  const Plan unknown = course.plan("2027-04-12");
  EXPECT_THAT(unknown.loads, IsEmpty());
  EXPECT_THAT(unknown.notes, Contains(HasSubstr("Sod is not weighed in the cart loads")));
  sod.thickness_mm = 20.0;
  const Plan plan = course.plan("2027-04-12");
  ASSERT_EQ(plan.loads.size(), 1U);
  EXPECT_NEAR(plan.loads.front().weight_kg, find(plan, "N1").turf_m2->value * 20.0 * 1.6, 1e-9);
  EXPECT_THAT(plan.notes, Not(Contains(HasSubstr("not weighed"))));
}

TEST(Feed, GivesPhosphorusAndPotassiumAsElements) {
  // Virginia Tech SPES-201: P = 0.4364 P2O5, K = 0.8301 K2O (atomic masses of IUPAC).
  CourseBuilder course;
  course.shed();
  course.state.feeds.front().phosphate_percent = 9.0;
  course.state.feeds.front().potash_percent = 6.0;
  course.seen(course.patch("N1"), "2027-04-11", Kind::hungry, 2.0, 2.0);
  const PlannedPatch planned = find(course.plan("2027-04-12"), "N1");
  ASSERT_TRUE(planned.nitrogen_g_m2 && planned.phosphorus_g_m2 && planned.potassium_g_m2);
  EXPECT_NEAR(*planned.phosphorus_g_m2 / *planned.nitrogen_g_m2, 9.0 * 0.4364 / 6.0, 1e-4);
  EXPECT_NEAR(*planned.potassium_g_m2 / *planned.nitrogen_g_m2, 6.0 * 0.8301 / 6.0, 1e-4);
}

}  // namespace
}  // namespace swardwalk::answers
