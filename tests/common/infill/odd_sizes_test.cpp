#include "common/infill/patch_forecast.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <random>

#include "histories.h"

namespace swardwalk::infill {
namespace {

using test::bentgrass;
using test::every;
using test::expectSane;
using test::expectSaneCurve;

constexpr double nan = std::numeric_limits<double>::quiet_NaN();

TEST(PatchForecast, OrderOfSizesDoesNotMatter) {
  auto sizes = every(7, {0.30, 0.28, 0.27, 0.25}, 0.01);
  const PatchForecast inOrder = forecastPatch(bentgrass(18.0, sizes));
  std::reverse(sizes.begin(), sizes.end());
  PatchHistory reversed = bentgrass(18.0, sizes);
  reversed.today = 21.0;
  EXPECT_EQ(forecastPatch(reversed).closesDay, inOrder.closesDay);
  EXPECT_EQ(forecastPatch(reversed).area_m2->value, 0.25);
}

TEST(PatchForecast, SizesThatCannotBeAreLeftOut) {
  const PatchForecast forecast =
      forecastPatch(bentgrass(18.0, every(7, {0.30, 0.28, -1.0, nan}, 0.01)));
  EXPECT_EQ(forecast.area_m2->value, 0.28);
  EXPECT_EQ(forecast.verdict, Verdict::closing);
  EXPECT_EQ(forecast.sightingSpan_d, 7.0);
}

TEST(PatchForecast, OddSizesGiveSenseAndNoNaN) {
  const std::vector<std::vector<SizeSeen>> cases = {
      every(7, {0.0}, 0.0),
      every(7, {0.0, 0.0, 0.0}, 0.0),
      every(7, {0.0, 0.3, 0.2}, 0.01),
      every(0, {0.3, 0.3}, 0.01),
      every(0, {0.3, 0.9}, 0.01),
      every(0.01, std::vector<double>(100, 0.4), 0.01),
      every(730, {0.3, 0.2}, 0.01),
      every(7, {0.3, 0.3, 0.3, 0.3}, 0.0),
      every(7, {1e-12, 1e-12}, 1e-12),
      every(7, {1e6, 1e6 - 1}, 1.0),
      every(7, {nan, 0.3, -1.0, nan}, 0.01),
      {{nan, {0.3, 0.01}}, {3.0, {0.2, nan}}, {4.0, {0.2, -1.0}}, {5.0, {0.19, {}}}},
      every(1, {0.3, 30.0, 0.0, 12.0, 0.1, 0.5}, 0.0)};
  for (std::size_t i = 0; i < cases.size(); ++i) {
    for (const double mean_c : {6.0, 9.0, 18.0}) {
      SCOPED_TRACE(testing::Message() << "case " << i << " at " << mean_c);
      PatchHistory history = bentgrass(mean_c, cases[i]);
      history.today = 800.0;
      const PatchForecast forecast = forecastPatch(history);
      expectSane(forecast);
      expectSaneCurve(forecast, history);
      for (const double share : {0.01, 0.5, 0.99}) {
        const auto open = openArea_m2(forecast, history, 805.0, share);
        if (open) {
          EXPECT_TRUE(std::isfinite(*open) && *open >= 0.0);
        }
      }
    }
  }
}

TEST(PatchForecast, RandomHistoriesNeverGiveNaN) {
  std::mt19937 random(4711);
  const auto any = [&random](double to) {
    return to * static_cast<double>(random()) / 4294967296.0;
  };
  for (int i = 0; i < 300; ++i) {
    std::vector<SizeSeen> sizes;
    for (int k = static_cast<int>(random() % 8); k >= 0; --k) {
      sizes.push_back({any(i % 3 == 0 ? 2.0 : 400.0),
                       {random() % 6 == 0 ? 0.0 : std::exp(any(12.0) - 8.0), any(0.3)}});
    }
    PatchHistory history = bentgrass(5.0 + any(25.0), sizes);
    history.today = any(500.0);
    if (random() % 4 == 0) history.sownDay = any(400.0);
    history.daysUntilUp = turf::Range{11, 8, 15};
    history.sownToPuttable_d = turf::Range{70, 50, 100};
    SCOPED_TRACE(i);
    const PatchForecast forecast = forecastPatch(history);
    expectSane(forecast);
    expectSaneCurve(forecast, history);
  }
}

/// A disc closing 1.2 mm a day, each radius known to 5 mm.

}  // namespace
}  // namespace swardwalk::infill
