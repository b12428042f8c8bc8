#include <gtest/gtest.h>

#include <boost/geometry.hpp>
#include <boost/geometry/geometries/multi_polygon.hpp>
#include <boost/geometry/geometries/point_xy.hpp>
#include <boost/geometry/geometries/polygon.hpp>
#include <cmath>
#include <numbers>
#include <random>

#include "common/geo/outline.h"

// Overlaps against Boost.Geometry, which shares no code with the library that ours come from.
namespace swardwalk::geo {
namespace {

namespace bg = boost::geometry;
using Polygon = bg::model::polygon<bg::model::d2::point_xy<double>>;
using Polygons = bg::model::multi_polygon<Polygon>;

/// A blot of a patch: a ring of 5 to 24 points at uneven distances from its middle.
LocalRing blot(std::mt19937& draw) {
  std::uniform_real_distribution<double> even(0.0, 1.0);
  const LocalPoint middle{3.0 * even(draw), 3.0 * even(draw)};
  const int points = 5 + static_cast<int>(draw() % 20);
  LocalRing ring;
  for (int i = 0; i < points; ++i) {
    const double angle = 2.0 * std::numbers::pi * (i + 0.8 * even(draw)) / points;
    const double radius_m = 0.3 + 2.2 * even(draw);
    ring.push_back(
        {middle.east_m + radius_m * std::cos(angle), middle.north_m + radius_m * std::sin(angle)});
  }
  return ring;
}

Polygon boostOf(const LocalRing& ring) {
  Polygon polygon;
  for (const LocalPoint& point : ring) {
    bg::append(polygon.outer(), bg::model::d2::point_xy<double>(point.east_m, point.north_m));
  }
  bg::correct(polygon);
  return polygon;
}

LocalShape shapeOf(const LocalRing& ring) { return {{ring, {}}}; }

TEST(OverlapByBoost, SharedAndCoveredAreasAgree) {
  // Both round where edges cross: to some 1e-12 m on metres, times a few metres of edge.
  constexpr double rounding_m2 = 1e-9;
  std::mt19937 draw(20270415);
  int overlapping = 0;
  for (int i = 0; i < 500; ++i) {
    const LocalRing a = blot(draw);
    const LocalRing b = blot(draw);
    const LocalRing bounds = blot(draw);
    Polygons shared;
    bg::intersection(boostOf(a), boostOf(b), shared);
    EXPECT_NEAR(sharedArea_m2(shapeOf(a), shapeOf(b)), bg::area(shared), rounding_m2);
    overlapping += bg::area(shared) > 0.1 ? 1 : 0;

    Polygons both;
    bg::union_(boostOf(a), boostOf(b), both);
    Polygons covered;
    bg::intersection(both, boostOf(bounds), covered);
    EXPECT_NEAR(coveredArea_m2({shapeOf(a), shapeOf(b)}, shapeOf(bounds)), bg::area(covered),
                rounding_m2);
  }
  EXPECT_GT(overlapping, 300) << "most pairs lie over each other, or nothing is tested";
}

}  // namespace
}  // namespace swardwalk::geo
