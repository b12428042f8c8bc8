#include "common/answers/order.h"

#include <gtest/gtest.h>

#include "tests/common/answers/small_course.h"

namespace swardwalk::answers {
namespace {

using measure::Measured;
using test::CourseBuilder;

OrderLine seedOrder(double needed_kg, double u_kg, std::optional<double> stock_kg,
                    std::vector<double> packs_kg, bool bulk = false) {
  CourseBuilder course;
  turf::SeedLot& lot = course.lot("Bent", "creeping bentgrass");
  lot.stock_kg = stock_kg;
  lot.packs.sizes_kg = std::move(packs_kg);
  lot.packs.bulk = bulk;
  MaterialTotal sum;
  sum.material = "Bent";
  sum.sort = MaterialSort::seed;
  sum.amount_kg = Measured{needed_kg, u_kg};
  if (stock_kg) course.counted(course::Shelf::seedLot, "Bent");
  const auto lines = orderOf({sum}, course.state, Stock(course.state), measure::UnitSystem::metric);
  return lines.at(0);
}

TEST(Order, CoversWhatStockDoesNot) {
  const OrderLine line = seedOrder(0.9, 0.05, 0.2, {1.0});
  ASSERT_EQ(line.packs.size(), 1U);
  EXPECT_EQ(line.packs[0].count, 1);
  EXPECT_NEAR(*line.leftOver_kg, 0.3, 1e-12);
  EXPECT_EQ(line.text, "1 pack of 1 kg");
  EXPECT_EQ(line.stockText, "in stock 200 g");
  EXPECT_EQ(line.leftOverText, "300 g left over");
}

TEST(Order, IsEnoughInNineOfTenCases) {
  // 1.0 kg lies under 0.9 + 1.2816 u as soon as u is more than 0.078 kg.
  EXPECT_EQ(seedOrder(0.9, 0.07, 0.0, {1.0}).packs.at(0).count, 1);
  EXPECT_EQ(seedOrder(0.9, 0.08, 0.0, {1.0}).packs.at(0).count, 2);
}

TEST(Order, NothingWhereStockIsEnough) {
  const OrderLine line = seedOrder(0.1, 0.01, 0.5, {1.0});
  EXPECT_TRUE(line.packs.empty());
  EXPECT_FALSE(line.toOrder);
  EXPECT_EQ(line.text, "nothing to order");
  EXPECT_NEAR(*line.leftOver_kg, 0.4, 1e-12);
}

TEST(Order, BulkHasNoPacks) {
  const OrderLine line = seedOrder(0.9, 0.0, 0.2, {}, true);
  EXPECT_TRUE(line.packs.empty());
  EXPECT_EQ(line.text, "700 g loose");
}

TEST(Order, AnUnknownStockCountsAsNoneAndLeavesNoLeftOver) {
  const OrderLine line = seedOrder(0.9, 0.0, std::nullopt, {0.5});
  EXPECT_EQ(line.packs.at(0).count, 2);
  EXPECT_EQ(line.text, "2 packs of 500 g");
  EXPECT_FALSE(line.leftOver_kg.has_value());
  EXPECT_EQ(line.stockText, "stock unknown");
}

}  // namespace
}  // namespace swardwalk::answers
