#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "common/answers/patch_life.h"
#include "tests/common/answers/small_course.h"

namespace swardwalk::answers {
namespace {

using test::CourseBuilder;

PatchLife life(const CourseBuilder& course, std::string_view patch) {
  const Progress progress = course.progress("2027-04-12");
  const auto found = patchLife(course.state, progress, patch, measure::UnitSystem::metric);
  return found.value();
}

TEST(PatchLife, TellsTheNewestFirst) {
  const PatchLife told = life(test::stormyCourse(), "N7");
  std::vector<std::string> lines;
  for (const LifeLine& line : told.lines) {
    lines.push_back(line.date + ": " + line.what);
  }
  EXPECT_THAT(lines, testing::ElementsAre(
                         "11 April: seen, by tape", "28 March: seen, by tape",
                         "21 March: Chapter 2: washed again, seen, by tape, 26.0 ± 2.0 mm deep",
                         "20 March: up", "4 March: sown, Bent 26-4, 10.0 g",
                         "1 March: Chapter 1: washed, seen, by tape, 34.0 ± 2.0 mm deep"));
  EXPECT_EQ(told.lines[0].who, "Ansa");
  EXPECT_EQ(told.lines[0].amount.unit, "m²");
  EXPECT_EQ(told.lines[2].weight, Weight::stop);
}

TEST(PatchLife, NamesTheRainThatTookTheSeed) {
  const PatchLife told = life(test::stormyCourse(), "N10");
  EXPECT_EQ(told.lines.front().what, "24.0 mm of rain washed the seed out");
  EXPECT_EQ(told.lines.front().sort, LifeSort::rain);
}

TEST(PatchLife, ShowsItsPicturesNewestFirst) {
  CourseBuilder course = test::stormyCourse();
  course::Patch& patch = *std::find_if(course.state.patches.begin(), course.state.patches.end(),
                                       [](const course::Patch& one) { return one.id == "N7"; });
  course::Photo first;
  first.seen = test::at("2027-03-28T09:00:00Z");
  first.photo.fill(1);
  course::Photo second = first;
  second.seen = test::at("2027-04-11T09:00:00Z");
  second.photo.fill(2);
  second.small.emplace().fill(3);
  second.source.author = "Ansa";
  second.source.note = "below the bunker";
  patch.photos = {first, second};
  const PatchLife told = life(course, "N7");
  ASSERT_EQ(told.photos.size(), 2U);
  EXPECT_EQ(told.photos[0].text, "11 April, Ansa: below the bunker");
  EXPECT_EQ(told.photos[0].photo, second.photo);
  EXPECT_EQ(told.photos[0].small, *second.small);
  EXPECT_EQ(told.photos[1].text, "28 March");
  EXPECT_EQ(told.photos[1].small, first.photo);
}

TEST(PatchLife, ItsChartBreaksAtTheSecondChapter) {
  const PatchLife told = life(test::stormyCourse(), "N7");
  ASSERT_EQ(told.chart.seen.size(), 4U);
  EXPECT_FALSE(told.chart.seen[0].newChapter);
  EXPECT_TRUE(told.chart.seen[1].newChapter);
  EXPECT_FALSE(told.chart.seen[2].newChapter);
  EXPECT_FALSE(told.chart.computed.empty());
  EXPECT_NE(told.chartSvg.find("opening day, 15 May"), std::string::npos);
}

TEST(PatchLife, OfNoPatchIsNothing) {
  const CourseBuilder course;
  EXPECT_FALSE(
      patchLife(course.state, course.progress("2027-04-12"), "nobody", measure::UnitSystem::metric)
          .has_value());
}

}  // namespace
}  // namespace swardwalk::answers
