#include "common/measure/sampled_share.h"

#include <gtest/gtest.h>

#include <array>
#include <vector>

namespace swardwalk::measure {
namespace {

TEST(SampledShare, TenFramesAreTenMeasurementsAndNotTwoHundredAndFifty) {
  // Computed with an independent program: p 0.296, s of the frames' shares / sqrt(10) =
  // 0.055361439; as 250 single squares it would be 0.028871, half of it.
  std::vector<ThrownFrame> frames;
  for (const int bare : {5, 9, 2, 14, 7, 11, 0, 8, 12, 6}) frames.push_back({bare, 25});
  const Measured share = sampledShare(frames);
  EXPECT_NEAR(share.value, 0.296, 1e-12);
  EXPECT_NEAR(share.u.value(), 0.055361439, 1e-9);
}

TEST(SampledShare, UnequalFramesGiveTheRatioAndNotTheMeanOfRatios) {
  // Computed with an independent program: ratio 0.266666667, standard error 0.056119586.
  const std::array<ThrownFrame, 5> frames{{{3, 20}, {10, 25}, {1, 15}, {8, 25}, {6, 20}}};
  const Measured share = sampledShare(frames);
  EXPECT_NEAR(share.value, 0.266666667, 1e-9);
  // 28 of 105 squares, one by one, would err by 0.043: the frames' scatter stands.
  EXPECT_NEAR(share.u.value(), 0.056119586, 1e-9);
}

TEST(SampledShare, NoBareSquareIsNotTakenForCertainty) {
  const std::array<ThrownFrame, 4> frames{{{0, 5}, {0, 5}, {0, 5}, {0, 5}}};
  const Measured share = sampledShare(frames);
  EXPECT_EQ(share.value, 0.0);
  // 2 of 24: sqrt(1/12 * 11/12 / 24).
  EXPECT_NEAR(share.u.value(), 0.056417, 1e-6);
}

TEST(SampledShare, Q1OneFrameAloneHasNoKnownUncertainty) {
  const std::array<ThrownFrame, 1> one{{{6, 20}}};
  EXPECT_NEAR(sampledShare(one).value, 0.3, 1e-12);
  EXPECT_FALSE(sampledShare(one).u);
}

}  // namespace
}  // namespace swardwalk::measure
