#include "common/repair/blend.h"

#include <gtest/gtest.h>

namespace swardwalk::repair {
namespace {

const turf::Species* bent() { return turf::findSpecies("creeping bentgrass"); }
const turf::Species* rye() { return turf::findSpecies("perennial ryegrass"); }

TEST(Blend, OneGrassIsItself) {
  const auto counts = countsOf({{1.0, bent()}}, false);
  EXPECT_DOUBLE_EQ(counts->seedsPerGram.best, bent()->seedsPerGram.best);
  EXPECT_DOUBLE_EQ(counts->livePerSquareCentimetre.low, bent()->livePerSquareCentimetre.low);
  EXPECT_DOUBLE_EQ(countsOf({{1.0, bent()}}, true)->seedsPerGram.high, bent()->seedsPerGram.high);
}

TEST(Blend, ByWeightAGramHoldsTheMeanOfTheCounts) {
  // 0.8 g of ryegrass and 0.2 g of bentgrass.
  const auto counts = countsOf({{0.8, rye()}, {0.2, bent()}}, false);
  EXPECT_NEAR(counts->seedsPerGram.best, 0.8 * 530 + 0.2 * 14110, 1e-9);
}

TEST(Blend, ByNumberHalfTheSeedsOfASmallSeededGrassWeighLittle) {
  const auto counts = countsOf({{0.5, rye()}, {0.5, bent()}}, true);
  // 1,000 seeds: 500 of 1/530 g and 500 of 1/14,110 g.
  const double grams = 500.0 / 530.0 + 500.0 / 14110.0;
  EXPECT_NEAR(counts->seedsPerGram.best, 1000.0 / grams, 1e-9);
  EXPECT_NEAR(counts->byWeight.at(1), 500.0 / 14110.0 / grams, 1e-12);
}

TEST(Blend, BothWaysOfStatingOneBlendAgree) {
  const auto byNumber = countsOf({{0.3, rye()}, {0.7, bent()}}, true);
  const auto byWeight =
      countsOf({{byNumber->byWeight[0], rye()}, {byNumber->byWeight[1], bent()}}, false);
  EXPECT_NEAR(byWeight->seedsPerGram.best, byNumber->seedsPerGram.best, 1e-9);
  EXPECT_NEAR(byWeight->livePerSquareCentimetre.best, byNumber->livePerSquareCentimetre.best,
              1e-12);
}

TEST(Blend, SeedlingsShareTheRoom) {
  // Two seedlings to four of bentgrass's and ryegrass's own room: a stand of both lies
  // between the stands of each.
  const auto counts = countsOf({{0.5, rye()}, {0.5, bent()}}, true);
  const double room_cm2 = 0.5 / 0.8 + 0.5 / 4.8;
  EXPECT_NEAR(counts->livePerSquareCentimetre.best, 1.0 / room_cm2, 1e-12);
}

TEST(Blend, NothingForAnUnknownGrassOrSharesOfNothing) {
  EXPECT_FALSE(countsOf({{0.5, rye()}, {0.5, nullptr}}, false));
  EXPECT_FALSE(countsOf({{0.0, rye()}}, false));
  EXPECT_FALSE(countsOf({}, false));
}

}  // namespace
}  // namespace swardwalk::repair
