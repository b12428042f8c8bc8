#include "common/answers/measure.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <boost/json.hpp>
#include <chrono>
#include <numbers>

#include "common/geo/local_plane.h"
#include "tests/common/geo/small_polygons.h"

namespace swardwalk::answers {
namespace {

using testing::Contains;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::StartsWith;

const geo::LocalPlane plane({51.5, -0.12});

ToMeasure drawn(const geo::LocalRing& ring, std::optional<double> edge_u_m = std::nullopt) {
  DrawnOutline outline;
  outline.shape = {{plane.toGlobe(ring), {}}};
  outline.edge_u_m = edge_u_m;
  return {"Hollow 3", outline, {}};
}

MeasuredOutline measured(const ToMeasure& outline) {
  const auto answer = measureOutline(outline, measure::UnitSystem::metric);
  EXPECT_TRUE(answer) << (answer ? "" : answer.error().text());
  return answer.value();
}

TEST(Measure, SmallPolygonsHaveTheirPublishedAreaAndPerimeter) {
  for (const geo::SmallPolygon& polygon : geo::smallPolygons()) {
    DrawnOutline outline;
    outline.shape = {{polygon.ring, {}}};
    const MeasuredOutline answer = measured({polygon.name, outline, {}});
    EXPECT_NEAR(answer.area_m2.value, polygon.truth_m2, 1e-6);
    EXPECT_NEAR(answer.perimeter_m.value, polygon.truthPerimeter_m, 1e-6);
    EXPECT_FALSE(answer.area_m2.u);
    EXPECT_FALSE(answer.perimeter_m.u);
    EXPECT_THAT(answer.warnings, IsEmpty());
  }
}

TEST(Measure, EitherDirectionGivesAPositiveArea) {
  const geo::LocalRing ring = {{0, 0}, {4, 0}, {4, 3}};
  EXPECT_NEAR(measured(drawn(ring)).area_m2.value, 6.0, 1e-8);
  EXPECT_NEAR(measured(drawn({ring.rbegin(), ring.rend()})).area_m2.value, 6.0, 1e-8);
}

TEST(Measure, ADrawnRectangleHasTheDoubtOfItsFourEdges) {
  const MeasuredOutline answer = measured(drawn({{0, 0}, {6, 0}, {6, 2}, {0, 2}}, 0.02));
  // Length and width each by two edges: u^2 = 2 (0.02)^2 each; edges over 0.3 m apart count
  // as nearly independent, a part in ten thousand is left.
  EXPECT_NEAR(answer.area_m2.u.value(), 0.02 * std::sqrt(2.0 * (36.0 + 4.0)), 1e-3);
  EXPECT_NEAR(answer.perimeter_m.u.value(), 0.08, 1e-12);
}

TEST(Measure, ARingThatCrossesItselfIsResolvedWithAWarning) {
  const MeasuredOutline answer = measured(drawn({{0, 0}, {2, 2}, {2, 0}, {0, 2}}));
  EXPECT_NEAR(answer.area_m2.value, 2.0, 1e-6);
  EXPECT_THAT(answer.warnings, ElementsAre(HasSubstr("crosses itself")));
}

TEST(Measure, HolesAreTakenOutAndTheirEdgesCount) {
  ToMeasure outline = drawn({{0, 0}, {4, 0}, {4, 4}, {0, 4}});
  auto& shape = std::get<DrawnOutline>(outline.what).shape;
  shape.front().holes = {plane.toGlobe(geo::LocalRing{{1, 1}, {2, 1}, {2, 2}, {1, 2}})};
  const MeasuredOutline answer = measured(outline);
  EXPECT_NEAR(answer.area_m2.value, 15.0, 1e-6);
  EXPECT_NEAR(answer.perimeter_m.value, 20.0, 1e-6);
  EXPECT_THAT(answer.warnings, IsEmpty());
}

TEST(Measure, AnOutlineRoundThePoleIsOneLikeAnyOther) {
  DrawnOutline outline;
  geo::GlobeRing ring;
  for (int i = 0; i < 4; ++i) ring.push_back({89.9999, 90.0 * i - 90.0});
  outline.shape = {{ring, {}}};
  // 1e-4 degrees at the pole: the meridian's radius there is a / (1 - f).
  const double radius_m = 1e-4 * std::numbers::pi / 180.0 * 6378137.0 / (1.0 - 1.0 / 298.257223563);
  EXPECT_NEAR(measured({"pole", outline, {}}).area_m2.value, 2.0 * radius_m * radius_m, 1e-3);
}

TEST(Measure, WhatEnclosesNothingOrSpansTheGlobeIsRefusedInWords) {
  const auto refusal = [](const ToMeasure& outline) {
    const auto answer = measureOutline(outline, measure::UnitSystem::metric);
    EXPECT_FALSE(answer);
    return answer ? std::string() : answer.error().text();
  };
  EXPECT_THAT(refusal({"none", DrawnOutline{}, {}}), StartsWith("none: no place"));
  EXPECT_THAT(refusal(drawn({{0, 0}, {1, 1}})), HasSubstr("enclose nothing"));
  DrawnOutline pole;
  pole.shape = {{{{90, 0}, {90, 90}, {90, 180}}, {}}};
  EXPECT_THAT(refusal({"pole", pole, {}}), HasSubstr("enclose nothing"))
      << "the pole by three names";
  EXPECT_THAT(refusal({"none", Track{}, {"line 1: nonsense"}}), HasSubstr("line 1: nonsense"));
  DrawnOutline wide;
  wide.shape = {{{{51.5, -0.12}, {-0.12, 51.5}, {51.6, -0.12}}, {}}};
  EXPECT_THAT(refusal({"wide", wide, {}}), HasSubstr("swapped"));
}

ToMeasure walk(double radius_m, double accuracy_m) {
  Track track;
  for (int i = 0; i < 63; ++i) {
    geo::Fix fix;
    fix.position = plane.toGlobe({radius_m * std::cos(0.1 * i), radius_m * std::sin(0.1 * i)});
    fix.time = measure::Instant{std::chrono::seconds{1'800'000'000 + i}};
    fix.accuracy_m = accuracy_m;
    track.fixes.push_back(fix);
  }
  track.unreadable = 2;
  return {"Hollow 4", track, {"2 positions make no sense"}};
}

TEST(Measure, ATrackIsCleanedAndWhatCouldNotBeReadCountsAsDropped) {
  const MeasuredOutline answer = measured(walk(10.0, 0.02));
  EXPECT_NEAR(answer.area_m2.value, std::numbers::pi * 100.0, 1.0);
  EXPECT_GT(answer.area_m2.u.value(), 0.0);
  EXPECT_EQ(answer.fixesUsed, 63);
  EXPECT_EQ(answer.fixesDropped, 2);
  EXPECT_NEAR(answer.closedGap_m, 0.83, 0.01);
  EXPECT_THAT(answer.warnings, ElementsAre("2 positions make no sense"));
}

TEST(Measure, WarningsAndTextAreInTheUnitsThatAreAskedFor) {
  const auto answer = measureOutline(walk(1.0, 4.0), measure::UnitSystem::imperial);
  ASSERT_TRUE(answer);
  EXPECT_THAT(answer->warnings, Contains(HasSubstr("ft²")));
  const std::string text = measureText(std::span(&*answer, 1), measure::UnitSystem::imperial);
  EXPECT_THAT(text, HasSubstr("ft²"));
  EXPECT_THAT(text, testing::Not(HasSubstr("m²")));
}

TEST(Measure, JsonAndCsvHoldPlainNumbersAndNullWhereUnknown) {
  const std::vector<MeasuredOutline> outlines = {measured(drawn({{0, 0}, {4, 0}, {4, 3}})),
                                                 measured(walk(10.0, 0.02))};
  const boost::json::value json = boost::json::parse(measureJson(outlines));
  const auto& list = json.at("outlines").as_array();
  ASSERT_EQ(list.size(), 2U);
  const auto& first = list[0].as_object();
  std::vector<std::string> keys;
  for (const auto& member : first) keys.emplace_back(member.key());
  EXPECT_THAT(keys, ElementsAre("name", "area_m2", "area_u_m2", "perimeter_m", "perimeter_u_m",
                                "fixes_used", "fixes_dropped", "closed_gap_m", "warnings"));
  EXPECT_TRUE(first.at("area_u_m2").is_null());
  EXPECT_NEAR(first.at("area_m2").to_number<double>(), 6.0, 1e-6);
  EXPECT_EQ(list[1].at("fixes_used"), 63);
  EXPECT_EQ(boost::json::parse(measureJson({})).at("outlines").as_array().size(), 0U);
  EXPECT_THAT(measureCsv(outlines),
              StartsWith("name,area_m2,area_u_m2,perimeter_m,perimeter_u_m,fixes_used,"
                         "fixes_dropped,closed_gap_m,warnings\r\nHollow 3,"));
}

}  // namespace
}  // namespace swardwalk::answers
