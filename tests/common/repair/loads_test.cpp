#include "common/repair/loads.h"

#include <gtest/gtest.h>

#include <numeric>

namespace swardwalk::repair {
namespace {

std::vector<std::vector<std::size_t>> itemsOf(const std::vector<Load>& loads) {
  std::vector<std::vector<std::size_t>> items;
  for (const Load& load : loads) {
    items.emplace_back();
    for (const Load::Part& part : load.parts) items.back().push_back(part.item);
  }
  return items;
}

TEST(CartLoads, KeepTheOrderAndStayUnderTheLimit) {
  const std::vector<double> weights{40, 50, 30, 80, 10};
  const auto loads = cartLoads(weights, 100.0);
  using Items = std::vector<std::vector<std::size_t>>;
  EXPECT_EQ(itemsOf(loads), (Items{{0, 1}, {2}, {3, 4}}));
  for (const Load& load : loads) EXPECT_LE(load.weight_kg, 100.0);
}

TEST(CartLoads, ExactlyTheLimitIsOneTrip) {
  EXPECT_EQ(cartLoads(std::vector<double>{60, 40}, 100.0).size(), 1U);
  EXPECT_EQ(cartLoads(std::vector<double>{60, 40.5}, 100.0).size(), 2U);
}

TEST(CartLoads, WhatIsTooHeavyGoesInSeveralTrips) {
  const auto loads = cartLoads(std::vector<double>{20, 250, 30}, 100.0);
  ASSERT_EQ(loads.size(), 4U);
  EXPECT_DOUBLE_EQ(loads[0].weight_kg, 20);
  EXPECT_DOUBLE_EQ(loads[1].weight_kg, 100);
  EXPECT_DOUBLE_EQ(loads[2].weight_kg, 100);
  EXPECT_DOUBLE_EQ(loads[3].weight_kg, 80) << "the rest of 250, and the next place";
}

TEST(CartLoads, NothingIsLost) {
  const std::vector<double> weights{0, 12.5, 333, 99.9, 0.2, 100};
  double sum = 0.0;
  for (const Load& load : cartLoads(weights, 75.0)) sum += load.weight_kg;
  EXPECT_NEAR(sum, std::accumulate(weights.begin(), weights.end(), 0.0), 1e-9);
  EXPECT_TRUE(cartLoads({}, 75.0).empty());
}

}  // namespace
}  // namespace swardwalk::repair
