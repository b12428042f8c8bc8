#include "common/turf/species.h"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <set>

namespace swardwalk::turf {
namespace {

const Species& grass(std::string_view name) {
  const Species* found = findSpecies(name);
  EXPECT_NE(found, nullptr) << name;
  return *found;
}

void expectSane(const Range& range, std::string_view what) {
  EXPECT_GT(range.low, 0.0) << what;
  EXPECT_LE(range.low, range.best) << what;
  EXPECT_LE(range.best, range.high) << what;
}

TEST(Species, EveryNumberIsARangeAndEveryGrassNamesItsSource) {
  std::set<std::string_view> names;
  for (const Species& one : allSpecies()) {
    EXPECT_TRUE(names.insert(one.name).second) << one.name << " stands twice";
    EXPECT_FALSE(one.source.empty()) << one.name;
    for (const Range& range :
         {one.seedsPerGram, one.patchRate_g_m2, one.livePerSquareCentimetre, one.daysUpAt10_c,
          one.daysUpAt15_c, one.daysUpAt20_c, one.sownToPuttable_d, one.creepCool_mm_d,
          one.creepWarm_mm_d, one.creepUnknown_mm_d}) {
      expectSane(range, one.name);
    }
    EXPECT_GE(one.daysUpAt10_c.best, one.daysUpAt15_c.best) << one.name;
    EXPECT_GE(one.daysUpAt15_c.best, one.daysUpAt20_c.best) << one.name;
    EXPECT_GE(one.creepWarm_mm_d.best, one.creepCool_mm_d.best) << one.name;
  }
}

TEST(Species, RateFormAndLiveSeedFormAgreeForAFreshLot) {
  // 85 % pure live seed, half of it establishing: see the table. Rounded to two digits.
  for (const Species& one : allSpecies()) {
    const double rate = one.livePerSquareCentimetre.best * 1e4 / 0.85 / 0.5 / one.seedsPerGram.best;
    EXPECT_NEAR(rate, one.patchRate_g_m2.best, 0.1 * one.patchRate_g_m2.best) << one.name;
  }
}

TEST(Species, AreFoundByTradeNameInAnyWriting) {
  EXPECT_EQ(grass("creeping bentgrass").name, "creeping bentgrass");
  EXPECT_EQ(grass("Bentgrass").name, "creeping bentgrass");
  EXPECT_EQ(grass("  Creeping  Bent ").name, "creeping bentgrass");
  EXPECT_EQ(grass("Chewings fescue").name, "red fescue");
  EXPECT_EQ(grass("slender-creeping red fescue").name, "red fescue");
  EXPECT_EQ(grass("Poa annua").name, "annual bluegrass");
  EXPECT_EQ(grass("kentucky bluegrass").name, "Kentucky bluegrass");
  EXPECT_EQ(grass("Ryegrass").name, "perennial ryegrass");
  EXPECT_EQ(findSpecies("dandelion"), nullptr);
  EXPECT_EQ(findSpecies(""), nullptr);
}

TEST(Species, PublishedSeedCountsLieInTheRange) {
  // Seeds per pound / 453.59237 (reference values, section 7.2).
  const double gramsPerPound = 453.59237;
  for (const double perPound : {6.0e6, 6.4e6, 7.8e6, 8.0e6}) {  // four lists
    const Range& range = grass("creeping bentgrass").seedsPerGram;
    EXPECT_GE(perPound / gramsPerPound, range.low - 1.0);
    EXPECT_LE(perPound / gramsPerPound, range.high + 1.0);
  }
  for (const double perGram : {1847.0, 2744.0, 4413.0}) {  // Christians et al. 1979
    EXPECT_GE(perGram, grass("Kentucky bluegrass").seedsPerGram.low);
    EXPECT_LE(perGram, grass("Kentucky bluegrass").seedsPerGram.high);
  }
  for (const double perPound : {230e3, 250e3}) {  // a list; Cornell
    EXPECT_NEAR(perPound / gramsPerPound, grass("perennial ryegrass").seedsPerGram.best, 25.0);
  }
  EXPECT_EQ(grass("red fescue").seedsPerGram.best, 1020.0);  // Christians et al. 1979, mean
}

TEST(DaysUp, AreTheTableAtTenFifteenAndTwenty) {
  // Common practice, no source; ryegrass after Larsen & Bibby 2005.
  const Species& bent = grass("creeping bentgrass");
  EXPECT_DOUBLE_EQ(daysUp(bent, 10.0)->best, 20.0);
  EXPECT_DOUBLE_EQ(daysUp(bent, 15.0)->best, 11.0);
  EXPECT_DOUBLE_EQ(daysUp(bent, 20.0)->high, 10.0);
  EXPECT_DOUBLE_EQ(daysUp(bent, 24.0)->best, 7.0);
  const Species& rye = grass("perennial ryegrass");
  EXPECT_DOUBLE_EQ(daysUp(rye, 10.0)->low, 10.0);
  EXPECT_DOUBLE_EQ(daysUp(rye, 10.0)->high, 18.0);
}

TEST(DaysUp, RyegrassIsSeenTwoOrThreeDaysAfterHalfItsSeedsGerminate) {
  // Larsen & Bibby 2005: 63.9 degree-days above 3.6 C; two or three days to be seen in the
  // field, the table rounded to whole days.
  for (const double mean_c : {10.0, 12.0, 16.0, 20.0}) {
    const double later = daysUp(grass("perennial ryegrass"), mean_c)->best - 63.9 / (mean_c - 3.6);
    EXPECT_GT(later, 1.5) << mean_c;
    EXPECT_LT(later, 3.5) << mean_c;
  }
}

TEST(DaysUp, GrowWithCold) {
  for (const Species& one : allSpecies()) {
    double before = 1e9;
    for (double mean_c = one.coldestGrows_c; mean_c <= 25.0; mean_c += 0.5) {
      const auto days = daysUp(one, mean_c);
      ASSERT_TRUE(days) << one.name << " at " << mean_c;
      expectSane(*days, one.name);
      EXPECT_LE(days->best, before + 1e-9) << one.name << " at " << mean_c;
      before = days->best;
    }
  }
}

TEST(DaysUp, BentgrassDoesNotComeUpBelowSevenDegrees) {
  // Heineck et al. 2019: none, or not enough, below 7.2 C.
  EXPECT_FALSE(daysUp(grass("creeping bentgrass"), 6.0));
  EXPECT_TRUE(daysUp(grass("creeping bentgrass"), 7.5));
  EXPECT_FALSE(daysUp(grass("creeping bentgrass"), std::numeric_limits<double>::quiet_NaN()));
}

TEST(DaysUp, UnknownTemperatureWidensTheRange) {
  const auto days = daysUpFor(grass("creeping bentgrass"), std::nullopt);
  EXPECT_EQ(days, (Range{11, 5, 28}));
  EXPECT_EQ(daysUpFor(grass("creeping bentgrass"), 15.0), daysUp(grass("creeping bentgrass"), 15));
}

TEST(Creep, FollowsTheTemperature) {
  // Common practice, no source.
  const Species& bent = grass("creeping bentgrass");
  EXPECT_EQ(creepFor(bent, 9.0), (Range{0.3, 0.1, 0.6}));
  EXPECT_EQ(creepFor(bent, 18.0), (Range{1.0, 0.5, 1.8}));
  EXPECT_EQ(creepFor(bent, std::nullopt), (Range{1.0, 0.3, 1.8}));
  EXPECT_NEAR(creepFor(bent, 13.5)->best, 0.65, 1e-12);
  EXPECT_FALSE(creepFor(bent, 6.0));
  EXPECT_FALSE(creepFor(bent, std::numeric_limits<double>::quiet_NaN()));
}

TEST(Creep, OfCoolGrassesSlowsInHeatAndOfWarmOnesQuickens) {
  EXPECT_LT(creepFor(grass("creeping bentgrass"), 28.0)->best, 0.5);
  EXPECT_GT(creepFor(grass("bermudagrass"), 28.0)->best, 2.0);
}

TEST(SownToPuttable, TakesLongerWhereItIsCool) {
  // Common practice, no source: 70 d, cooler 110.
  const Species& bent = grass("creeping bentgrass");
  EXPECT_EQ(sownToPuttableFor(bent, 13.0), (Range{70, 50, 100}));
  EXPECT_NEAR(sownToPuttableFor(bent, 10.0)->best, 110.0, 1e-9);
  EXPECT_FALSE(sownToPuttableFor(bent, 6.0));
  EXPECT_DOUBLE_EQ(sownToPuttableFor(bent, std::nullopt)->best, 70.0);
}

TEST(GrowthPotential, IsTheComputedTableOfTheReferenceValues) {
  // Formula and constants: Gelernter & Stowell 2005, as at atcweb3, "turfgrass growth
  // potential"; digits computed from it (reference values, section 10), six decimals.
  const struct {
    double mean_c, cool, warm;
  } table[] = {{0, 0.001345, 0.000055},  {5, 0.024258, 0.001010},  {10, 0.191495, 0.011109},
               {15, 0.661515, 0.073370}, {18, 0.936023, 0.178264}, {20, 1, 0.290924},
               {22, 0.936023, 0.437565}, {25, 0.661515, 0.692569}, {28, 0.347201, 0.912254},
               {31, 0.135335, 1},        {35, 0.024258, 0.849366}};
  for (const auto& row : table) {
    EXPECT_NEAR(growthPotential(row.mean_c, false), row.cool, 5.1e-7) << row.mean_c;
    EXPECT_NEAR(growthPotential(row.mean_c, true), row.warm, 5.1e-7) << row.mean_c;
  }
}

TEST(GrowthPotential, WarmSeasonOvertakesCoolAtItsPublishedCrossing) {
  // Published "about 24.8 C"; exactly 310.5/12.5 C, both 0.6789552903.
  EXPECT_NEAR(growthPotential(24.84, false), 0.6789552903, 1e-10);
  EXPECT_NEAR(growthPotential(24.84, true), 0.6789552903, 1e-10);
  EXPECT_NEAR(growthPotential(13.524245, false), 0.5, 1e-7);
  EXPECT_NEAR(growthPotential(22.758130, true), 0.5, 1e-7);
}

}  // namespace
}  // namespace swardwalk::turf
