#include "common/repair/amounts.h"

#include <gtest/gtest.h>

#include <cmath>
#include <vector>

#include "common/measure/units.h"

namespace swardwalk::repair {
namespace {

using measure::Measured;

turf::SeedLot lot(double purity, double germination) {
  turf::SeedLot one;
  one.name = "Bent 26-4";
  one.purity = purity;
  one.germination = germination;
  return one;
}

// Published examples of pure live seed (reference values, section 7.1). Where the printed
// figure was rounded midway the exact one is checked, and the printed one at its digits.

TEST(PureLiveSeed, OfNinetySixByNinetyOnePercent) {
  // rangelandsgateway.org, taxonomy term 24749.
  EXPECT_NEAR(100 * pureLiveSeed(lot(0.96, 0.91)), 87.36, 1e-10);
}

TEST(PureLiveSeed, BermudagrassOfTheTexasTransportationDepartment) {
  // txdot.gov, pure live seed. Printed 0.64 and 1.56 lb of bulk; it rounds before it divides. Exact
  // 0.6375, 1.568627.
  EXPECT_NEAR(pureLiveSeed(lot(0.85, 0.75)), 0.6375, 1e-12);
  EXPECT_NEAR(*bulkForPureLive(lot(0.85, 0.75)), 1.568627, 5e-7);
}

TEST(PureLiveSeed, BluegrassOnTheMinnesotaExtensionLabel) {
  // extension.umn.edu, newlawn_5.
  EXPECT_NEAR(100 * pureLiveSeed(lot(0.31, 0.80)), 24.8, 1e-10);
}

TEST(PureLiveSeed, OfTheCornellSportsFieldPage) {
  // safesportsfields.cals.cornell.edu, seeding rates.
  EXPECT_NEAR(100 * pureLiveSeed(lot(0.95, 0.85)), 81, 0.5);  // printed without decimals
}

TEST(PureLiveSeed, BulkIsItsInverse) {
  // ernstseed.com, bulk against pure live seed.
  EXPECT_NEAR(100 * pureLiveSeed(lot(0.96, 0.80)), 76.8, 1e-10);
  EXPECT_NEAR(*bulkForPureLive(lot(0.96, 0.80)), 1.3, 0.05);  // printed with one decimal
}

TEST(PureLiveSeed, HardSeedCountsAsViable) {
  // ec3grp.com: (0.92 + 0.05 hard) x 0.98, 3.00 lb pure live is 3.16 lb bulk.
  EXPECT_NEAR(100 * pureLiveSeed(lot(0.98, 0.92 + 0.05)), 95.06, 1e-10);
  EXPECT_NEAR(3.00 * *bulkForPureLive(lot(0.98, 0.97)), 3.16, 0.005);
}

TEST(PureLiveSeed, TwentyPoundsPureLiveAndThirtyPoundsBulk) {
  // mbsseed.com: 80.75 %; 20 lb pure live is 24.77 lb; 30 lb bulk is 24.23 lb.
  EXPECT_NEAR(20 * *bulkForPureLive(lot(0.95, 0.85)), 24.77, 0.005);
  EXPECT_NEAR(30 * pureLiveSeed(lot(0.95, 0.85)), 24.23, 0.0051);  // exact 24.225
}

TEST(PureLiveSeed, FiftyPoundBag) {
  // johnstonseed.com, pure live against bulk seed.
  EXPECT_NEAR(50 * pureLiveSeed(lot(0.98, 0.90)), 44.1, 1e-10);
}

TEST(Seed, FromLiveSeedsWantedIsTheFormula) {
  // 2 m2 x 4.8 per cm2 / (0.98 x 0.88 x 0.5 x 14,000): 15.904... g.
  const turf::Range count = {14000, 13000, 16000};
  const auto grams = seedForLiveSeeds_g({2.0, 0.1}, lot(0.98, 0.88), {4.8, 3, 7}, count, 0.5);
  ASSERT_TRUE(grams);
  EXPECT_NEAR(grams->value, 2.0 * 48000 / (0.98 * 0.88 * 0.5 * 14000), 1e-9);
  // Relative doubts of area and count in squares; the count's from its central 80 %.
  const double count_u = 3000 / (2 * 1.2815515655446004);
  EXPECT_NEAR(*grams->u / grams->value, std::hypot(0.1 / 2.0, count_u / 14000), 1e-12);
}

TEST(Seed, OwnCountOfTheLotGoesBeforeThatOfItsGrass) {
  turf::SeedLot own = lot(0.98, 0.88);
  own.seedsPerGramLow = 7000;
  own.seedsPerGramHigh = 7000;
  const auto grams = seedForLiveSeeds_g({1.0, 0.0}, own, {4.8, 3, 7}, {14000, 13000, 16000}, 0.5);
  ASSERT_TRUE(grams);
  EXPECT_NEAR(grams->value, 48000 / (0.98 * 0.88 * 0.5 * 7000), 1e-9);
  EXPECT_NEAR(*grams->u, 0.0, 1e-12);
}

TEST(Seed, UnknownDoubtOfTheAreaStaysUnknown) {
  const auto grams =
      seedForLiveSeeds_g({1.0, {}}, lot(0.98, 0.88), {4.8, 3, 7}, {14000, 13000, 16000}, 0.5);
  ASSERT_TRUE(grams);
  EXPECT_FALSE(grams->u);
  EXPECT_FALSE(seedForRate_g({1.0, {}}, {8, 5, 12}).u);
}

TEST(Seed, LotsThatCannotBeAreRefusedInWords) {
  const turf::Range count = {14000, 13000, 16000};
  const turf::Range wanted = {4.8, 3, 7};
  for (const auto& bad :
       {lot(0.0, 0.9), lot(1.4, 0.9), lot(0.98, 0.0), lot(0.98, 1.1), lot(std::nan(""), 0.9)}) {
    const auto grams = seedForLiveSeeds_g({1.0, 0.1}, bad, wanted, count, 0.5);
    ASSERT_FALSE(grams);
    EXPECT_EQ(grams.error().where, "Bent 26-4");
    EXPECT_FALSE(grams.error().todo.empty());
    EXPECT_FALSE(seedForRate_g({1.0, 0.1}, {8, 5, 12}, bad));
  }
  EXPECT_FALSE(seedForLiveSeeds_g({1.0, 0.1}, lot(0.98, 0.9), wanted, count, 0.0));
  EXPECT_FALSE(seedForLiveSeeds_g({1.0, 0.1}, lot(0.98, 0.9), wanted, {0, 0, 0}, 0.5));
}

TEST(Seed, ForADiscOfBentgrassIsAFewGrams) {
  // Common practice, no source: 0.3 m2 of creeping bentgrass takes 1.5 to 5 g.
  const turf::Species& bent = *turf::findSpecies("creeping bentgrass");
  const Measured byRate = seedForRate_g({0.3, 0.03}, bent.patchRate_g_m2);
  EXPECT_NEAR(byRate.value, 2.4, 1e-12);
  EXPECT_NEAR(*byRate.u, 0.24, 1e-12);
  const auto byCount = seedForLiveSeeds_g({0.3, 0.03}, lot(0.97, 0.88),
                                          bent.livePerSquareCentimetre, bent.seedsPerGram, 0.5);
  ASSERT_TRUE(byCount);
  EXPECT_GT(byCount->value, 1.5);
  EXPECT_LT(byCount->value, 5.0);
}

TEST(Seed, RateIsRaisedForALotThatIsHalfDead) {
  const auto fresh = seedForRate_g({1.0, 0.0}, {8, 5, 12}, lot(1.0, 0.85));
  const auto old = seedForRate_g({1.0, 0.0}, {8, 5, 12}, lot(1.0, 0.425));
  ASSERT_TRUE(fresh && old);
  EXPECT_NEAR(fresh->value, 8.0, 1e-12);
  EXPECT_NEAR(old->value, 16.0, 1e-12);
}

/// Volume by summing thin slices of the exact form, litres.
double slicedBowl_l(double radius_m, double deepest_m) {
  const int slices = 20000;
  double volume_m3 = 0.0;
  for (int i = 0; i < slices; ++i) {
    const double depth_m = deepest_m * (i + 0.5) / slices;
    // Paraboloid: depth = deepest (1 - (r / radius)^2).
    const double squareRadius = radius_m * radius_m * (1.0 - depth_m / deepest_m);
    volume_m3 += M_PI * squareRadius * deepest_m / slices;
  }
  return 1000.0 * volume_m3;
}

double slicedChannel_l(double length_m, double width_m, double deepest_m) {
  const int slices = 20000;
  double section_m2 = 0.0;
  for (int i = 0; i < slices; ++i) {
    const double across = -1.0 + 2.0 * (i + 0.5) / slices;
    section_m2 += deepest_m * (1.0 - across * across) * width_m / slices;
  }
  return 1000.0 * section_m2 * length_m;
}

TEST(Fill, BowlIsAParaboloid) {
  const double radius_m = 0.31;
  const Measured area = {M_PI * radius_m * radius_m, 0.0};
  EXPECT_NEAR(fill_l(HoleForm::bowl, area, {40.0, 0.0}, 0.0, 0.0).value,
              slicedBowl_l(radius_m, 0.040), 1e-6);
}

TEST(Fill, ChannelIsAParabolaAcross) {
  EXPECT_NEAR(fill_l(HoleForm::channel, {2.0 * 0.4, 0.0}, {30.0, 0.0}, 0.0, 0.0).value,
              slicedChannel_l(2.0, 0.4, 0.030), 1e-6);
}

TEST(Fill, OfAMillimetreOnASquareMetreIsALitre) {
  // Reference values, section 9: 1 mm over 1 m2 = 1 L = bulk density in kg.
  const Measured litres = fill_l(HoleForm::flat, {1.0, 0.0}, {1.0, 0.0}, 0.0, 0.0);
  EXPECT_DOUBLE_EQ(litres.value, 1.0);
  turf::Fill sand;
  sand.bulkDensity_kg_l = 1.55;
  EXPECT_DOUBLE_EQ(fill_kg(litres, sand).value, 1.55);
}

TEST(Fill, OfABowlIsSaneForTheTrade) {
  // Common practice, no source: 0.3 m2, 40 mm deep: 4 to 8 L, 6 to 13 kg.
  const Measured litres = fill_l(HoleForm::bowl, {0.3, 0.02}, {40.0, 4.0}, settlesLoose, 0.0);
  EXPECT_GT(litres.value, 4.0);
  EXPECT_LT(litres.value, 8.0);
  turf::Fill sand;
  sand.bulkDensity_kg_l = 1.55;
  EXPECT_GT(fill_kg(litres, sand).value, 6.0);
  EXPECT_LT(fill_kg(litres, sand).value, 13.0);
  EXPECT_NEAR(*litres.u / litres.value, std::hypot(0.02 / 0.3, 4.0 / 40.0), 1e-12);
}

TEST(Fill, SettlesToLevelAndIsLessWhatWasRakedBack) {
  const Measured level = fill_l(HoleForm::flat, {1.0, 0.0}, {10.0, 0.0}, 0.0, 0.0);
  const Measured loose = fill_l(HoleForm::flat, {1.0, 0.0}, {10.0, 0.0}, 0.2, 0.0);
  EXPECT_NEAR(loose.value * 0.8, level.value, 1e-12);
  EXPECT_NEAR(fill_l(HoleForm::flat, {1.0, 0.0}, {10.0, 0.0}, 0.2, 0.75).value, loose.value / 4,
              1e-12);
}

TEST(Fill, UnderTurfIsLessByTheTurfsOwnVolume) {
  // A bowl of 40 mm under turf of 15 mm: what the rim gives up lies in the middle.
  const double radius_m = 0.31;
  const double area_m2 = M_PI * radius_m * radius_m;
  const Measured litres = fill_l(HoleForm::bowl, {area_m2, 0.01}, {40.0, 4.0}, 0.2, 0.0, 15.0);
  EXPECT_NEAR(litres.value, (slicedBowl_l(radius_m, 0.040) - area_m2 * 15.0) / 0.8, 1e-6);
  // GUM 5.1.2 of area x (depth / 2 - 15 mm) / 0.8.
  EXPECT_NEAR(*litres.u, std::hypot(0.01 * 5.0, area_m2 * 2.0) / 0.8, 1e-9);
  EXPECT_EQ(fill_l(HoleForm::bowl, {area_m2, 0.01}, {40.0, 4.0}, 0.2, 0.0, 20.0).value, 0.0);
}

TEST(Fill, DepthReadingsGiveTheirMeanAndItsDoubt) {
  const std::vector<double> readings = {20, 30, 40};
  const auto depth = meanDepth_mm(readings, 3.0);
  ASSERT_TRUE(depth);
  EXPECT_NEAR(depth->value, 30.0, 1e-12);
  EXPECT_NEAR(*depth->u, std::sqrt(100.0 / 3 + 9.0 / 3), 1e-12);
  EXPECT_NEAR(*meanDepth_mm(std::vector<double>{25.0}, 3.0)->u, 3.0, 1e-12);
  EXPECT_FALSE(meanDepth_mm({}, 3.0));
}

turf::Feed feed(double n) {
  turf::Feed one;
  one.name = "Starter";
  one.nitrogen_percent = n;
  return one;
}

// Published examples of nitrogen (reference values, section 8.1), per 1,000 ft2; the
// arithmetic is the same in any unit. Figures rounded midway are given with their trap.

TEST(Nitrogen, NebraskaPoundOf28) {
  // byf.unl.edu, LawnFertCalc.
  const double rate = *rateForNitrogen_g_m2(feed(28), 1.0);
  EXPECT_NEAR(rate, 3.57, 0.005);
  EXPECT_NEAR(6 * rate, 21.428571, 5e-7);  // printed 21.42: rounded midway
}

TEST(Nitrogen, PurdueMethodThreeQuartersOf16) {
  // trumarkathletics.com, post 4414.
  const double rate = *rateForNitrogen_g_m2(feed(16), 0.75);
  EXPECT_NEAR(rate, 4.69, 0.005);
  EXPECT_NEAR(8 * rate, 37.5, 1e-10);  // printed 37: cut off
}

TEST(Nitrogen, PoundOf16) {
  // lawn.lifetips.com, tip 2634.
  EXPECT_NEAR(*rateForNitrogen_g_m2(feed(16), 1.0), 6.25, 1e-12);
}

TEST(Nitrogen, ThreePoundsOf21) {
  // gardenguides.com, 77841.
  const double rate = *rateForNitrogen_g_m2(feed(21), 3.0);
  EXPECT_NEAR(rate, 14.28, 0.006);         // printed cut off, exact 14.285714
  EXPECT_NEAR(5 * rate, 71.428571, 5e-7);  // printed 71.42
}

TEST(Nitrogen, CornellSuffolkBagOf24) {
  // paperzz.com/doc/8583758: 30 lb of 24-2-8; its 0.6 and 2.4 are oxides, not P and K.
  EXPECT_NEAR(*nitrogen_g_m2(feed(24), 30.0), 7.2, 1e-12);
}

TEST(Nitrogen, TenKilogramsOfFourPercentOnAGreen) {
  // Common practice, no source: 10 kg of a 4 % N feed on 500 m2 is 0.8 g N/m2.
  EXPECT_NEAR(*nitrogen_g_m2(feed(4), 10000.0 / 500.0), 0.8, 1e-12);
}

TEST(Nitrogen, TwoKilogramsPerHundredSquareMetresAreTenOnAGreen) {
  // Common practice, no source.
  const Measured grams = feed_g({500.0, 5.0}, 2000.0 / 100.0);
  EXPECT_NEAR(grams.value, 10000.0, 1e-9);
  EXPECT_NEAR(*grams.u, 100.0, 1e-9);
}

TEST(Nitrogen, PoundAThousandSquareFeetInMetricUnits) {
  // NIST SP 811: 4.88242763638305 g/m2.
  EXPECT_NEAR(measure::gramsPerSquareMetrePerPoundPer1000SquareFeet, 4.88242763638305, 1e-13);
}

TEST(Nitrogen, RateStaysWithinLabelAndCeiling) {
  turf::Feed one = feed(4);
  one.labelRate_g_m2 = 20;
  EXPECT_NEAR(*rateForNitrogen_g_m2(one, 0.7), 17.5, 1e-12);
  EXPECT_NEAR(*rateForNitrogen_g_m2(one, 1.4), 20.0, 1e-12);
  one.ceiling_g_m2 = 15;
  EXPECT_NEAR(*rateForNitrogen_g_m2(one, 0.7), 15.0, 1e-12);
}

TEST(Nitrogen, UnknownAnalysisIsUnknownNeverNought) {
  turf::Feed one;
  EXPECT_FALSE(nitrogen_g_m2(one, 20.0));
  EXPECT_FALSE(rateForNitrogen_g_m2(one, 0.7));
  one.labelRate_g_m2 = 25;
  EXPECT_EQ(rateForNitrogen_g_m2(one, 0.7), 25.0);
  EXPECT_EQ(nitrogen_g_m2(feed(0), 20.0), 0.0);
}

TEST(Oxides, FactorsAreThoseOfTheAtomicMasses) {
  EXPECT_NEAR(phosphorusOf(1.0), 0.436427, 5e-7);
  EXPECT_NEAR(potassiumOf(1.0), 0.830151, 5e-7);
  // Penn State: 20 % P2O5 is 8.8 % P, 10 % K2O is 8.3 % K, rounded to a tenth.
  EXPECT_NEAR(phosphorusOf(20.0), 8.8, 0.1);
  EXPECT_NEAR(potassiumOf(10.0), 8.3, 0.05);
  // Virginia Tech SPES-201 prints 0.4365 (exact 0.43643) and 0.8301.
  EXPECT_NEAR(phosphorusOf(1.0), 0.4365, 1e-4);
  EXPECT_NEAR(potassiumOf(1.0), 0.8301, 1e-4);
}

}  // namespace
}  // namespace swardwalk::repair
