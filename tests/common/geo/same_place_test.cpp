#include "common/geo/same_place.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <random>

#include "common/geo/local_plane.h"
#include "common/geo/spatial_index.h"

namespace swardwalk::geo {
namespace {

TEST(SpatialIndex, FindsAllThatPlainSearchFinds) {
  std::mt19937_64 random(3);
  std::uniform_real_distribution<double> anywhere(-400.0, 400.0);
  std::uniform_real_distribution<double> reach(0.0, 12.0);
  const LocalPlane plane({52.0, 5.0});
  std::vector<SpatialIndex::Entry> entries;
  std::vector<LocalPoint> points;
  for (int i = 0; i < 3000; ++i) {
    points.push_back({anywhere(random), anywhere(random)});
    entries.push_back({plane.toGlobe(points.back()), reach(random)});
  }
  const SpatialIndex index(entries);
  for (int i = 0; i < 200; ++i) {
    const LocalPoint here{anywhere(random), anywhere(random)};
    const double reach_m = reach(random);
    const auto found = index.near(plane.toGlobe(here), reach_m);
    EXPECT_TRUE(std::is_sorted(found.begin(), found.end()));
    std::size_t within = 0;
    for (std::size_t j = 0; j < points.size(); ++j) {
      const double away_m =
          std::hypot(points[j].east_m - here.east_m, points[j].north_m - here.north_m);
      if (away_m > reach_m + entries[j].reach_m - 1e-6) continue;
      ++within;
      EXPECT_TRUE(std::binary_search(found.begin(), found.end(), j)) << away_m;
    }
    // A box round a circle in three dimensions holds few that are not in the circle.
    EXPECT_LE(found.size(), 4 * within + 12);
  }
}

TEST(SpatialIndex, KnowsNoEdgeAtTheAntimeridianNorAtThePole) {
  const std::vector<SpatialIndex::Entry> entries{
      {{10.0, 179.999999}, 1.0}, {{89.999999, 20.0}, 1.0}, {{10.0, 0.0}, 1.0}};
  const SpatialIndex index(entries);
  EXPECT_EQ(index.near({10.0, -179.999999}, 1.0), std::vector<std::size_t>{0});
  EXPECT_EQ(index.near({89.999999, -160.0}, 1.0), std::vector<std::size_t>{1});
  EXPECT_TRUE(index.near({-50.0, 90.0}, 100.0).empty());
  EXPECT_TRUE(SpatialIndex({}).near({10.0, 0.0}, 1.0).empty());
}

TEST(Apart, GatePassesNinetyNineOfAHundredLooksAtOnePlace) {
  std::mt19937_64 random(4);
  std::normal_distribution<double> normal;
  const LocalPlane plane({52.0, 5.0});
  int passed = 0;
  constexpr int runs = 5000;
  for (int i = 0; i < runs; ++i) {
    const PlacedLook a{plane.toGlobe(LocalPoint{3.0 * normal(random), 3.0 * normal(random)}), 3.0};
    const PlacedLook b{plane.toGlobe(LocalPoint{0.5 * normal(random), 0.5 * normal(random)}), 0.5};
    if (apart(a, b).mayBeSame()) ++passed;
  }
  // Three standard deviations of a count with the chance 0.99 are 0.42 %.
  EXPECT_NEAR(static_cast<double>(passed) / runs, 0.99, 0.0042);
}

TEST(Apart, TellsApartWhatTheGateTells) {
  const LocalPlane plane({52.0, 5.0});
  const double edge_m = tellsApart_m(3.0, 4.0);
  EXPECT_NEAR(edge_m, 5.0 * std::sqrt(9.210340371976184), 1e-9);
  const PlacedLook a{plane.toGlobe(LocalPoint{0, 0}), 3.0};
  EXPECT_TRUE(apart(a, {plane.toGlobe(LocalPoint{edge_m - 0.01, 0}), 4.0}).mayBeSame());
  EXPECT_FALSE(apart(a, {plane.toGlobe(LocalPoint{edge_m + 0.01, 0}), 4.0}).mayBeSame());
}

TEST(Apart, DensityIsThatOfTheNormalOfBoth) {
  // 1 / (2 pi 25) at the middle, e^-1/2 of it one standard deviation of 5 m away.
  const LocalPlane plane({52.0, 5.0});
  const PlacedLook a{plane.toGlobe(LocalPoint{0, 0}), 3.0};
  EXPECT_NEAR(apart(a, {a.position, 4.0}).density_m2, 0.006366198, 1e-8);
  EXPECT_NEAR(apart(a, {plane.toGlobe(LocalPoint{0, 5.0}), 4.0}).density_m2,
              0.006366198 * std::exp(-0.5), 1e-8);
}

TEST(Shares, AreTheChancesOfEachAgainstANewOne) {
  const std::vector<double> odds{0.03, 0.01};
  const std::vector<double> split = shares(odds, 0.01);
  EXPECT_NEAR(split[0], 0.6, 1e-12);
  EXPECT_NEAR(split[1], 0.2, 1e-12);
  EXPECT_TRUE(shares({}, 0.01).empty());
}

}  // namespace
}  // namespace swardwalk::geo
