#include "common/geo/drawn.h"

#include <gtest/gtest.h>

#include <cmath>
#include <random>
#include <vector>

#include "common/geo/outline.h"

namespace swardwalk::geo {
namespace {

const LocalRing square{{0, 0}, {2, 0}, {2, 2}, {0, 2}};

TEST(Drawn, AreaIsTheShoelaceAndCornersGiveTheDoubt) {
  const std::vector<double> corners_u_m(4, 0.1);
  const auto area = drawnArea_m2(square, corners_u_m, 0.0);
  EXPECT_DOUBLE_EQ(area.value, 4.0);
  // Diagonals of 2 sqrt(2): 4 x 0.01 x 8 / 4 + 4 x 0.0001 / 2 = 0.0802.
  EXPECT_NEAR(*area.u, std::sqrt(0.0802), 1e-12);
}

TEST(Drawn, EdgeOfThePatchComesOnTop) {
  const std::vector<double> none(4, 0.0);
  const auto edge = drawnArea_m2(square, none, 0.02);
  EXPECT_DOUBLE_EQ(*edge.u, *outlineArea_m2({square, {}}, 0.02).u);
  const auto both = drawnArea_m2(square, std::vector<double>(4, 0.1), 0.02);
  EXPECT_NEAR(*both.u, std::hypot(*edge.u, std::sqrt(0.0802)), 1e-12);
}

TEST(Drawn, FingersThatErrGiveTheScatterThatIsSaid) {
  const LocalRing outline{{0, 0}, {1.4, -0.2}, {2.1, 0.7}, {1.2, 1.6}, {0.1, 1.1}};
  const std::vector<double> corners_u_m{0.05, 0.2, 0.1, 0.15, 0.08};
  std::mt19937_64 random(11);
  std::normal_distribution<double> normal;
  constexpr int times = 20'000;
  double sum = 0.0;
  double squares = 0.0;
  for (int time = 0; time < times; ++time) {
    LocalRing moved = outline;
    for (std::size_t i = 0; i < moved.size(); ++i) {
      moved[i].east_m += corners_u_m[i] * normal(random);
      moved[i].north_m += corners_u_m[i] * normal(random);
    }
    const double area = signedArea_m2(moved);
    sum += area;
    squares += area * area;
  }
  const double scatter = std::sqrt(squares / times - sum / times * sum / times);
  // A standard deviation from 20,000 is known to 1 / sqrt(40,000) = 0.5 %; four of these.
  EXPECT_NEAR(*drawnArea_m2(outline, corners_u_m, 0.0).u / scatter, 1.0, 0.02);
}

}  // namespace
}  // namespace swardwalk::geo
