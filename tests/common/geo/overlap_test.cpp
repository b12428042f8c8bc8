#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "common/geo/outline.h"
#include "common/geo/tape.h"

namespace swardwalk::geo {
namespace {

constexpr double rounding = 1e-9;  // metres of some tens, through noding

LocalRing box(double west, double south, double east, double north) {
  return {{west, south}, {east, south}, {east, north}, {west, north}};
}

LocalShape shapeOf(LocalRing ring) { return {{std::move(ring), {}}}; }

TEST(Resolved, ASimpleRingIsKeptAndRunsCounterClockwise) {
  const LocalShape shape = resolved(LocalRing{{0, 0}, {0, 2}, {3, 2}, {3, 0}});
  ASSERT_EQ(shape.size(), 1U);
  EXPECT_NEAR(signedArea_m2(shape[0].outer), 6.0, rounding);
  EXPECT_EQ(shape[0].outer.size(), 4U);
}

TEST(Resolved, AFigureOfEightIsTwoPolygonsAndNothingCancels) {
  const LocalRing eight = {{0, 0}, {2, 2}, {2, 0}, {0, 2}};
  EXPECT_NEAR(signedArea_m2(eight), 0.0, rounding);
  const LocalShape shape = resolved(eight);
  ASSERT_EQ(shape.size(), 2U);
  EXPECT_NEAR(area_m2(shape), 2.0, rounding);
  for (const LocalPolygon& part : shape) EXPECT_GT(signedArea_m2(part.outer), 0.0);
}

TEST(Resolved, AnEightThatMeetsInItsOwnPointIsTwoPolygonsToo) {
  EXPECT_NEAR(area_m2(resolved(LocalRing{{0, 0}, {1, 1}, {2, 0}, {2, 2}, {1, 1}, {0, 2}})), 2.0,
              rounding);
}

TEST(Resolved, WhereAWalkRunsOverItsStartTheStripCountsOnce) {
  // Twice round a square, the second time a little inside.
  const LocalRing twice = {{0, 0},     {4, 0},     {4, 4},     {0, 4},
                           {0.1, 0.1}, {3.9, 0.1}, {3.9, 3.9}, {0.1, 3.9}};
  const double once = area_m2(resolved(twice));
  EXPECT_NEAR(once, 16.0, 0.5);
  EXPECT_GT(signedArea_m2(twice), 30.0);
}

TEST(Resolved, AKeyholeKeepsItsHole) {
  const LocalRing keyhole = {{0, 0}, {6, 0}, {6, 6}, {0, 6}, {0, 3}, {2, 3},
                             {2, 4}, {4, 4}, {4, 2}, {2, 2}, {2, 3}, {0, 3}};
  const LocalShape shape = resolved(keyhole);
  ASSERT_EQ(shape.size(), 1U);
  ASSERT_EQ(shape[0].holes.size(), 1U);
  EXPECT_NEAR(area_m2(shape), 32.0, rounding);
  EXPECT_LT(signedArea_m2(shape[0].holes[0]), 0.0);
}

TEST(Resolved, SpikesVanish) {
  const LocalShape shape = resolved(LocalRing{{0, 0}, {4, 0}, {4, 2}, {4, 9}, {4, 2}, {0, 2}});
  ASSERT_EQ(shape.size(), 1U);
  EXPECT_NEAR(area_m2(shape), 8.0, rounding);
  EXPECT_NEAR(perimeter_m(shape[0]), 12.0, rounding);
}

TEST(Resolved, TheTractThatCrossesItselfIsLargerThanItsAlgebraicFigure) {
  // Wolf & Brinker's tract, relative to its first corner: edge 2-3 cuts edge 4-5.
  const LocalRing tract = {{0, 0},
                           {4850.224, 239.548},
                           {2540.113, -4020.404},
                           {6007.558, -2452.535},
                           {2819.884, -1649.655}};
  const LocalShape shape = resolved(tract);
  EXPECT_EQ(shape.size(), 2U);
  EXPECT_GT(area_m2(shape), 2589889.4);
}

TEST(Resolved, FewerThanThreeDistinctPointsAreNothing) {
  EXPECT_TRUE(resolved(LocalRing{}).empty());
  EXPECT_TRUE(resolved(LocalRing{{1, 1}, {2, 2}}).empty());
  EXPECT_TRUE(resolved(LocalRing{{1, 1}, {1, 1}, {1, 1}, {1, 1}}).empty());
  EXPECT_TRUE(resolved(LocalRing{{0, 0}, {1, 1}, {2, 2}}).empty());
}

TEST(Resolved, APolygonLosesWhatItsHolesEnclose) {
  // The hole crosses itself and reaches over the outer edge.
  const LocalPolygon polygon{box(0, 0, 10, 10), {{{8, 4}, {12, 6}, {12, 4}, {8, 6}}}};
  // Of the two triangles of 2 m2 each, the western one lies wholly inside.
  EXPECT_NEAR(area_m2(resolved(polygon)), 98.0, rounding);
}

TEST(CoveredArea, OverlapsCountOnceAndNothingOutsideTheBoundsCounts) {
  const LocalShape green = shapeOf(box(0, 0, 10, 10));
  const std::vector<LocalShape> parts = {shapeOf(box(1, 1, 4, 4)), shapeOf(box(3, 3, 6, 6)),
                                         shapeOf(box(8, 8, 12, 12))};
  EXPECT_NEAR(coveredArea_m2(parts, green), 9.0 + 9.0 - 1.0 + 4.0, rounding);
}

TEST(CoveredArea, OfNothingIsZero) {
  const LocalShape green = shapeOf(box(0, 0, 10, 10));
  EXPECT_EQ(coveredArea_m2({}, green), 0.0);
  EXPECT_EQ(coveredArea_m2({{}}, green), 0.0);
  EXPECT_EQ(coveredArea_m2({green}, {}), 0.0);
}

TEST(CoveredArea, TakesOutlinesThatCrossThemselves) {
  const LocalShape eight = shapeOf({{0, 0}, {2, 2}, {2, 0}, {0, 2}});
  EXPECT_NEAR(coveredArea_m2({eight, eight}, shapeOf(box(-5, -5, 5, 5))), 2.0, rounding);
  // And bounds that do: only their western lobe has the part in it.
  const LocalShape lobes = shapeOf({{0, 0}, {8, 4}, {8, 0}, {0, 4}});
  EXPECT_NEAR(coveredArea_m2({shapeOf(box(0, 0, 4, 4))}, lobes), 8.0, rounding);
}

TEST(CoveredArea, HolesOfAPartAreNotCovered) {
  const LocalShape ring = {{box(0, 0, 4, 4), {box(1, 1, 3, 3)}}};
  const LocalShape plug = shapeOf(box(0, 1, 4, 2));
  EXPECT_NEAR(coveredArea_m2({ring}, shapeOf(box(-9, -9, 9, 9))), 12.0, rounding);
  EXPECT_NEAR(coveredArea_m2({ring, plug}, shapeOf(box(-9, -9, 9, 9))), 14.0, rounding);
}

TEST(CoveredArea, ManyNearlyEqualOutlinesDoNotConfuseIt) {
  // Sightings of one patch, each shifted by less than a micrometre: hard for noding.
  std::vector<LocalShape> parts;
  for (int i = 0; i < 60; ++i) {
    LocalRing ring = tapeRing(TapeForm::ellipse, 3.0, 2.0, 40);
    for (LocalPoint& point : ring) {
      point.east_m += 1e-7 * std::sin(i * 12.9898 + point.north_m);
      point.north_m += 1e-7 * std::cos(i * 78.233 + point.east_m);
    }
    parts.push_back(shapeOf(ring));
  }
  EXPECT_NEAR(coveredArea_m2(parts, shapeOf(box(-9, -9, 9, 9))), std::numbers::pi * 1.5, 1e-5);
}

TEST(SharedArea, IsThatOfTheOverlap) {
  EXPECT_NEAR(sharedArea_m2(shapeOf(box(0, 0, 4, 4)), shapeOf(box(3, 1, 8, 3))), 2.0, rounding);
  EXPECT_EQ(sharedArea_m2(shapeOf(box(0, 0, 4, 4)), shapeOf(box(5, 5, 8, 8))), 0.0);
  EXPECT_EQ(sharedArea_m2({}, shapeOf(box(5, 5, 8, 8))), 0.0);
}

}  // namespace
}  // namespace swardwalk::geo
