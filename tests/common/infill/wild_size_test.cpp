#include "common/infill/patch_forecast.h"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

#include "histories.h"

namespace swardwalk::infill {
namespace {

using test::bentgrass;

std::vector<SizeSeen> sixLooks() {
  std::vector<SizeSeen> sizes;
  for (double day = 0; day <= 35; day += 7) {
    const double radius_m = 0.3 - 0.0012 * day;
    sizes.push_back({day, {M_PI * radius_m * radius_m, 2 * M_PI * radius_m * 0.005}});
  }
  return sizes;
}

TEST(WildSize, IsSetAsideWhereverItStandsButLast) {
  const PatchForecast good = forecastPatch(bentgrass(18.0, sixLooks()));
  EXPECT_FALSE(good.setAside);
  for (const double factor : {0.4, 2.5, 10.0}) {
    for (std::size_t i = 0; i + 1 < 6; ++i) {
      auto sizes = sixLooks();
      sizes[i].area_m2.value *= factor;
      const PatchForecast wild = forecastPatch(bentgrass(18.0, sizes));
      SCOPED_TRACE(testing::Message() << i << " times " << factor);
      ASSERT_TRUE(wild.setAside);
      EXPECT_EQ(wild.setAside->day, sizes[i].day);
      EXPECT_NEAR(*wild.expected_m2, sixLooks()[i].area_m2.value, 0.03);
      EXPECT_EQ(wild.verdict, Verdict::closing);
      // One size less moves the median by less than a fifth of the interval.
      EXPECT_NEAR(*wild.closesDay, *good.closesDay,
                  0.2 * (*good.closesLatestDay - *good.closesEarliestDay));
    }
  }
}

TEST(WildSize, LastOneIsNotSetAsideBecauseItMayBeTrue) {
  auto sizes = sixLooks();
  sizes.back().area_m2.value *= 2.5;
  EXPECT_FALSE(forecastPatch(bentgrass(18.0, sizes)).setAside);
}

TEST(WildSize, HonestScatterIsKept) {
  // Of 200 honest series with five sizes hardly any has one four uncertainties off.
  std::mt19937 random(11);
  int setAside = 0;
  for (int i = 0; i < 200; ++i) {
    auto sizes = sixLooks();
    for (SizeSeen& size : sizes) {
      // The sum of twelve even numbers is nearly normal.
      double z = -6.0;
      for (int k = 0; k < 12; ++k) z += static_cast<double>(random()) / 4294967296.0;
      size.area_m2.value += z * *size.area_m2.u;
    }
    setAside += forecastPatch(bentgrass(18.0, sizes)).setAside ? 1 : 0;
  }
  EXPECT_LE(setAside, 2);
}

}  // namespace
}  // namespace swardwalk::infill
