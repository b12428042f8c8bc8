#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>

#include "common/answers/plan.h"
#include "tests/common/answers/small_course.h"

// Who does what today, and what is to be minded beside.
namespace swardwalk::answers {
namespace {

using test::CourseBuilder;
using test::find;
using testing::Contains;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::Not;
using turf::Kind;

struct Morning : CourseBuilder {
  Morning() {
    shed();
    temperature("2027-03-01", "2027-04-12", 18.0);
    state.course.openingDay = test::date("2027-08-15");
    seen(patch("N1"), "2027-04-11", Kind::bare, 1.5, 1.5);
    seen(patch("N2"), "2027-04-11", Kind::hungry, 2.0, 1.0);
    seen(patch("N3"), "2027-04-11", Kind::bare, 1.5, 1.5);
  }
  std::vector<std::string> work() {
    std::vector<std::string> out;
    for (const WorkLine& line : plan("2027-04-12").work) {
      out.push_back(line.green + ", " + line.text);
    }
    return out;
  }
  course::Patch& known(std::string_view id) {
    return *std::find_if(state.patches.begin(), state.patches.end(),
                         [&](const course::Patch& one) { return one.id == id; });
  }
};

TEST(Work, StandsByGreenUntilSomebodyIsNamed) {
  Morning course;
  EXPECT_THAT(course.work(), ElementsAre("North, nobody named: N1 overseed, N2 feed, N3 overseed"));
}

TEST(Work, APersonHasALineAndTheRestStandsLast) {
  Morning course;
  course.choose(course.known("N3"), "overseed", "Ansa");
  course.known("N3").choices.back().who = "Tess";
  course.choose(course.known("N2"), "feed", "Ansa");
  course.known("N2").choices.back().who = "Bo";
  EXPECT_THAT(course.work(), ElementsAre("North, Bo: N2 feed", "North, Tess: N3 overseed",
                                         "North, nobody named: N1 overseed"));
  EXPECT_EQ(find(course.plan("2027-04-12"), "N3").who, "Tess");
}

TEST(Work, WhatIsLeftAloneIsThereOnlyForTheSandOnIt) {
  Morning course;
  course.choose(course.known("N1"), "leave");
  course.choose(course.known("N3"), "leave");
  course.known("N3").sightings.back().sandLying_mm = 10.0;
  EXPECT_THAT(course.work(), ElementsAre("North, nobody named: N2 feed, N3 clear the sand"));
}

TEST(Leaving, SaysWhatElseMayGrowThere) {
  Morning course;
  course.choose(course.known("N1"), "leave");
  EXPECT_THAT(find(course.plan("2027-04-12"), "N1").tasks,
              Contains(HasSubstr("annual bluegrass, moss or weeds may take the gap")));
  course.state.greens.front().species.push_back("annual bluegrass");
  EXPECT_THAT(find(course.plan("2027-04-12"), "N1").tasks,
              Contains(HasSubstr("moss, algae or weeds")))
      << "what belongs there is no intruder";
  EXPECT_THAT(find(course.plan("2027-04-12"), "N3").tasks,
              Not(Contains(HasSubstr("take the gap"))));
}

TEST(Sown, FarTooLittleOrTooMuchSeedIsSaid) {
  // 2.25 m2 take about 18 g.
  Morning course;
  course::Repair& sown = course.sown(course.known("N1"), "2027-04-11T15:00:00Z", "Bent 26-4", 5.0);
  EXPECT_THAT(find(course.plan("2027-04-12"), "N1").warnings, Contains(HasSubstr("a thin stand")));
  sown.seed_g = 18.0;
  EXPECT_THAT(find(course.plan("2027-04-12"), "N1").warnings, IsEmpty());
  sown.seed_g = 60.0;
  EXPECT_THAT(find(course.plan("2027-04-12"), "N1").warnings,
              Contains(HasSubstr("sown with 60 g where")));
}

}  // namespace
}  // namespace swardwalk::answers
