#include "common/geo/walk_evidence.h"

#include <gtest/gtest.h>

#include <cmath>

#include "common/geo/walk.h"
#include "walk_simulator.h"

namespace swardwalk::geo {
namespace {

std::vector<Step> stepsOf(const SimulatedWalk& walk, std::uint64_t seed) {
  const std::vector<Fix> fixes = simulate(walk, seed);
  return stepsOn(planeAmong(fixes), fixes, {});
}

/// Mean error time by its logarithm.
double likelyTime_s(const WalkErrors& errors) {
  return std::exp(errors.mean([](double errorTime_s) { return std::log(errorTime_s); }));
}

/// A green of 30 m across, so that one walk says much.
SimulatedWalk roundAGreen(double receiver_u_m, double errorTime_s) {
  SimulatedWalk walk = circle(15.0);
  walk.receiver_u_m = receiver_u_m;
  walk.errorTime_s = errorTime_s;
  return walk;
}

TEST(WalkEvidence, WeightsSumToOneAndNoTimeIsRuledOut) {
  const WalkErrors errors = errorsOf(stepsOf(roundAGreen(4.0, 60.0), 1), {});
  EXPECT_NEAR(errors.mean([](double) { return 1.0; }), 1.0, 1e-12);
  for (const ErrorTime& time : errors.times) EXPECT_GT(time.weight, 0.0);
}

TEST(WalkEvidence, ARestlessReceiverAndACalmOneAreToldApart) {
  // About 94 fixes of 4 m give the ratio of error times to some 30 %, one standard deviation.
  double restless = 0.0;
  double calm = 0.0;
  for (std::uint64_t seed = 0; seed < 20; ++seed) {
    restless += likelyTime_s(errorsOf(stepsOf(roundAGreen(4.0, 40.0), seed), {})) / 20.0;
    calm += likelyTime_s(errorsOf(stepsOf(roundAGreen(4.0, 600.0), seed), {})) / 20.0;
  }
  EXPECT_NEAR(restless, 40.0, 20.0);
  EXPECT_NEAR(calm, 600.0, 200.0);
}

TEST(WalkEvidence, AFineReceiverShowsHowWellTheWalkerKeptToTheEdge) {
  SimulatedWalk walk = roundAGreen(0.02, 120.0);
  for (const double walker_u_m : {0.05, 0.1, 0.2}) {
    walk.walker_u_m = walker_u_m;
    double edge_u_m = 0.0;
    for (std::uint64_t seed = 0; seed < 20; ++seed) {
      edge_u_m += errorsOf(stepsOf(walk, seed), {}).edge_u_m / 20.0;
    }
    // The shares of the setting that are weighed lie a factor of two apart.
    EXPECT_NEAR(edge_u_m, walker_u_m, 0.2 * walker_u_m);
  }
}

TEST(WalkEvidence, FewStepsLeaveWhatWasBelievedBefore) {
  const std::vector<Step> steps = stepsOf(roundAGreen(4.0, 40.0), 1);
  const WalkErrors before = errorsOf({}, {});
  const WalkErrors few = errorsOf(std::span(steps).first(4), {});
  for (std::size_t i = 0; i < errorTimeCount; ++i) {
    EXPECT_DOUBLE_EQ(few.times[i].weight, before.times[i].weight);
  }
  EXPECT_DOUBLE_EQ(few.edge_u_m, before.edge_u_m);
}

TEST(WalkEvidence, AWalkThatEndsBesideItsStartWasDrivenThereByTheReceiver) {
  // Seen from its steps alone a walk of 1 m hardly tells its receiver; its gap does.
  const std::vector<Step> steps = stepsOf(roundAGreen(1.0, 300.0), 3);
  const double way_s = steps.back().error.time_s;
  const auto shifted = [&](double last_m) {
    // Drawn out evenly over the whole walk, so that no step looks rougher.
    std::vector<Step> drawn = steps;
    const double east = steps.front().point.east_m - steps.back().point.east_m;
    const double north = steps.front().point.north_m - steps.back().point.north_m;
    const double out = std::hypot(steps.front().point.east_m, steps.front().point.north_m);
    for (Step& step : drawn) {
      const double share = step.error.time_s / way_s;
      step.point.east_m += share * (east + last_m * steps.front().point.east_m / out);
      step.point.north_m += share * (north + last_m * steps.front().point.north_m / out);
    }
    return drawn;
  };
  const double closed_s = likelyTime_s(errorsOf(shifted(0.0), {}));
  const double beside_s = likelyTime_s(errorsOf(shifted(1.5), {}));
  EXPECT_LT(beside_s, 0.7 * closed_s);
  EXPECT_NEAR(likelyTime_s(errorsOf(shifted(-1.5), {})), beside_s, 0.1 * beside_s);
}

TEST(WalkEvidence, AGapOfAQuarterOfTheWayIsASideOfThePatchAndSaysNothing) {
  const std::vector<Step> steps = stepsOf(roundAGreen(1.0, 300.0), 3);
  const auto open = std::span(steps).first(steps.size() * 7 / 10);
  const double before_s = likelyTime_s(errorsOf(open, {}));
  std::vector<Step> beside(open.begin(), open.end());
  beside.back().point.east_m += 3.0;
  EXPECT_NEAR(likelyTime_s(errorsOf(beside, {})), before_s, 0.1 * before_s);
}

TEST(WalkEvidence, APauseSaysNothing) {
  const std::vector<Step> steps = stepsOf(roundAGreen(1.0, 120.0), 1);
  std::vector<Step> paused = steps;
  for (std::size_t i = 40; i < paused.size(); ++i) paused[i].error.time_s += 300.0;
  // Of 90 comparisons the four across the pause are missing.
  EXPECT_NEAR(likelyTime_s(errorsOf(paused, {})), likelyTime_s(errorsOf(steps, {})),
              0.2 * likelyTime_s(errorsOf(steps, {})));
  EXPECT_NEAR(errorsOf(paused, {}).edge_u_m, errorsOf(steps, {}).edge_u_m, 0.01);
}

}  // namespace
}  // namespace swardwalk::geo
