#include "common/answers/stock.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/common/answers/small_course.h"

namespace swardwalk::answers {
namespace {

using course::Shelf;
using test::CourseBuilder;
using testing::Contains;
using testing::HasSubstr;
using testing::IsEmpty;

struct Shed : CourseBuilder {
  Shed() : n1(patch("N1")) {
    seen(n1, "2027-04-01", turf::Kind::bare, 1.0, 1.0);
    shed();
  }
  course::Patch& n1;
};

TEST(Stock, IsWhatWasCountedLessWhatWasUsedSince) {
  Shed course;
  EXPECT_DOUBLE_EQ(*Stock(course.state).left(Shelf::seedLot, "Bent 26-4"), 0.02);
  course.sown(course.n1, "2027-04-02", "Bent 26-4", 8.0);
  const Stock stock(course.state);
  EXPECT_DOUBLE_EQ(*stock.left(Shelf::seedLot, "Bent 26-4"), 0.012);
  EXPECT_DOUBLE_EQ(stock.of(Shelf::seedLot, "Bent 26-4")->used, 0.008);
  EXPECT_THAT(stock.notes(), IsEmpty());
}

TEST(Stock, FillAndFeedAndTurfGoDownToo) {
  Shed course;
  course::Repair& done = course.repair(course.n1, "2027-04-02");
  done.fill = "Medium sand";
  done.fill_l = 10.0;
  done.feed = "Starter";
  done.feed_g = 500.0;
  turf::Turf& sod = course.state.turfs.emplace_back();
  sod.name = "Sod";
  sod.stock_m2 = 5.0;
  course.counted(Shelf::turf, "Sod");
  course.repair(course.n1, "2027-04-03").turf_m2 = 2.0;
  const Stock stock(course.state);
  EXPECT_NEAR(*stock.left(Shelf::fill, "Medium sand"), 40.0 - 15.5, 1e-12);
  EXPECT_DOUBLE_EQ(*stock.left(Shelf::feed, "Starter"), 4.5);
  EXPECT_DOUBLE_EQ(*stock.left(Shelf::turf, "Sod"), 3.0) << "the only turf need not be named";
}

TEST(Stock, AFeedingOfAGreenTakesItsProductOrItsRateOverTheGreen) {
  Shed course;
  course::Feeding feeding;
  feeding.source = course.repair(course.n1, "2027-04-01").source;
  feeding.source.counter += 100;
  feeding.green = "North";
  feeding.feed = "Starter";
  feeding.product_kg = 1.0;
  course.state.feedings.push_back(feeding);
  EXPECT_DOUBLE_EQ(*Stock(course.state).left(Shelf::feed, "Starter"), 4.0);
  course.state.feedings.back().product_kg.reset();
  course.state.feedings.back().rate_g_m2 = 4.0;
  // 25 x 20 m; the sphere and the plane differ by less than a part in ten thousand.
  EXPECT_NEAR(*Stock(course.state).left(Shelf::feed, "Starter"), 5.0 - 0.004 * 500.0, 2e-4);
}

TEST(Stock, ACountThatIsRecordedLaterHoldsWhatWasUsedBefore) {
  Shed course;
  course.sown(course.n1, "2027-04-02", "Bent 26-4", 8.0);
  course.state.stockCounts.clear();
  course.counted(Shelf::seedLot, "Bent 26-4");
  EXPECT_DOUBLE_EQ(*Stock(course.state).left(Shelf::seedLot, "Bent 26-4"), 0.02);
}

TEST(Stock, ATimeOfCountingDecidesWhateverTheOrderOfRecords) {
  Shed course;
  course.sown(course.n1, "2027-04-02", "Bent 26-4", 8.0);
  course.state.stockCounts.clear();
  course.counted(Shelf::seedLot, "Bent 26-4");
  course.state.stockCounts.back().counted = test::at("2027-04-01");
  EXPECT_DOUBLE_EQ(*Stock(course.state).left(Shelf::seedLot, "Bent 26-4"), 0.012);
  course.state.stockCounts.back().counted = test::at("2027-04-03");
  EXPECT_DOUBLE_EQ(*Stock(course.state).left(Shelf::seedLot, "Bent 26-4"), 0.02);
}

TEST(Stock, MoreUsedThanWasThereIsSaidAndLeavesNone) {
  Shed course;
  course.sown(course.n1, "2027-04-02", "Bent 26-4", 30.0);
  const Stock stock(course.state);
  EXPECT_DOUBLE_EQ(*stock.left(Shelf::seedLot, "Bent 26-4"), 0.0);
  EXPECT_THAT(stock.notes(), Contains(HasSubstr("Bent 26-4: the records say that more was used")));
}

TEST(Stock, AUseWithoutAnAmountIsSaid) {
  Shed course;
  course.sown(course.n1, "2027-04-02").seed_g.reset();
  EXPECT_THAT(Stock(course.state).notes(),
              Contains(HasSubstr("used once without saying how much")));
}

TEST(Stock, NobodyCountedIsUnknownNotNone) {
  Shed course;
  course.state.stockCounts.clear();
  EXPECT_FALSE(Stock(course.state).left(Shelf::seedLot, "Bent 26-4"));
}

TEST(Stock, TheOrderReckonsWithWhatIsLeft) {
  Shed course;
  course.seen(course.n1, "2027-04-11", turf::Kind::bare, 1.0, 1.0);
  course.state.course.openingDay = test::date("2027-09-01");
  const auto lineOf = [&](const Plan& plan) {
    for (const OrderLine& line : plan.order) {
      if (line.material == "Bent 26-4") return line;
    }
    return OrderLine{};
  };
  EXPECT_TRUE(lineOf(course.plan("2027-04-12")).packs.empty());
  course::Patch& other = course.patch("N2");
  course.seen(other, "2027-04-11", turf::Kind::bare, 1.0, 1.0);
  course.sown(other, "2027-04-11", "Bent 26-4", 18.0);
  const OrderLine line = lineOf(course.plan("2027-04-12"));
  EXPECT_EQ(line.stockText, "in stock 2 g, 18 g used");
  EXPECT_EQ(line.packs.size(), 1U);
}

}  // namespace
}  // namespace swardwalk::answers
