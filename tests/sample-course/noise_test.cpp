#include "sample-course/noise.h"

#include <gtest/gtest.h>

#include <cmath>
#include <vector>

namespace swardwalk::sample {
namespace {

TEST(Noise, SameSeedGivesTheSameNumbers) {
  Noise one(11);
  Noise other(11);
  for (int i = 0; i < 100; ++i) EXPECT_EQ(one.bits(), other.bits());
}

TEST(Noise, NormalHasMeanZeroAndVarianceOne) {
  Noise noise(3);
  constexpr int draws = 200000;
  double sum = 0.0;
  double squares = 0.0;
  for (int i = 0; i < draws; ++i) {
    const double drawn = noise.normal();
    sum += drawn;
    squares += drawn * drawn;
  }
  // Four standard errors: 4/sqrt(n) of the mean, 4 sqrt(2/n) of the variance.
  EXPECT_NEAR(sum / draws, 0.0, 4.0 / std::sqrt(draws));
  EXPECT_NEAR(squares / draws, 1.0, 4.0 * std::sqrt(2.0 / draws));
}

// Difference of two fixes dt apart under a Gauss-Markov error: sigma sqrt(2(1 - e^(-dt/tau)));
// tau 300 s, dt 30 s: 0.436263 sigma (computed from the model, common practice).
TEST(DriftingError, NeighboursDifferAsAGaussMarkovErrorDoes) {
  Noise noise(5);
  DriftingError error(noise, 1.0, 300.0);
  double before = error.next(30.0);
  double squares = 0.0;
  constexpr int steps = 200000;
  for (int i = 0; i < steps; ++i) {
    const double now = error.next(30.0);
    squares += (now - before) * (now - before);
    before = now;
  }
  // Steps are nearly independent; 2 % is more than four standard errors.
  EXPECT_NEAR(std::sqrt(squares / steps), 0.436263, 0.009);
}

}  // namespace
}  // namespace swardwalk::sample
