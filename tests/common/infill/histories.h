#pragma once

#include <gtest/gtest.h>

#include <cmath>
#include <vector>

#include "common/infill/patch_forecast.h"

namespace swardwalk::infill::test {

/// A patch of creeping bentgrass with these sizes, on the day of the last one.
inline PatchHistory bentgrass(double mean_c, std::vector<SizeSeen> sizes) {
  PatchHistory history;
  history.sizes = std::move(sizes);
  history.sightings = static_cast<int>(history.sizes.size());
  history.today = history.sizes.empty() ? 0.0 : history.sizes.back().day;
  const auto creep = turf::creepFor(*turf::findSpecies("creeping bentgrass"), mean_c);
  if (creep) history.prior = CreepPrior{*creep};
  return history;
}

/// Sizes in even steps from day 0.
inline std::vector<SizeSeen> every(double step_d, const std::vector<double>& areas, double u_m2) {
  std::vector<SizeSeen> sizes;
  sizes.reserve(areas.size());
  for (const double area : areas) {
    sizes.push_back({step_d * static_cast<double>(sizes.size()), {area, u_m2}});
  }
  return sizes;
}

/// No NaN, dates in order, and none where the verdict gives none.
inline void expectSane(const PatchForecast& forecast) {
  for (const auto& day : {forecast.closesDay, forecast.closesEarliestDay, forecast.closesLatestDay,
                          forecast.puttableDay, forecast.shareClosed}) {
    if (day) {
      EXPECT_TRUE(std::isfinite(*day));
    }
  }
  if (forecast.creep_mm_d) {
    EXPECT_TRUE(std::isfinite(forecast.creep_mm_d->value));
    EXPECT_TRUE(std::isfinite(*forecast.creep_mm_d->u));
  }
  if (forecast.closesDay) {
    EXPECT_LE(*forecast.closesEarliestDay, *forecast.closesDay);
    EXPECT_LE(*forecast.closesDay, *forecast.puttableDay);
    if (forecast.closesLatestDay) {
      EXPECT_LE(*forecast.closesDay, *forecast.closesLatestDay);
    }
  }
  const bool dated = forecast.verdict == Verdict::closing || forecast.verdict == Verdict::closed;
  if (!dated && forecast.verdict != Verdict::waitingForSeed) {
    EXPECT_FALSE(forecast.closesDay);
    EXPECT_FALSE(probabilityPuttable(forecast, 1e6));
  }
}

inline void expectSaneCurve(const PatchForecast& forecast, const PatchHistory& history) {
  for (const auto& point : closingCurve(forecast, history)) {
    EXPECT_TRUE(std::isfinite(point.day) && std::isfinite(point.area_m2));
    EXPECT_LE(point.low_m2, point.area_m2 + 1e-12);
    EXPECT_GE(point.high_m2, point.area_m2 - 1e-12);
    EXPECT_GE(point.low_m2, 0.0);
  }
}

}  // namespace swardwalk::infill::test
