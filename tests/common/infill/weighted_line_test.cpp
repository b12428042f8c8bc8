#include "common/infill/weighted_line.h"

#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <vector>

namespace swardwalk::infill {
namespace {

// NIST/ITL Statistical Reference Datasets; certified values as at
// stata.com/support/cert/nist9/regression. Ten digits are asked for.
void expectDigits(double value, double certified) {
  EXPECT_NEAR(value, certified, std::abs(certified) * 1e-10);
}

TEST(WeightedLine, NistNorris) {
  const std::array<double, 36> x = {0.2,   337.4, 118.2, 884.6, 10.1,  226.5, 666.3, 996.3, 448.6,
                                    777.0, 558.2, 0.4,   0.6,   775.5, 666.9, 338.0, 447.5, 11.6,
                                    556.0, 228.1, 995.8, 887.6, 120.2, 0.3,   0.3,   556.8, 339.1,
                                    887.2, 999.0, 779.0, 11.1,  118.3, 229.2, 669.1, 448.9, 0.5};
  const std::array<double, 36> y = {0.1,   338.8, 118.1, 888.0, 9.2,   228.1, 668.5, 998.5, 449.1,
                                    778.9, 559.2, 0.3,   0.1,   778.1, 668.8, 339.3, 448.9, 10.8,
                                    557.7, 228.3, 998.0, 888.8, 119.6, 0.3,   0.6,   557.6, 339.3,
                                    888.0, 998.5, 778.9, 10.2,  117.6, 228.9, 668.4, 449.2, 0.2};
  std::vector<WeightedPoint> points;
  for (std::size_t i = 0; i < x.size(); ++i) points.push_back({x[i], y[i], 1.0});
  const auto line = fitLine(points);
  ASSERT_TRUE(line);
  const double residual = std::sqrt(line->chiSquared / line->freedom);
  EXPECT_EQ(line->freedom, 34);
  expectDigits(line->intercept(), -0.262323073774029);
  expectDigits(line->slope, 1.00211681802045);
  expectDigits(residual * line->intercept_u(), 0.232818234301152);
  expectDigits(residual * line->slope_u, 0.429796848199937e-03);
  expectDigits(residual, 0.884796396144373);
  expectDigits(line->chiSquared, 26.6173985294224);
}

TEST(WeightedLine, NistNoInt1) {
  std::vector<WeightedPoint> points;
  for (int i = 0; i <= 10; ++i) points.push_back({60.0 + i, 130.0 + i, 1.0});
  const auto fit = fitThroughOrigin(points);
  ASSERT_TRUE(fit);
  const double residual = std::sqrt(fit->chiSquared / fit->freedom);
  expectDigits(fit->slope, 2.07438016528926);
  expectDigits(residual * fit->slope_u, 0.0165289256198347);
  expectDigits(residual, 3.56753034006338);
}

TEST(WeightedLine, NistNoInt2) {
  const std::vector<WeightedPoint> points = {{4, 3, 1}, {5, 4, 1}, {6, 4, 1}};
  const auto fit = fitThroughOrigin(points);
  ASSERT_TRUE(fit);
  const double residual = std::sqrt(fit->chiSquared / fit->freedom);
  expectDigits(fit->slope, 0.727272727272727);
  expectDigits(residual * fit->slope_u, 0.0420827318078432);
  expectDigits(residual, 0.369274472937998);
}

TEST(WeightedLine, APointTwiceAsSureCountsAsFour) {
  const auto twice = fitLine(std::vector<WeightedPoint>{{0, 0, 1}, {1, 2, 0.5}, {2, 1, 1}});
  const auto four = fitLine(
      std::vector<WeightedPoint>{{0, 0, 1}, {1, 2, 1}, {1, 2, 1}, {1, 2, 1}, {1, 2, 1}, {2, 1, 1}});
  ASSERT_TRUE(twice && four);
  EXPECT_NEAR(twice->slope, four->slope, 1e-14);
  EXPECT_NEAR(twice->slope_u, four->slope_u, 1e-14);
  EXPECT_NEAR(twice->meanY, four->meanY, 1e-14);
  EXPECT_NEAR(twice->meanY_u, four->meanY_u, 1e-14);
}

TEST(WeightedLine, OneXGivesNoLine) {
  EXPECT_FALSE(fitLine({}));
  EXPECT_FALSE(fitLine(std::vector<WeightedPoint>{{3, 1, 1}}));
  EXPECT_FALSE(fitLine(std::vector<WeightedPoint>{{3.1, 1, 1}, {3.1, 2, 1}, {3.1, 5, 1}}));
  EXPECT_FALSE(fitThroughOrigin(std::vector<WeightedPoint>{{0, 1, 1}}));
}

}  // namespace
}  // namespace swardwalk::infill
