#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <random>
#include <vector>

#include "common/repair/amounts.h"

namespace swardwalk::repair {
namespace {

struct Best {
  long long left = std::numeric_limits<long long>::max();
  int packs = std::numeric_limits<int>::max();
};

/// Tries every count of every pack.
void tryAll(const std::vector<long long>& sizes, std::size_t i, long long missing, int packs,
            Best& best) {
  if (missing <= 0) {
    if (-missing < best.left || (-missing == best.left && packs < best.packs)) {
      best = {-missing, packs};
    }
    return;
  }
  if (i == sizes.size()) return;
  for (long long count = 0; count <= missing / sizes[i] + 1; ++count) {
    tryAll(sizes, i + 1, missing - count * sizes[i], packs + static_cast<int>(count), best);
  }
}

TEST(LeastWaste, AgreesWithBruteForce) {
  std::mt19937 random(20270412);
  for (int i = 0; i < 400; ++i) {
    std::vector<long long> grams;
    turf::Packs packs;
    const int kinds = 1 + static_cast<int>(random() % 3);
    for (int k = 0; k < kinds; ++k) {
      grams.push_back(50 * (1 + static_cast<long long>(random() % 40)));
      packs.sizes_kg.push_back(static_cast<double>(grams.back()) / 1000.0);
    }
    const auto missing = static_cast<long long>(1 + random() % 6000);
    Best best;
    tryAll(grams, 0, missing, 0, best);
    const double stock_kg = static_cast<double>(random() % 3000) / 1000.0;
    const double needed_kg = static_cast<double>(missing) / 1000.0 + stock_kg;
    const Order order = leastWaste(needed_kg, stock_kg, packs);
    EXPECT_NEAR(order.leftOver_kg, static_cast<double>(best.left) / 1000.0, 1e-9) << i;
    int count = 0;
    double ordered_kg = 0.0;
    for (const PackCount& pack : order.packs) {
      count += pack.count;
      ordered_kg += pack.count * pack.pack_kg;
    }
    EXPECT_EQ(count, best.packs) << i;
    EXPECT_NEAR(ordered_kg, order.ordered_kg, 1e-9) << i;
  }
}

TEST(LeastWaste, ExampleOfTheContract) {
  const Order order = leastWaste(0.9, 0.2, {.sizes_kg = {1.0}, .bulk = false});
  EXPECT_EQ(order.packs, (std::vector<PackCount>{{1.0, 1}}));
  EXPECT_NEAR(order.leftOver_kg, 0.3, 1e-12);
}

TEST(LeastWaste, OneLargerPackGoesBeforeTwoSmallerOnes) {
  const Order order = leastWaste(1.0, 0.0, {.sizes_kg = {0.5, 1.0}, .bulk = false});
  EXPECT_EQ(order.packs, (std::vector<PackCount>{{1.0, 1}}));
}

TEST(LeastWaste, StockThatCoversOrdersNothing) {
  const Order order = leastWaste(0.9, 1.2, {.sizes_kg = {1.0}, .bulk = false});
  EXPECT_TRUE(order.packs.empty());
  EXPECT_EQ(order.ordered_kg, 0.0);
  EXPECT_NEAR(order.leftOver_kg, 0.3, 1e-12);
}

TEST(LeastWaste, BulkAndUnknownPacksComeInAnyAmount) {
  for (const turf::Packs& packs : {turf::Packs{{}, true}, turf::Packs{{25.0}, true},
                                   turf::Packs{{}, false}, turf::Packs{{0.0, -3.0}, false}}) {
    const Order order = leastWaste(310.5, 10.0, packs);
    EXPECT_TRUE(order.packs.empty());
    EXPECT_NEAR(order.ordered_kg, 300.5, 1e-9);
    EXPECT_NEAR(order.leftOver_kg, 0.0, 1e-9);
  }
}

TEST(LeastWaste, ExactPacksAreNotRoundedUpByFloatingPoint) {
  // 0.1 + 0.2 kg is a little more than 0.3 in binary.
  const Order order = leastWaste(0.1 + 0.2, 0.0, {.sizes_kg = {0.3}, .bulk = false});
  EXPECT_EQ(order.packs, (std::vector<PackCount>{{0.3, 1}}));
}

TEST(LeastWaste, StockBelowNothingCountsAsNone) {
  const Order order = leastWaste(2.0, -5.0, {.sizes_kg = {1.0}, .bulk = false});
  EXPECT_NEAR(order.ordered_kg, 2.0, 1e-12);
}

TEST(LeastWaste, OddPacksAreExactToTwoTons) {
  // 25 large ones and 5 small would leave 5 g.
  const Order order =
      leastWaste(24 * 22.68 + 30 * 0.907, 0.0, {.sizes_kg = {0.907, 22.68}, .bulk = false});
  EXPECT_NEAR(order.leftOver_kg, 0.0, 1e-9);
  EXPECT_EQ(order.packs, (std::vector<PackCount>{{22.68, 24}, {0.907, 30}}));
}

TEST(LeastWaste, MoreThanThatIsCoveredWithLittleLeft) {
  const Order order = leastWaste(60000.0, 0.0, {.sizes_kg = {22.68, 11.34, 0.907}, .bulk = false});
  EXPECT_GE(order.leftOver_kg, -1e-9);
  EXPECT_LT(order.leftOver_kg, 0.907) << "less than the smallest pack";
}

}  // namespace
}  // namespace swardwalk::repair
