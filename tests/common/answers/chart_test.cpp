#include "common/answers/chart.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "common/answers/green_chart.h"
#include "tests/common/answers/small_course.h"

namespace swardwalk::answers {
namespace {

using testing::HasSubstr;
using testing::Not;

constexpr double april = 20909.0;  // 1 April 2027, days since 1970

int times(const std::string& text, std::string_view piece) {
  int n = 0;
  for (std::size_t at = text.find(piece); at != std::string::npos; at = text.find(piece, at + 1)) {
    ++n;
  }
  return n;
}

Chart seen() {
  Chart chart;
  chart.axis = "bare, m²";
  chart.seen = {{april, 3.0, 0.2, false},
                {april + 7, 2.5, 0.2, false},
                {april + 14, 3.4, 0.2, true},
                {april + 21, 3.0, std::nullopt, false}};
  return chart;
}

TEST(Chart, HasADotForEachSightingAndABarForEachKnownUncertainty) {
  const std::string drawn = svg(seen());
  EXPECT_EQ(times(drawn, "<circle"), 4);
  Chart without = seen();
  for (ChartDot& dot : without.seen) dot.u.reset();
  EXPECT_EQ(times(drawn, "<line") - times(svg(without), "<line"), 3 * 3);
}

TEST(Chart, TheLineBreaksWhereAChapterBegins) {
  EXPECT_EQ(times(svg(seen()), "<polyline"), 2);
  Chart one = seen();
  one.seen[2].newChapter = false;
  EXPECT_EQ(times(svg(one), "<polyline"), 1);
}

TEST(Chart, DrawsTheComputedLineInItsBand) {
  Chart chart = seen();
  chart.computed = {{april + 14, 3.4, 3.2, 3.6}, {april + 40, 1.0, 0.5, 2.0}};
  const std::string drawn = svg(chart);
  EXPECT_EQ(times(drawn, "<polygon"), 1);
  EXPECT_THAT(drawn, HasSubstr("fill-opacity=\"0.25\""));
  // The first chapter's dots are joined, the last one has its computed line.
  EXPECT_EQ(times(drawn, "<polyline"), 2);
  EXPECT_THAT(drawn, HasSubstr("stroke-width=\"2.5\""));
}

TEST(Chart, NamesAxisUnitOpeningDayAndEnd) {
  Chart chart = seen();
  chart.openingDay = april + 44;
  chart.endLabel = "closes\n20 May";
  chart.title = "North 7 & more";
  const std::string drawn = svg(chart);
  EXPECT_THAT(drawn, HasSubstr(">bare, m²<"));
  EXPECT_THAT(drawn, HasSubstr(">opening day, 15 May<"));
  EXPECT_THAT(drawn, HasSubstr(">20 May<"));
  EXPECT_THAT(drawn, HasSubstr("North 7 &amp; more"));
}

TEST(Chart, UsesPlainAttributesOfOneFontOnly) {
  Chart chart = seen();
  chart.computed = {{april + 14, 3.4, 3.2, 3.6}, {april + 40, 1.0, 0.5, 2.0}};
  const std::string drawn = svg(chart);
  for (const char* not_in_tiny : {"style", "class", "clip", "filter", "<g", "url("}) {
    EXPECT_THAT(drawn, Not(HasSubstr(not_in_tiny)));
  }
  EXPECT_EQ(times(drawn, "<text"), times(drawn, "font-family=\"B612\""));
}

TEST(Chart, AnEmptyOneSaysThatNothingWasMeasured) {
  const std::string drawn = svg(Chart{});
  EXPECT_THAT(drawn, HasSubstr("nothing measured yet"));
  EXPECT_THAT(drawn, Not(HasSubstr("nan")));
  EXPECT_THAT(drawn, Not(HasSubstr("inf")));
}

TEST(Chart, OneDotOfNoSizeStillHasAxes) {
  Chart chart;
  chart.seen = {{april, 0.0, std::nullopt, false}};
  const std::string drawn = svg(chart);
  EXPECT_THAT(drawn, Not(HasSubstr("nan")));
  EXPECT_EQ(times(drawn, "<circle"), 1);
}

TEST(Chart, AxisTicksAreRoundNumbers) {
  const std::string drawn = svg(seen());
  for (const char* tick : {">0<", ">1<", ">2<", ">3<", ">4<"}) EXPECT_THAT(drawn, HasSubstr(tick));
  EXPECT_THAT(drawn, HasSubstr(">1 Apr<"));
}

TEST(Chart, ANarrowChartHasItsEndLabelAboveThePlotInTwoLines) {
  Chart chart = seen();
  chart.endLabel = "closes 20 May\n8 of 10 between\n16 May\nand 25 May";
  chart.width = 340;
  const std::string drawn = svg(chart);
  EXPECT_THAT(drawn, HasSubstr("x=\"0.0\" y=\"32.9\""));
  EXPECT_THAT(drawn, HasSubstr(">closes 20 May<"));
  EXPECT_THAT(drawn, HasSubstr(">8 of 10 between 16 May and 25 May<"));
}

TEST(GreenChart, OfAGreenThatNobodyWalkedIsNotDrawn) {
  test::CourseBuilder course;
  EXPECT_FALSE(greenChart(course.state, course.progress("2027-04-12"), "North"));
  course.seen(course.patch("N1"), "2027-04-11", turf::Kind::bare, 1.0, 1.0);
  EXPECT_TRUE(greenChart(course.state, course.progress("2027-04-12"), "North"));
}

}  // namespace
}  // namespace swardwalk::answers
