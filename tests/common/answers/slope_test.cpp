#include <gtest/gtest.h>

#include <cmath>

#include "common/answers/plan.h"
#include "tests/common/answers/small_course.h"

// What the slope of a surround changes.
namespace swardwalk::answers {
namespace {

using repair::SowingState;
using test::CourseBuilder;
using test::find;
using turf::Kind;

struct Bank : CourseBuilder {
  Bank() {
    shed();
    temperature("2027-03-01", "2027-04-12", 12.0);
  }
  course::Surround& surround() { return state.surrounds.front(); }
};

TEST(Slope, DecidesWhichRainWashesSeedAway) {
  Bank course;
  course::Patch& patch = course.patch("N1", course::Zone::bank);
  course.seen(patch, "2027-04-05", Kind::bare, 1.0, 1.0);
  course.sown(patch, "2027-04-05", "Ryegrass 26-1", 35.0);
  course.rain("2027-04-09", 25.0, 12.0);
  const auto sowing = [&] { return find(course.progress("2027-04-12"), "N1").sowing; };
  EXPECT_EQ(sowing(), SowingState::washedOut) << "a bank of unknown slope";
  course.surround().slope_percent = 7.9;
  EXPECT_EQ(sowing(), SowingState::waiting) << "a bank that is hardly one";
  course.surround().slope_percent = 8.0;
  EXPECT_EQ(sowing(), SowingState::washedOut);
  course.surround().zone = course::Zone::collar;
  patch.zone = course::Zone::collar;
  EXPECT_EQ(sowing(), SowingState::washedOut) << "a collar as steep as a bank";
  course.surround().slope_percent.reset();
  EXPECT_EQ(sowing(), SowingState::waiting) << "a collar of unknown slope is flat";
}

TEST(Slope, StretchesWhatWasOutlinedFromAboveAndNotWhatWasTaped) {
  Bank course;
  course.surround().slope_percent = 50.0;
  course::Patch& taped = course.patch("N1", course::Zone::bank);
  course.seen(taped, "2027-04-11", Kind::bare, 2.0, 1.0);
  course::Patch& outlined = course.patch("N2", course::Zone::bank);
  course.seen(outlined, "2027-04-11", Kind::bare).outline = test::rectangle(28.0, 5.0, 2.0, 1.0);
  const Plan plan = course.plan("2027-04-12");
  EXPECT_NEAR(find(plan, "N2").seed_g->value / find(plan, "N1").seed_g->value,
              std::sqrt(1.0 + 0.5 * 0.5), 1e-6)
      << "one metre up on two along";
}

}  // namespace
}  // namespace swardwalk::answers
