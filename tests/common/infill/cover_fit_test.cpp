#include "common/infill/cover_fit.h"

#include <gtest/gtest.h>

#include <cmath>

#include "common/infill/patch_forecast.h"
#include "common/infill/spread.h"

namespace swardwalk::infill {
namespace {

std::vector<CoverSeen> looks(const std::vector<double>& days, const std::vector<double>& percent) {
  std::vector<CoverSeen> all;
  for (std::size_t i = 0; i < days.size(); ++i) {
    all.push_back({days[i], {percent[i] / 100.0, 0.05}});
  }
  return all;
}

/// Living plants inside an outline of 1 m2 that does not shrink.
PatchHistory thinPatch(const std::vector<CoverSeen>& seen) {
  PatchHistory history;
  for (const CoverSeen& look : seen) {
    history.sizes.push_back({look.day, {1.0 - look.share.value, 0.05}});
  }
  history.coverSeen = seen;
  history.sightings = static_cast<int>(seen.size());
  history.prior = CreepPrior{{1.0, 0.5, 1.8}};
  history.today = seen.back().day;
  return history;
}

// The weekly series of NTEP 2007, Gainesville: MIDLAWN after traffic in spring, t90 41.1 d by
// its own fit; 95 % at (1.7332 + ln 19)/0.09559 = 48.9 d.
TEST(CoverFit, OfARecoveringStandComesNearItsOwnFit) {
  const auto seen = looks({0, 7, 14, 21, 28}, {18.3, 21.3, 41.7, 57.3, 71.7});
  const PatchForecast forecast = forecastPatch(thinPatch(seen));
  EXPECT_EQ(forecast.verdict, Verdict::closing);
  EXPECT_EQ(forecast.model, "cover");
  EXPECT_FALSE(forecast.creep_mm_d);
  EXPECT_NEAR(*forecast.closesDay, 48.9, 4.0);
  EXPECT_LT(*forecast.closesEarliestDay, 48.9);
  EXPECT_GT(*forecast.closesLatestDay, 48.9);
}

// The same entry in autumn falls back and stalls below 10 %: no curve through it says when
// it is covered.
TEST(CoverFit, IsNotCarriedOnFromAStandThatStallsBelowATenth) {
  const auto seen = looks({0, 8, 15, 22, 29, 43, 51}, {1.0, 0.3, 1.3, 3.7, 6.3, 8.7, 7.0});
  const PatchForecast forecast = forecastPatch(thinPatch(seen));
  EXPECT_FALSE(forecast.closesDay);
  EXPECT_FALSE(forecast.closesLatestDay);
  EXPECT_NE(forecast.verdict, Verdict::closing);
}

TEST(CoverFit, StandingAndThinningStandsAreNamed) {
  EXPECT_EQ(forecastPatch(thinPatch(looks({0, 10, 20, 30}, {50, 51, 49, 50}))).verdict,
            Verdict::stalled);
  EXPECT_EQ(forecastPatch(thinPatch(looks({0, 10, 20, 30}, {70, 55, 40, 25}))).verdict,
            Verdict::growing);
}

TEST(CoverFit, OneLookHasThePacesOwnWidth) {
  // From a half to 95 % are ln 19 over the pace: 74, 37 and 18 days at 0.04, 0.08, 0.16.
  const auto days = closesFromInside(looks({0}, {50}), nullptr);
  EXPECT_NEAR(likelyQuantile(days, 0.5), std::log(19) / 0.08, 2.0);
  EXPECT_LT(likelyQuantile(days, 0.1), std::log(19) / 0.15);
  EXPECT_GT(likelyQuantile(days, 0.9), std::log(19) / 0.043);
}

TEST(CoverFit, OfASowingFollowsWhatIsSeen) {
  // Sown on day 0, up on day 12; expected to touch from day 36 to 86.
  std::vector<double> prior;
  for (int k = 0; k < 64; ++k) prior.push_back(36.0 + 50.0 * k / 63.0);
  const auto quick = closesAfterSowing(prior, 12.0, looks({25, 32}, {55, 85}));
  const auto slow = closesAfterSowing(prior, 12.0, looks({25, 32, 50}, {8, 12, 30}));
  EXPECT_LT(likelyQuantile(quick, 0.5), 46.0);
  EXPECT_GT(likelyQuantile(slow, 0.5), 72.0);
  EXPECT_GT(slow.front(), 50.0) << "it was seen open then";
}

TEST(CoverFit, LooksOfAllDaysGiveNoNaN) {
  for (const double day : {0.0, 1e-9, 500.0}) {
    for (const double percent : {5.0, 50.0, 94.9, 95.0}) {
      const auto days = closesFromInside(looks({0, day}, {percent, percent}), nullptr);
      for (const double one : days) EXPECT_FALSE(std::isnan(one));
    }
  }
}

}  // namespace
}  // namespace swardwalk::infill
