#include <fmt/format.h>
#include <geos_c.h>
#include <gtest/gtest.h>

#include <boost/geometry.hpp>
#include <boost/geometry/geometries/multi_polygon.hpp>
#include <boost/geometry/geometries/point_xy.hpp>
#include <boost/geometry/geometries/polygon.hpp>
#include <cmath>
#include <numbers>
#include <random>
#include <string>

#include "common/geo/inset_curve.h"
#include "common/geo/outline.h"

namespace swardwalk::geo {
namespace {

namespace bg = boost::geometry;
using Point = bg::model::d2::point_xy<double>;
using Polygon = bg::model::polygon<Point, false, false>;

/// The area left by Boost.Geometry.
double bufferedArea(const LocalRing& ring, double inset_m) {
  Polygon polygon;
  for (const LocalPoint& point : ring) bg::append(polygon, Point(point.east_m, point.north_m));
  bg::model::multi_polygon<Polygon> left;
  constexpr int arcs = 256;
  bg::buffer(polygon, left, bg::strategy::buffer::distance_symmetric<double>(-inset_m),
             bg::strategy::buffer::side_straight(), bg::strategy::buffer::join_round(arcs),
             bg::strategy::buffer::end_round(arcs), bg::strategy::buffer::point_circle(arcs));
  return bg::area(left);
}

/// The same by GEOS.
double geosBufferedArea(const LocalRing& ring, double inset_m) {
  GEOSContextHandle_t geos = GEOS_init_r();
  const auto size = static_cast<unsigned>(ring.size());
  GEOSCoordSequence* sequence = GEOSCoordSeq_create_r(geos, size + 1, 2);
  for (unsigned i = 0; i <= size; ++i) {
    GEOSCoordSeq_setXY_r(geos, sequence, i, ring[i % size].east_m, ring[i % size].north_m);
  }
  GEOSGeometry* polygon =
      GEOSGeom_createPolygon_r(geos, GEOSGeom_createLinearRing_r(geos, sequence), nullptr, 0);
  constexpr int arcsPerQuadrant = 64;
  GEOSGeometry* left = GEOSBuffer_r(geos, polygon, -inset_m, arcsPerQuadrant);
  double area = 0.0;
  GEOSArea_r(geos, left, &area);
  GEOSGeom_destroy_r(geos, left);
  GEOSGeom_destroy_r(geos, polygon);
  GEOS_finish_r(geos);
  return area;
}

/// Rough outlines as a hand draws them, from nearly round to long with bays.
LocalRing rough(int points, double length, double waves) {
  LocalRing ring;
  for (int i = 0; i < points; ++i) {
    const double a = 2.0 * std::numbers::pi * i / points;
    const double r = 1.0 + waves * (0.25 * std::sin(2.0 * a + 1.0) + 0.2 * std::cos(3.0 * a) +
                                    0.08 * std::sin(11.0 * a) + 0.05 * std::cos(17.0 * a + 2.0));
    ring.push_back({length * r * std::cos(a), r * std::sin(a)});
  }
  return ring;
}

/// Both libraries' word on what is left: within 0.1 % of the area, a little less than the class
/// allows itself.
void expectBoth(const LocalRing& ring, const std::string& which) {
  constexpr double stated = 1e-3;
  const LocalShape shape = {{ring, {}}};
  const InsetCurve curve(shape);
  for (double part = 0.05; part < 1.0; part += 0.09) {
    const double inset = part * curve.closingInset_m();
    const double left = curve.area_m2(inset);
    EXPECT_NEAR(left, bufferedArea(ring, inset), stated * area_m2(shape)) << which << inset;
    EXPECT_NEAR(left, geosBufferedArea(ring, inset), stated * area_m2(shape)) << which << inset;
  }
}

TEST(InsetCurve, OfRoughOutlinesAgreesWithTwoLibrariesOffsets) {
  for (const double length : {1.0, 4.0}) {
    for (const double waves : {0.0, 0.1, 0.3, 1.0}) {
      for (const int points : {24, 60, 150, 240}) {
        expectBoth(rough(points, length, waves),
                   fmt::format("{} points, {} long, waves {}, ", points, length, waves));
      }
    }
  }
}

TEST(InsetCurve, OfJaggedOutlinesNearlyRoundAgreesWithTwoLibrariesOffsets) {
  // Inward corners everywhere, and from each the far side is as near as from the next.
  std::mt19937 draw(7);
  for (int k = 0; k < 40; ++k) {
    const int points = 60 + 4 * k;
    LocalRing ring = rough(points, 1.0 + 0.02 * k, 0.01 * (k % 7));
    for (LocalPoint& point : ring) {
      const double off = 1.0 + 0.01 * (static_cast<double>(draw()) / 4294967296.0 - 0.5);
      point = {off * point.east_m, off * point.north_m};
    }
    expectBoth(ring, fmt::format("outline {}, ", k));
  }
}

TEST(InsetCurve, OfAVeryFineOutlineAgreesWithAnOffset) {
  const LocalRing ring = rough(1500, 1.0, 1.0);
  const LocalShape shape = {{ring, {}}};
  const InsetCurve curve(shape);
  EXPECT_DOUBLE_EQ(curve.area_m2(0.0), area_m2(shape));
  for (int i = 1; i < 8; ++i) {
    const double inset = 0.1 * i;
    // Thinned to 240 points it is cut by some tenths of a thousandth more.
    EXPECT_NEAR(curve.area_m2(inset), geosBufferedArea(ring, inset), 2e-3 * area_m2(shape))
        << inset;
  }
}

TEST(InsetCurve, ClosesWhereAnOffsetLeavesNothing) {
  for (const double waves : {0.1, 1.0}) {
    const LocalRing ring = rough(80, 1.0, waves);
    const double closing_m = InsetCurve({{ring, {}}}).closingInset_m();
    EXPECT_EQ(geosBufferedArea(ring, closing_m * 1.003), 0.0);
    EXPECT_GT(geosBufferedArea(ring, closing_m * 0.99), 0.0);
  }
}

}  // namespace
}  // namespace swardwalk::geo
