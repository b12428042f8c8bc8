#include "common/geo/wound_ring.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <random>

#include "common/geo/crossings.h"
#include "common/geo/outline.h"

namespace swardwalk::geo {
namespace {

constexpr double rounding = 1e-9;  // metres of some tens, through crossings

double perimeterOf(const LocalShape& shape) {
  double length_m = 0.0;
  for (const LocalPolygon& part : shape) length_m += perimeter_m(part);
  return length_m;
}

std::size_t holesOf(const LocalShape& shape) {
  std::size_t count = 0;
  for (const LocalPolygon& part : shape) count += part.holes.size();
  return count;
}

/// The resolved shape by GEOS, which shares no code with the winding.
void expectAsByNoding(const LocalRing& ring) {
  const WoundRing wound = woundRing(ring);
  const LocalShape noded = resolved(ring);
  EXPECT_NEAR(area_m2(wound.shape), area_m2(noded), rounding);
  EXPECT_NEAR(perimeterOf(wound.shape), perimeterOf(noded), rounding);
  EXPECT_EQ(wound.shape.size(), noded.size());
  EXPECT_EQ(holesOf(wound.shape), holesOf(noded));
  ASSERT_EQ(wound.sides.size(), ring.size());
  for (std::size_t i = 0; i < ring.size(); ++i) {
    const LocalPoint& a = ring[i];
    const LocalPoint& b = ring[(i + 1) % ring.size()];
    const LocalPoint middle{0.5 * (a.east_m + b.east_m), 0.5 * (a.north_m + b.north_m)};
    constexpr double aside = 1e-7;
    const double east = -aside * (b.north_m - a.north_m);
    const double north = aside * (b.east_m - a.east_m);
    const bool left = contains(noded, {middle.east_m + east, middle.north_m + north});
    const bool right = contains(noded, {middle.east_m - east, middle.north_m - north});
    EXPECT_EQ(wound.sides[i], (left ? 1.0 : 0.0) - (right ? 1.0 : 0.0)) << i;
  }
}

TEST(WoundRing, ASimpleRingIsKeptAndItsShapeLiesLeftOfItsEdges) {
  const WoundRing wound = woundRing({{0, 0}, {0, 2}, {3, 2}, {3, 0}});
  EXPECT_FALSE(wound.crossed);
  EXPECT_NEAR(signedArea_m2(wound.shape.at(0).outer), 6.0, rounding);
  EXPECT_EQ(wound.sides, std::vector<double>(4, -1.0));
}

TEST(WoundRing, AFigureOfEightIsTwoPolygonsOnEitherSideOfTheRing) {
  const WoundRing wound = woundRing({{0, 0}, {2, 2}, {2, 0}, {0, 2.5}});
  EXPECT_TRUE(wound.crossed);
  EXPECT_EQ(wound.shape.size(), 2U);
  expectAsByNoding({{0, 0}, {2, 2}, {2, 0}, {0, 2.5}});
}

TEST(WoundRing, TwiceRoundCountsOnce) {
  expectAsByNoding(
      {{0, 0}, {4, 0}, {4, 4}, {0, 4}, {-0.1, 0.1}, {4.3, 0.2}, {3.9, 4.2}, {0.1, 3.7}});
}

TEST(WoundRing, ALoopRoundTheOtherWayLeavesAHole) {
  // Out over the ring's own edge, back round the middle against the sun.
  const LocalRing ring = {{0, 0},   {9, 0}, {9, 9}, {0, 9}, {-1, 4},
                          {3, 3.5}, {3, 6}, {6, 6}, {6, 3}, {-1, 3.8}};
  EXPECT_EQ(holesOf(woundRing(ring).shape), holesOf(resolved(ring)));
  expectAsByNoding(ring);
}

TEST(WoundRing, RandomRingsAreAsByNoding) {
  std::mt19937_64 random(11);
  std::uniform_real_distribution<double> any(0.0, 10.0);
  for (int run = 0; run < 400; ++run) {
    LocalRing ring;
    const std::size_t size = 4 + static_cast<std::size_t>(run) % 23;
    while (ring.size() < size) ring.push_back({any(random), any(random)});
    SCOPED_TRACE(run);
    ASSERT_TRUE(certainCrossings(ring).has_value());
    expectAsByNoding(ring);
    if (HasFailure()) break;
  }
}

TEST(WoundRing, WalksThatSwayAcrossTheirOwnStartAreAsByNoding) {
  std::mt19937_64 random(12);
  std::normal_distribution<double> sway(0.0, 0.2);
  for (int run = 0; run < 20; ++run) {
    LocalRing ring;
    constexpr int count = 400;
    for (int i = 0; i < count; ++i) {
      const double angle = 2.0 * std::numbers::pi * 1.4 * i / count;
      ring.push_back({8.0 * std::cos(angle) + sway(random), 5.0 * std::sin(angle) + sway(random)});
    }
    SCOPED_TRACE(run);
    expectAsByNoding(ring);
    if (HasFailure()) break;
  }
}

TEST(WoundRing, WhatRoundingCouldDecideIsLeftToNoding) {
  const LocalRing atItsOwnPoint = {{0, 0}, {1, 1}, {2, 0}, {2, 2}, {1, 1}, {0, 2}};
  const LocalRing spike = {{0, 0}, {4, 0}, {4, 2}, {4, 9}, {4, 2}, {0, 2}};
  for (const LocalRing& ring : {atItsOwnPoint, spike}) {
    EXPECT_FALSE(certainCrossings(ring).has_value());
    const WoundRing wound = woundRing(ring);
    EXPECT_TRUE(wound.crossed);
    EXPECT_NEAR(area_m2(wound.shape), area_m2(resolved(ring)), rounding);
    EXPECT_EQ(wound.sides.size(), ring.size());
  }
}

TEST(WoundRing, OfLessThanThreePointsEnclosesNothing) {
  EXPECT_EQ(area_m2(woundRing({}).shape), 0.0);
  EXPECT_EQ(area_m2(woundRing({{1, 1}, {2, 2}}).shape), 0.0);
}

TEST(CertainSide, SaysNothingWhereTheRoundingCouldDecide) {
  EXPECT_EQ(certainSide({0, 0}, {1, 1}, {0, 1}), 1);
  EXPECT_EQ(certainSide({0, 0}, {1, 1}, {1, 0}), -1);
  EXPECT_EQ(certainSide({0, 0}, {1, 1}, {0.5, 0.5}), 0);
  EXPECT_EQ(certainSide({0.1, 0.1}, {0.3, 0.3}, {0.7, std::nextafter(0.7, 1.0)}), 0);
}

}  // namespace
}  // namespace swardwalk::geo
