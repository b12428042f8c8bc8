#include "common/answers/grass_settings.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "common/answers/settings.h"
#include "tests/common/answers/small_course.h"

namespace swardwalk::answers {
namespace {

using testing::Contains;
using testing::HasSubstr;

TEST(GrassSettings, ACourseMayStateItsOwnFigureAndTheRangeMovesWithIt) {
  const Settings settings({{"perennial_ryegrass_seeds_per_g", 580.0}});
  const turf::Species* shipped = turf::findSpecies("ryegrass");
  const turf::Species* own = settings.grass("dwarf ryegrass");
  ASSERT_NE(own, nullptr);
  EXPECT_DOUBLE_EQ(own->seedsPerGram.best, 580.0);
  EXPECT_DOUBLE_EQ(own->seedsPerGram.low, shipped->seedsPerGram.low * 580.0 / 530.0);
  EXPECT_EQ(own->daysUpAt10_c, shipped->daysUpAt10_c);
  EXPECT_EQ(settings.grass("creeping bentgrass")->seedsPerGram.best, 14110.0);
}

TEST(GrassSettings, TheColdestDayOfAGrassCanBeMovedAndNothingGrowsBelow) {
  const Settings settings({{"creeping_bentgrass_coldest_c", 9.0}});
  EXPECT_FALSE(turf::daysUp(*settings.grass("creeping bentgrass"), 8.5));
  EXPECT_TRUE(turf::daysUp(*settings.grass("creeping bentgrass"), 9.5));
}

TEST(GrassSettings, AFigureFarOffIsNotTaken) {
  const Settings settings({{"perennial_ryegrass_seeds_per_g", 53000.0}});
  EXPECT_EQ(settings.grass("ryegrass")->seedsPerGram.best, 530.0);
  EXPECT_THAT(settings.notes(), Contains(HasSubstr("perennial_ryegrass_seeds_per_g")));
}

TEST(GrassSettings, ThePlanSaysWhichFiguresAreTheCoursesOwn) {
  test::CourseBuilder course;
  course.state.course.settings["perennial_ryegrass_seeds_per_g"] = 580.0;
  EXPECT_THAT(course.plan("2027-04-12").notes,
              Contains("Perennial ryegrass: seeds: 580 a gram, as this course set it; 530 as it "
                       "comes."));
}

TEST(GrassSettings, MoreSeedsInAGramNeedFewerGrams) {
  test::CourseBuilder course;
  course.shed();
  course.seen(course.patch("N1"), "2027-04-11", turf::Kind::bare, 1.0, 1.0);
  course.state.course.openingDay = test::date("2027-09-01");
  const double before_g = test::find(course.plan("2027-04-12"), "N1").seed_g->value;
  course.state.course.settings["creeping_bentgrass_seeds_per_g"] = 2.0 * 14110.0;
  EXPECT_NEAR(test::find(course.plan("2027-04-12"), "N1").seed_g->value, 0.5 * before_g, 1e-9);
}

TEST(GrassSettings, EveryFigureOfEveryGrassHasASetting) {
  // Nine figures and a limit for each of nine grasses; two rates have names of their own.
  EXPECT_EQ(grassSettings().size(), 9U * 10U - 2U);
}

}  // namespace
}  // namespace swardwalk::answers
