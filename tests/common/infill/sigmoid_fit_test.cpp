#include "common/infill/sigmoid_fit.h"

#include <gtest/gtest.h>

#include <cmath>
#include <vector>

namespace swardwalk::infill {
namespace {

std::vector<WeightedPoint> points(const std::vector<double>& x, const std::vector<double>& y) {
  std::vector<WeightedPoint> all;
  for (std::size_t i = 0; i < x.size(); ++i) all.push_back({x[i], y[i], 1.0});
  return all;
}

double residualU(const SigmoidFit& fit) { return std::sqrt(fit.chiSquared / fit.freedom); }

// NIST/ITL Statistical Reference Datasets, nonlinear, certified to 11 digits; eight digits
// are asked for. Data and values as in ceres-solver, data/nist/Rat42.dat and Rat43.dat;
// original: Ratkowsky 1983, "Nonlinear Regression Modeling", pp. 61 and 62.
void expectDigits(double value, double certified) {
  EXPECT_NEAR(value, certified, std::abs(certified) * 1e-8);
}

TEST(SigmoidFit, NistRat42FromBothStarts) {
  const auto data = points({9, 14, 21, 28, 42, 57, 63, 70, 79},
                           {8.93, 10.8, 18.59, 22.33, 39.35, 56.11, 61.73, 64.62, 67.08});
  for (const Sigmoid& start : {Sigmoid{100, 1, 0.1, 1}, Sigmoid{75, 2.5, 0.07, 1}}) {
    const auto fit = fitSigmoid(data, start, {.top = true});
    ASSERT_TRUE(fit);
    EXPECT_EQ(fit->freedom, 6);
    expectDigits(fit->curve.top, 7.2462237576e+01);
    expectDigits(fit->curve.offset, 2.6180768402e+00);
    expectDigits(fit->curve.rate, 6.7359200066e-02);
    expectDigits(residualU(*fit) * fit->u.top, 1.7340283401e+00);
    expectDigits(residualU(*fit) * fit->u.offset, 8.8295217536e-02);
    expectDigits(residualU(*fit) * fit->u.rate, 3.4465663377e-03);
    expectDigits(fit->chiSquared, 8.0565229338e+00);
    expectDigits(residualU(*fit), 1.1587725499e+00);
  }
}

TEST(SigmoidFit, NistRat43FromBothStarts) {
  const auto data = points({1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15},
                           {16.08, 33.83, 65.80, 97.20, 191.55, 326.20, 386.87, 520.53, 590.03,
                            651.92, 724.93, 699.56, 689.96, 637.56, 717.41});
  for (const Sigmoid& start : {Sigmoid{100, 10, 1, 1}, Sigmoid{700, 5, 0.75, 1.3}}) {
    const auto fit = fitSigmoid(data, start, {.top = true, .power = true});
    ASSERT_TRUE(fit);
    EXPECT_EQ(fit->freedom, 11);
    expectDigits(fit->curve.top, 6.9964151270e+02);
    expectDigits(fit->curve.offset, 5.2771253025e+00);
    expectDigits(fit->curve.rate, 7.5962938329e-01);
    expectDigits(fit->curve.power, 1.2792483859e+00);
    expectDigits(fit->chiSquared, 8.7864049080e+03);
  }
}

// Weekly per cent of living cover after traffic ended, NTEP 2007 bermudagrass test,
// Gainesville (ntep.org/data/bg07/bg07_10-4/bg0710t06c.txt); fits computed with R's nls and
// once more with 40 digits, agreeing to seven.
TEST(SigmoidFit, CoverRecoveringAfterTraffic) {
  struct Case {
    std::vector<double> cover;
    double offset, rate, offset_u, rate_u, squares;
  };
  for (const Case& entry : {Case{{18.3, 21.3, 41.7, 57.3, 71.7},
                                 1.73320145234,
                                 0.09559148910,
                                 0.1571827516,
                                 0.008542831374,
                                 32.1320304375},
                            Case{{46.3, 56.3, 78.3, 87.3, 94.0},
                                 0.25852650994,
                                 0.10189270043,
                                 0.1218941798,
                                 0.01165307131,
                                 36.481844477}}) {
    const auto fit =
        fitSigmoid(points({0, 7, 14, 21, 28}, entry.cover), Sigmoid{100, 1, 0.05, 1}, {});
    ASSERT_TRUE(fit);
    // Seven digits: the two computations agree to that.
    EXPECT_NEAR(fit->curve.offset, entry.offset, 1e-7 * entry.offset * 10);
    EXPECT_NEAR(fit->curve.rate, entry.rate, 1e-7 * entry.rate);
    EXPECT_NEAR(residualU(*fit) * fit->u.offset, entry.offset_u, 1e-6 * entry.offset_u);
    EXPECT_NEAR(residualU(*fit) * fit->u.rate, entry.rate_u, 1e-6 * entry.rate_u);
    EXPECT_NEAR(fit->chiSquared, entry.squares, 1e-7 * entry.squares);
  }
}

TEST(SigmoidFit, TooFewPointsOrNothingToFitIsNoFit) {
  EXPECT_FALSE(fitSigmoid(points({0}, {0.5}), {}, {}));
  EXPECT_FALSE(fitSigmoid(points({0, 1}, {0.5, 0.6}), {}, {.top = true}));
  EXPECT_FALSE(fitSigmoid(points({3, 3, 3}, {0.5, 0.6, 0.7}), {}, {}));
}

}  // namespace
}  // namespace swardwalk::infill
