#include "common/geo/tape.h"

#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <numbers>
#include <random>

#include "common/geo/outline.h"

namespace swardwalk::geo {
namespace {

using std::numbers::pi;
constexpr double rounding = 1e-12;

TEST(TapeArea, RectangleIsTheSurveyorsExample) {
  // Each side +-0.01 m gives +-0.632 m2; a side lies between two edges, hence sqrt(2).
  const measure::Measured area =
      tapeArea_m2(TapeForm::rectangle, 60.0, 20.0, 0.01 / std::numbers::sqrt2);
  EXPECT_DOUBLE_EQ(area.value, 1200.0);
  EXPECT_NEAR(area.u.value(), 0.632455532, 1e-9);
}

TEST(TapeArea, FormsFillTheirRectangleByTheirShare) {
  EXPECT_NEAR(tapeArea_m2(TapeForm::ellipse, 2.0, 1.0, 0.02).value, pi / 2.0, rounding);
  EXPECT_NEAR(tapeArea_m2(TapeForm::triangle, 2.0, 1.0, 0.02).value, 1.0, rounding);
  const double ofRectangle = tapeArea_m2(TapeForm::rectangle, 2.0, 1.0, 0.02).u.value();
  EXPECT_NEAR(ofRectangle, 0.02 * std::sqrt(2.0) * std::sqrt(5.0), rounding);
  EXPECT_NEAR(tapeArea_m2(TapeForm::ellipse, 2.0, 1.0, 0.02).u.value(), pi / 4.0 * ofRectangle,
              rounding);
  EXPECT_NEAR(tapeArea_m2(TapeForm::triangle, 2.0, 1.0, 0.02).u.value(), 0.5 * ofRectangle,
              rounding);
}

TEST(TapeArea, MonteCarloOfTheEdgesAgrees) {
  std::mt19937_64 random(7);
  std::normal_distribution<double> edge(0.0, 0.02);
  double squares = 0.0;
  constexpr int runs = 40'000;
  for (int i = 0; i < runs; ++i) {
    const double length = 2.0 + edge(random) - edge(random);
    const double width = 0.5 + edge(random) - edge(random);
    squares += std::pow(pi / 4.0 * (length * width - 1.0), 2);
  }
  const double u = tapeArea_m2(TapeForm::ellipse, 2.0, 0.5, 0.02).u.value();
  // 40,000 runs give a standard deviation to 0.35 %; three of those.
  EXPECT_NEAR(std::sqrt(squares / runs), u, 0.0106 * u);
}

TEST(PacedArea, ShortPacesShortenBothSides) {
  const measure::Measured pace{0.75, 0.03};
  const measure::Measured area = pacedArea_m2(TapeForm::rectangle, 8.0, 4.0, pace, 0.0);
  EXPECT_NEAR(area.value, 6.0 * 3.0, rounding);
  // 4 % of a pace are 8 % of the area; counting adds u = 0.144 paces a side.
  const double counted = 0.5 / std::sqrt(12.0) * 0.75 * std::hypot(6.0, 3.0);
  EXPECT_NEAR(area.u.value(), std::hypot(0.08 * 18.0, counted), 1e-9);
  EXPECT_FALSE(pacedArea_m2(TapeForm::rectangle, 8.0, 4.0, {0.75, std::nullopt}, 0.02).u);
}

TEST(PacedArea, MonteCarloOfPaceCountAndEdgesAgrees) {
  std::mt19937_64 random(9);
  std::normal_distribution<double> normal;
  std::uniform_real_distribution<double> part(-0.25, 0.25);
  double squares = 0.0;
  constexpr int runs = 40'000;
  for (int i = 0; i < runs; ++i) {
    const double pace = 0.75 + 0.02 * normal(random);
    const double length = (8.0 + part(random)) * pace + 0.05 * (normal(random) - normal(random));
    const double width = (4.0 + part(random)) * pace + 0.05 * (normal(random) - normal(random));
    squares += std::pow(pi / 4.0 * (length * width - 18.0), 2);
  }
  const double u = pacedArea_m2(TapeForm::ellipse, 8.0, 4.0, {0.75, 0.02}, 0.05).u.value();
  // 1.06 % as below, and the second order of 3 % and 4 %, that first order leaves out.
  EXPECT_NEAR(std::sqrt(squares / runs), u, 0.015 * u);
}

TEST(PaceOf, IsTheMeanAndVariesAsPeopleDo) {
  const std::array<PaceWalk, 1> once{{{30.0, 0.05, 40.0}}};
  const measure::Measured pace = paceOf_m(once);
  EXPECT_NEAR(pace.value, 0.75, rounding);
  EXPECT_NEAR(pace.u.value(), std::hypot(0.05 / 40.0, std::hypot(0.1443 * 0.75 / 40.0, 0.0225)),
              1e-6);
  const std::array<PaceWalk, 3> thrice{
      {{30.0, 0.05, 40.0}, {30.0, 0.05, 36.0}, {30.0, 0.05, 44.0}}};
  EXPECT_NEAR(paceOf_m(thrice).value, 0.75, rounding);
  EXPECT_GT(paceOf_m(thrice).u.value(), 0.07) << "whoever walks so unevenly has no surer pace";
}

TEST(FrameArea, CountsItsShareOfTheFrame) {
  EXPECT_NEAR(frameArea_m2(30, 100, 1.0, 0.02).value, 0.3, rounding);
  EXPECT_NEAR(frameArea_m2(0, 100, 1.0, 0.02).value, 0.0, rounding);
}

TEST(FrameArea, ACountOfNothingIsNotCertain) {
  // Up to half a square may be bare unseen.
  EXPECT_GT(frameArea_m2(0, 100, 1.0, 0.0).u.value(), 0.002);
  EXPECT_LT(frameArea_m2(0, 100, 1.0, 0.0).u.value(), 0.01);
}

TEST(FrameArea, CountingDiscsOnARandomGridErrsAsItSays) {
  std::mt19937_64 random(11);
  std::uniform_real_distribution<double> anywhere(0.0, 0.1);
  constexpr double radius = 0.31;
  double squaredError = 0.0;
  double saidVariance = 0.0;
  constexpr int runs = 400;
  for (int run = 0; run < runs; ++run) {
    const double east = 0.5 + anywhere(random);
    const double north = 0.5 + anywhere(random);
    int bare = 0;
    for (int column = 0; column < 12; ++column) {
      for (int row = 0; row < 12; ++row) {
        int hits = 0;
        for (int part = 0; part < 100; ++part) {
          const double x = 0.1 * column + 0.01 * (part % 10) + 0.005 - east;
          const double y = 0.1 * row + 0.01 * (part / 10) + 0.005 - north;
          if (x * x + y * y < radius * radius) ++hits;
        }
        if (hits > 50) ++bare;
      }
    }
    const measure::Measured counted = frameArea_m2(bare, 144, 1.44, 0.0);
    squaredError += std::pow(counted.value - pi * radius * radius, 2);
    saidVariance += counted.u.value() * counted.u.value();
  }
  // Neighbouring squares' roundings are not quite independent; a rule of thumb to 40 %.
  EXPECT_NEAR(std::sqrt(squaredError / runs), std::sqrt(saidVariance / runs),
              0.4 * std::sqrt(saidVariance / runs));
}

TEST(TapeRing, HasTheAreaOfItsForm) {
  for (const TapeForm form : {TapeForm::ellipse, TapeForm::rectangle, TapeForm::triangle}) {
    const LocalRing ring = tapeRing(form, 3.0, 0.7);
    EXPECT_NEAR(signedArea_m2(ring), tapeArea_m2(form, 3.0, 0.7, 0.02).value, rounding);
    EXPECT_NEAR(centroid({{ring, {}}}).east_m, 0.0, rounding);
    EXPECT_NEAR(centroid({{ring, {}}}).north_m, 0.0, rounding);
  }
  EXPECT_EQ(tapeRing(TapeForm::ellipse, 3.0, 0.7, 12).size(), 12U);
}

}  // namespace
}  // namespace swardwalk::geo
