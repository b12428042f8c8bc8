#include "common/geo/outline.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "common/geo/tape.h"

namespace swardwalk::geo {
namespace {

/// Coordinates of a few metres, sums of a few products.
constexpr double rounding = 1e-12;

const LocalRing hexagon = {{1.2, 0.4}, {4.6, 0.9}, {6.1, 3.3}, {3.9, 5.8}, {1.7, 4.9}, {0.3, 2.6}};
const LocalRing square = {{0, 0}, {10, 0}, {10, 10}, {0, 10}};

LocalRing regular(int corners, double radius_m) {
  LocalRing ring;
  for (int i = 0; i < corners; ++i) {
    const double angle = 2.0 * std::numbers::pi * i / corners;
    ring.push_back({radius_m * std::cos(angle), radius_m * std::sin(angle)});
  }
  return ring;
}

LocalRing turned(const LocalRing& ring) { return {ring.rbegin(), ring.rend()}; }

LocalRing moved(LocalRing ring, double east_m, double north_m) {
  for (LocalPoint& point : ring) point = {point.east_m + east_m, point.north_m + north_m};
  return ring;
}

TEST(SignedArea, CounterClockwiseIsPositive) {
  EXPECT_NEAR(signedArea_m2(hexagon), 20.32, rounding);  // computed exactly
  EXPECT_NEAR(signedArea_m2(turned(hexagon)), -20.32, rounding);
}

TEST(SignedArea, FarFromTheOriginKeepsItsDigits) {
  // Tract of land from Wolf & Brinker, Elementary Surveying, 9th ed., p. 274, as quoted on
  // adras.com (Round-Off-Errors-HP-48G): published 2 589 889 m2, exact 2589889.3344965.
  // The naive sum errs by 6.7e-6.
  const LocalRing tract = {{1395020.737, 60320.528},
                           {1399870.961, 60560.076},
                           {1397560.850, 56300.124},
                           {1401028.295, 57867.993},
                           {1397840.621, 58670.873}};
  // The coordinates themselves are rounded to 1e-10 m as doubles, over edges of 5 km.
  EXPECT_NEAR(std::abs(signedArea_m2(tract)), 2589889.3344965, 2e-6);
  EXPECT_LT(signedArea_m2(tract), 0.0);
  // The same tract crosses itself: its area is algebraic only.
  EXPECT_TRUE(crossesItself(tract));
}

TEST(SignedArea, OfFewerThanThreePointsIsZero) {
  EXPECT_EQ(signedArea_m2({}), 0.0);
  EXPECT_EQ(signedArea_m2({{1, 2}}), 0.0);
  EXPECT_EQ(signedArea_m2({{1, 2}, {3, 4}}), 0.0);
}

TEST(Area, HolesAreTakenOutWhicheverWayTheyRun) {
  const LocalRing hole = moved({{0, 0}, {2, 0}, {2, 2}, {0, 2}}, 4, 4);
  EXPECT_NEAR(area_m2(LocalPolygon{square, {hole}}), 96.0, rounding);
  EXPECT_NEAR(area_m2(LocalPolygon{turned(square), {turned(hole)}}), 96.0, rounding);
  EXPECT_NEAR(area_m2(LocalShape{{square, {hole}}, {moved(square, 20, 0), {}}}), 196.0, rounding);
  EXPECT_NEAR(perimeter_m({square, {hole}}), 48.0, rounding);
}

TEST(Centroid, IsThatOfTheLargestPartWithoutItsHoles) {
  const LocalShape shape = {{moved({{0, 0}, {1, 0}, {1, 1}, {0, 1}}, 50, 0), {}},
                            {square, {{{0, 0}, {5, 0}, {5, 10}, {0, 10}}}}};
  EXPECT_NEAR(centroid(shape).east_m, 7.5, rounding);
  EXPECT_NEAR(centroid(shape).north_m, 5.0, rounding);
}

TEST(Centroid, FarFromTheOriginKeepsItsDigits) {
  const LocalPoint middle = centroid({{moved(square, 4e5, -3e5), {}}});
  EXPECT_NEAR(middle.east_m, 400'005.0, 1e-9);
  EXPECT_NEAR(middle.north_m, -299'995.0, 1e-9);
}

TEST(Centroid, WithoutAnAreaIsTheMeanOfThePoints) {
  EXPECT_EQ(centroid({{{{1, 1}, {3, 1}}, {}}}), (LocalPoint{2, 1}));
  EXPECT_EQ(centroid({}), LocalPoint{});
}

TEST(Contains, HolesAreOutside) {
  const LocalShape shape = {{square, {{{4, 4}, {6, 4}, {6, 6}, {4, 6}}}}};
  EXPECT_TRUE(contains(shape, {1, 1}));
  EXPECT_FALSE(contains(shape, {5, 5}));
  EXPECT_FALSE(contains(shape, {11, 5}));
  EXPECT_FALSE(contains(shape, {-1, 10}));
}

TEST(CrossesItself, SimpleRingsDoNot) {
  EXPECT_FALSE(crossesItself(hexagon));
  EXPECT_FALSE(crossesItself(turned(hexagon)));
  EXPECT_FALSE(crossesItself(regular(2000, 5.0)));
  EXPECT_FALSE(crossesItself({{0, 0}, {1, 0}, {2, 0}, {2, 1}, {0, 1}}));  // a point on an edge
  EXPECT_FALSE(crossesItself({{0, 0}, {1, 0}, {1, 0}, {1, 1}, {0, 0}}));  // repeated points
  EXPECT_FALSE(crossesItself({{0, 0}, {1, 1}}));
  EXPECT_FALSE(crossesItself({}));
}

TEST(CrossesItself, CrossingsTouchingsAndSpikesDo) {
  EXPECT_TRUE(crossesItself({{0, 0}, {1, 1}, {1, 0}, {0, 1}}));                  // figure of eight
  EXPECT_TRUE(crossesItself({{0, 0}, {1, 1}, {2, 0}, {2, 2}, {1, 1}, {0, 2}}));  // at a point
  EXPECT_TRUE(crossesItself({{0, 0}, {4, 0}, {4, 2}, {2, 0}, {0, 2}}));          // touches an edge
  EXPECT_TRUE(crossesItself({{0, 0}, {4, 0}, {4, 2}, {4, 9}, {4, 2}, {0, 2}}));  // spike
  EXPECT_TRUE(crossesItself({{0, 0}, {2, 0}, {1, 0}}));                          // flat
}

TEST(AreaUncertainty, OfTheRectangleOfSixtyByTwentyMetresIsAsPublished) {
  // Each side +-0.01 m: published +-0.632 m2 (curioustab.com, "plot of land 60 m x 20 m
  // measured by steel tape"); sqrt(0.4) = 0.632455532. The same by corners +-0.01 m.
  constexpr double computed_m2 = 0.6324555320336759;
  const measure::Measured bySides = measure::Measured{60.0, 0.01} * measure::Measured{20.0, 0.01};
  EXPECT_NEAR(bySides.u.value(), 0.632, 0.0005);  // as printed
  EXPECT_NEAR(bySides.u.value(), computed_m2, rounding);
  EXPECT_NEAR(areaUncertainty_m2({{{0, 0}, {60, 0}, {60, 20}, {0, 20}}, {}}, 0.01), computed_m2,
              rounding);
  // By tape both ends of a side are placed.
  const double edge_u_m = 0.01 / std::numbers::sqrt2;
  EXPECT_NEAR(tapeArea_m2(TapeForm::rectangle, 60.0, 20.0, edge_u_m).u.value(), computed_m2,
              rounding);
}

TEST(AreaUncertainty, OfTheHexagonIsAsComputedToFirstOrder) {
  // Computed elsewhere from dA/dx_i = (y_i+1 - y_i-1) / 2 (van Oort et al., Forest Science
  // 51, 2005), sigma 0.25: A = 20.32, s = 1.4995832754. With the second order and with
  // correlated neighbours: drift_test.cpp.
  EXPECT_NEAR(area_m2(LocalPolygon{hexagon, {}}), 20.32, rounding);
  EXPECT_NEAR(areaUncertainty_m2({hexagon, {}}, 0.25), 1.4995832754, 1e-10);
  EXPECT_NEAR(areaUncertainty_m2({turned(hexagon), {}}, 0.25), 1.4995832754, 1e-10);
}

TEST(AreaUncertainty, OfASquareAndATriangleIsAsComputedByHand) {
  EXPECT_NEAR(areaUncertainty_m2({square, {}}, 0.1), std::numbers::sqrt2, rounding);
  EXPECT_NEAR(areaUncertainty_m2({{{0, 0}, {4, 0}, {0, 3}}, {}}, 0.05), 0.1767766952966369,
              rounding);
}

TEST(AreaUncertainty, OfRegularPolygonsFallsWithTheirCornersWhichIsWhyItIsNotUsedForOutlines) {
  // sigma R sin(2 pi / n) sqrt(n) for R = 3, sigma = 0.1; printed to ten digits.
  const std::vector<std::pair<int, double>> expected = {{3, 0.45},          {4, 0.6},
                                                        {6, 0.6363961031},  {12, 0.5196152423},
                                                        {24, 0.3803847577}, {100, 0.1883715586}};
  for (const auto& [corners, u] : expected) {
    EXPECT_NEAR(areaUncertainty_m2({regular(corners, 3.0), {}}, 0.1), u, 1e-10) << corners;
  }
}

TEST(OutlineArea, OfAFourPointRectangleIsThatOfTheTape) {
  const measure::Measured outline = outlineArea_m2({{{0, 0}, {2, 0}, {2, 1}, {0, 1}}, {}}, 0.02);
  const measure::Measured tape = tapeArea_m2(TapeForm::rectangle, 2.0, 1.0, 0.02);
  EXPECT_DOUBLE_EQ(outline.value, tape.value);
  EXPECT_NEAR(outline.u.value(), tape.u.value(), rounding);
}

TEST(OutlineArea, OppositeEdgesOfASmallPatchDoNotCancel) {
  // All four edges lie within the length over which placement errs together.
  const measure::Measured outline =
      outlineArea_m2({{{0, 0}, {0.2, 0}, {0.2, 0.1}, {0, 0.1}}, {}}, 0.02);
  const measure::Measured tape = tapeArea_m2(TapeForm::rectangle, 0.2, 0.1, 0.02);
  EXPECT_NEAR(outline.u.value(), tape.u.value(), rounding);
}

TEST(OutlineArea, ManyPointsDoNotMakeItCertain) {
  double before = 0.0;
  for (const int corners : {50, 200, 1000, 5000}) {
    const double u = outlineArea_m2({regular(corners, 1.0), {}}, 0.02).u.value();
    if (before > 0.0) {
      EXPECT_NEAR(u, before, 0.02 * before) << corners;
    }
    before = u;
  }
  // Closed form for R = 1, c = 0.3: integral_0^(pi/2) exp(-s/c) cos s ds
  //   = c (1 + c exp(-pi/(2c))) / (1 + c^2) = 0.275639.
  EXPECT_NEAR(before, 0.02 * std::sqrt(2.0 * std::numbers::pi * 2.0 * 0.275639), 1e-4);
}

TEST(OutlineArea, HolesAddTheirEdges) {
  const LocalPolygon whole{square, {}};
  const LocalPolygon holed{square, {{{4, 4}, {6, 4}, {6, 6}, {4, 6}}}};
  const double holeVariance = 0.02 * 0.02 * 4.0 * 4.0;
  EXPECT_NEAR(std::pow(outlineArea_m2(holed, 0.02).u.value(), 2) -
                  std::pow(outlineArea_m2(whole, 0.02).u.value(), 2),
              holeVariance, 1e-6);
}

TEST(OutlineArea, DoesNotDependOnDirectionOrFirstPoint) {
  LocalRing ring = hexagon;
  const double u = outlineArea_m2({ring, {}}, 0.02).u.value();
  std::rotate(ring.begin(), ring.begin() + 3, ring.end());
  EXPECT_NEAR(outlineArea_m2({ring, {}}, 0.02).u.value(), u, rounding);
  EXPECT_NEAR(outlineArea_m2({turned(ring), {}}, 0.02).u.value(), u, rounding);
}

}  // namespace
}  // namespace swardwalk::geo
