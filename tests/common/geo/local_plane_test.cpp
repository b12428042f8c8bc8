#include "common/geo/local_plane.h"

#include <gtest/gtest.h>

#include <GeographicLib/Geodesic.hpp>
#include <GeographicLib/LocalCartesian.hpp>
#include <GeographicLib/PolygonArea.hpp>
#include <cmath>

#include "common/geo/outline.h"
#include "small_polygons.h"

namespace swardwalk::geo {
namespace {

const std::vector<Position> origins = {{51.5, -0.12}, {-33.87, 151.21}, {60.17, 24.94},
                                       {0.0, 0.0},    {-17.8, 180.0},   {89.9999, 33.0},
                                       {90.0, 0.0},   {-90.0, 45.0}};

/// The place `distance_m` away along a geodesic, by GeographicLib.
Position away(Position from, double azimuth_deg, double distance_m) {
  Position to;
  GeographicLib::Geodesic::WGS84().Direct(from.latitude_deg, from.longitude_deg, azimuth_deg,
                                          distance_m, to.latitude_deg, to.longitude_deg);
  return to;
}

TEST(LocalPlane, TheWorkedExampleOfLocalCartesianComesOut) {
  // Origin 48 50' N 2 20' E, point 50.9 N 1.8 E: GeographicLib's example-LocalCartesian.cpp;
  // computed -37518.6390 229949.6535, printed to 0.1 mm.
  const LocalPoint point = LocalPlane({48.0 + 50.0 / 60.0, 2.0 + 20.0 / 60.0}).toLocal({50.9, 1.8});
  EXPECT_NEAR(point.east_m, -37518.6390, 5e-5);
  EXPECT_NEAR(point.north_m, 229949.6535, 5e-5);
}

TEST(LocalPlane, AgreesWithGeographicLibEverywhere) {
  for (const Position& origin : origins) {
    const LocalPlane plane(origin);
    const GeographicLib::LocalCartesian theirs(origin.latitude_deg, origin.longitude_deg, 0.0);
    for (double azimuth = 0.0; azimuth < 360.0; azimuth += 27.0) {
      for (const double distance : {0.01, 3.0, 150.0, 20'000.0}) {
        const Position place = away(origin, azimuth, distance);
        double east = 0.0;
        double north = 0.0;
        double up = 0.0;
        theirs.Forward(place.latitude_deg, place.longitude_deg, 0.0, east, north, up);
        const LocalPoint ours = plane.toLocal(place);
        // Theirs subtracts earth-centred coordinates of 6.4e6 m: some nanometres of rounding.
        EXPECT_NEAR(ours.east_m, east, 1e-8);
        EXPECT_NEAR(ours.north_m, north, 1e-8);
      }
    }
  }
}

TEST(LocalPlane, LengthsWithin500MetresAreTrueToAPartIn10To8) {
  for (const Position& origin : origins) {
    const LocalPlane plane(origin);
    for (double azimuth = 0.0; azimuth < 360.0; azimuth += 31.0) {
      const LocalPoint point = plane.toLocal(away(origin, azimuth, 500.0));
      EXPECT_NEAR(std::hypot(point.east_m, point.north_m), 500.0, 500.0 * 1e-8);
    }
  }
}

TEST(LocalPlane, AreasWithin500MetresAreTrueToAPartIn10To8) {
  for (const Position& origin : {origins[0], origins[1], origins[2], origins[3]}) {
    GeographicLib::PolygonArea geodesic(GeographicLib::Geodesic::WGS84());
    GlobeRing ring;
    for (int i = 0; i < 24; ++i) {
      ring.push_back(away(origin, -15.0 * i, 500.0));
      geodesic.AddPoint(ring.back().latitude_deg, ring.back().longitude_deg);
    }
    double perimeter = 0.0;
    double area = 0.0;
    geodesic.Compute(false, true, perimeter, area);
    // 0.0013 m2 is what the general routine states for itself at this size.
    EXPECT_NEAR(signedArea_m2(LocalPlane(origin).toLocal(ring)), area, area * 1e-8 + 0.0013);
  }
}

TEST(LocalPlane, ComesBackToTheSamePlace) {
  for (const Position& origin : origins) {
    const LocalPlane plane(origin);
    for (const LocalPoint point : {LocalPoint{0.0, 0.0}, LocalPoint{-3.2, 1.1},
                                   LocalPoint{140.0, -480.0}, LocalPoint{-90'000.0, 70'000.0}}) {
      const LocalPoint back = plane.toLocal(plane.toGlobe(point));
      EXPECT_NEAR(back.east_m, point.east_m, 1e-8);
      EXPECT_NEAR(back.north_m, point.north_m, 1e-8);
    }
  }
}

TEST(LocalPlane, LongitudesStayWithin180AcrossTheAntimeridian) {
  const LocalPlane plane({-17.8, 179.99999});
  const Position east = plane.toGlobe({5.0, 0.0});
  EXPECT_LT(east.longitude_deg, -179.9);
  EXPECT_NEAR(plane.toLocal(east).east_m, 5.0, 1e-8);
}

TEST(PlaneFor, LiesInTheMiddleAlsoAcrossTheAntimeridian) {
  const LocalPlane plane = planeFor(smallPolygons()[3].ring);
  for (const Position& position : smallPolygons()[3].ring) {
    const LocalPoint point = plane.toLocal(position);
    EXPECT_LT(std::hypot(point.east_m, point.north_m), 10.0);
  }
  EXPECT_NEAR(std::abs(plane.origin().longitude_deg), 180.0, 1e-4);
}

TEST(GroundArea, IsThePublishedTruthToAMillionthOfASquareMetre) {
  for (const SmallPolygon& polygon : smallPolygons()) {
    EXPECT_NEAR(groundArea_m2({{polygon.ring, {}}}), polygon.truth_m2, 1e-6) << polygon.name;
    const LocalPolygon local{planeFor(polygon.ring).toLocal(polygon.ring), {}};
    // The plane's lengths: a part in 10^8 of at most 39 m.
    EXPECT_NEAR(perimeter_m(local), polygon.truthPerimeter_m, 4e-7) << polygon.name;
  }
}

TEST(GroundArea, DoesNotDependOnTheDirectionOrTheFirstPoint) {
  for (const SmallPolygon& polygon : smallPolygons()) {
    GlobeRing ring(polygon.ring.rbegin(), polygon.ring.rend());
    std::rotate(ring.begin(), ring.begin() + 2, ring.end());
    EXPECT_NEAR(groundArea_m2({{ring, {}}}), polygon.truth_m2, 1e-6) << polygon.name;
  }
}

TEST(GroundArea, OfNothingIsZero) {
  EXPECT_EQ(groundArea_m2({}), 0.0);
  EXPECT_EQ(groundArea_m2({{{}, {}}}), 0.0);
  EXPECT_EQ(groundArea_m2({{{{51.0, 0.0}, {51.1, 0.0}}, {}}}), 0.0);
}

}  // namespace
}  // namespace swardwalk::geo
