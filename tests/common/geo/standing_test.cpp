#include "common/geo/standing.h"

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>

#include "common/geo/correction.h"
#include "common/geo/error_times.h"
#include "standing_simulator.h"

namespace swardwalk::geo {
namespace {

using testing::HasSubstr;
using namespace std::chrono_literals;

constexpr double radius95 = 2.4477468307;  // of a circular normal, per sigma

Fix fixAt(int second, double east_m, double north_m, double u_m) {
  Fix fix;
  fix.time = measure::Instant{std::chrono::seconds{1'807'509'600 + second}};
  fix.position = SimulatedReceiver::globe(east_m, north_m);
  fix.accuracy_m = u_m;
  return fix;
}

TEST(StatedDoubt, OfOneVarianceIsItsRoot) {
  PerErrorTime all{};
  all.fill(4.0);
  EXPECT_NEAR(statedDoubt_m(possibleErrorTimes(), all), 2.0, 1e-6);
}

TEST(StatedDoubt, OfAMixtureHoldsNineteenOfTwenty) {
  const ErrorTimes times = possibleErrorTimes();
  PerErrorTime mixed{};
  for (std::size_t i = 0; i < errorTimeCount; ++i) mixed[i] = i % 2 == 0 ? 0.25 : 4.0;
  const double radius = radius95 * statedDoubt_m(times, mixed);
  double beyond = 0.0;
  for (std::size_t i = 0; i < errorTimeCount; ++i)
    beyond += times[i].weight * std::exp(-0.5 * radius * radius / mixed[i]);
  EXPECT_NEAR(beyond, 0.05, 1e-6);
  EXPECT_GT(statedDoubt_m(times, mixed), std::sqrt(meanOver(times, mixed)))
      << "longer tails than the mean variance";
}

TEST(LikelyErrorTimes, ComeNearTheTrueOneTheLongerOneStands) {
  for (const double truth_s : {40.0, 150.0, 600.0}) {
    double sum = 0.0;
    for (std::uint64_t seed = 0; seed < 50; ++seed) {
      SimulatedReceiver receiver(3.0, truth_s, seed);
      const auto standing = standingFixes(receiver.stand(0.0, 0.0, 600));
      ASSERT_TRUE(standing);
      PerErrorTime logarithms{};
      for (std::size_t i = 0; i < errorTimeCount; ++i)
        logarithms[i] = std::log(standing->times[i].seconds);
      sum += meanOver(standing->times, logarithms) / 50.0;
    }
    // 200 steps tell the time constant to 7 % a run; the steps of the list are 33 % wide.
    EXPECT_NEAR(sum, std::log(truth_s), 0.15) << truth_s;
  }
}

TEST(AveragedStanding, OneTimeConstantGivesThePublishedDeviationOfTheMean) {
  // Discrete Gauss-Markov at 1 Hz, 60 s: 60 fixes 0.857808, 300 fixes 0.566171.
  for (const auto& [count, published] : {std::pair(60, 0.857808), std::pair(300, 0.566171)}) {
    std::vector<Fix> fixes;
    for (int i = 0; i < count; ++i) fixes.push_back(fixAt(i, 0.0, 0.0, 1.0));
    const auto standing = standingFixes(fixes);
    ASSERT_TRUE(standing);
    EXPECT_NEAR(std::sqrt(standing->variance_m2(60.0)), published, 1e-6);
  }
}

TEST(AveragedStanding, SixtyFixesASecondApartAreNotSixtyMeasurements) {
  std::vector<Fix> fixes;
  for (int i = 0; i < 60; ++i) fixes.push_back(fixAt(i, 0.1 * (i % 2), 0.0, 3.0));
  const auto place = averagedStanding(fixes);
  ASSERT_TRUE(place);
  EXPECT_EQ(place->used, 60);
  EXPECT_DOUBLE_EQ(place->lasted_s, 59.0);
  EXPECT_GT(place->u_m, 0.8 * 3.0);
  EXPECT_LT(place->u_m, 3.0);
}

TEST(AveragedStanding, BetterFixesWeighMoreAndStraysAreLeftOut) {
  const std::vector<Fix> fixes{fixAt(0, 0.0, 0.0, 1.0), fixAt(1, 3.0, 0.0, 2.0),
                               fixAt(2, 0.0, 0.0, 1.0), fixAt(3, 90.0, 0.0, 2.0),
                               fixAt(3, 0.0, 0.0, 1.0)};
  const auto standing = standingFixes(fixes);
  ASSERT_TRUE(standing);
  EXPECT_EQ(standing->dropped, 2) << "one stray, and one of a time already taken";
  // Weights 1, 1/4, 1.
  EXPECT_NEAR(standing->mean.east_m, 3.0 * 0.25 / 2.25, 1e-4);
}

TEST(AveragedStanding, NonsenseGivesNothing) {
  EXPECT_FALSE(averagedStanding({}));
  std::vector<Fix> bad{fixAt(0, 0, 0, 1.0)};
  bad[0].position.latitude_deg = std::nan("");
  EXPECT_FALSE(averagedStanding(bad));
  bad[0] = fixAt(0, 0, 0, 1.0);
  bad[0].accuracy_m = std::nan("");
  EXPECT_NEAR(averagedStanding(bad)->u_m, assumedAccuracy_m, 1e-6);
}

TEST(AveragedVisits, ADayApartAreNewMeasurementsAndAMinuteApartAreNot) {
  const auto visit = [](std::chrono::seconds after, double east_m) {
    return Visit{measure::Instant{1'807'509'600s + after}, SimulatedReceiver::globe(east_m, 0.0),
                 1.0};
  };
  const StandingPlace days = averagedVisits({visit(0s, 0.0), visit(86'400s, 2.0)});
  EXPECT_NEAR(days.u_m, 1.0 / std::sqrt(2.0), 1e-6);
  EXPECT_NEAR(SimulatedReceiver::local(days.position).east_m, 1.0, 1e-4);
  EXPECT_GT(averagedVisits({visit(0s, 0.0), visit(60s, 2.0)}).u_m, 0.85);
}

struct Row {
  int covered = 0;
  double square_m2 = 0.0;
  double said_m2 = 0.0;
};

constexpr int runs = 2000;

void check(const std::string& what, const Row& row, double bare_m) {
  const double covered = static_cast<double>(row.covered) / runs;
  const double rms_m = std::sqrt(0.5 * row.square_m2 / runs);
  fmt::print(
      "{}: covers {:.1f} %, off by {:.2f} m an axis (said {:.2f}), bare {:.2f}, gain {:.2f}\n",
      what, 100.0 * covered, rms_m, std::sqrt(row.said_m2 / runs), bare_m, bare_m / rms_m);
  EXPECT_GT(covered, 0.93) << what;
  EXPECT_LT(covered, 0.97) << what;
}

void add(Row& row, Position found, double u_m, LocalPoint truth) {
  const LocalPoint at = SimulatedReceiver::local(found);
  const double off_m = std::hypot(at.east_m - truth.east_m, at.north_m - truth.north_m);
  row.square_m2 += off_m * off_m;
  row.said_m2 += u_m * u_m;
  if (off_m < radius95 * u_m) ++row.covered;
}

const char* wordOf(Draw draw) { return draw == Draw::uniform ? "uniform" : "each doubling alike"; }

TEST(AveragedStanding, TheCircleCoversTheTruthAsOftenAsItSays) {
  for (const Draw draw : {Draw::eachDoublingAlike, Draw::uniform}) {
    for (const int lasts_s : {30, 60, 300, 600}) {
      std::mt19937_64 random(5);
      Row row;
      for (int run = 0; run < runs; ++run) {
        SimulatedReceiver receiver(3.0, drawErrorTime_s(draw, random), random());
        const auto place = averagedStanding(receiver.stand(2.0, -7.0, lasts_s));
        ASSERT_TRUE(place);
        add(row, place->position, place->u_m, {2.0, -7.0});
      }
      check(fmt::format("standing {} s, time constants {}", lasts_s, wordOf(draw)), row, 3.0);
    }
  }
}

TEST(ReceiverCorrection, TheCircleCoversTheTruthAsOftenAsItSays) {
  for (const Draw draw : {Draw::eachDoublingAlike, Draw::uniform}) {
    for (const int age_s : {15, 30, 60, 120, 300, 900}) {
      std::mt19937_64 random(6);
      std::normal_distribution<double> normal;
      Row row;
      for (int run = 0; run < runs; ++run) {
        SimulatedReceiver receiver(3.0, drawErrorTime_s(draw, random), random());
        const Position mark =
            SimulatedReceiver::globe(0.05 * normal(random), 0.05 * normal(random));
        std::vector<Fix> fixes = receiver.stand(0.0, 0.0, 31);
        auto correction = ReceiverCorrection::onMark(mark, 0.05, fixes);
        // An error beyond 1 in 1,000 is refused, and nobody stands there again here.
        if (!correction) {
          ++row.covered;
          continue;
        }
        receiver.wait(age_s - 1);
        const auto corrected = correction->apply(receiver.stand(20.0, 10.0, 1).front());
        ASSERT_TRUE(corrected);
        add(row, corrected->position, corrected->u_m, {20.0, 10.0});
      }
      check(fmt::format("corrected {} s ago, time constants {}", age_s, wordOf(draw)), row, 3.0);
    }
  }
}

std::vector<Fix> halfAMinute(double east_m, double u_m) {
  std::vector<Fix> fixes;
  for (int i = 0; i <= 30; ++i) fixes.push_back(fixAt(i, east_m, 0.0, u_m));
  return fixes;
}

TEST(ReceiverCorrection, TakesTheErrorOffAndForgetsItSlowly) {
  const auto correction =
      ReceiverCorrection::onMark(SimulatedReceiver::globe(0, 0), 0.03, halfAMinute(2.5, 3.0));
  ASSERT_TRUE(correction) << correction.error().text();
  EXPECT_NEAR(correction->found().east_m, 2.5, 1e-3);
  double share = 1.0;
  double u_m = 0.0;
  for (const int second : {31, 60, 120, 300, 900, 3600}) {
    const auto corrected = correction->apply(fixAt(second, 12.5, 0.0, 3.0));
    ASSERT_TRUE(corrected);
    EXPECT_LT(corrected->share, share) << second;
    EXPECT_GT(corrected->u_m, u_m) << second;
    EXPECT_LE(corrected->u_m, 3.0 + 1e-6) << "never worse than the bare receiver";
    EXPECT_NEAR(SimulatedReceiver::local(corrected->position).east_m, 12.5 - 2.5 * corrected->share,
                1e-3);
    share = corrected->share;
    u_m = corrected->u_m;
  }
  EXPECT_NEAR(correction->apply(fixAt(31, 12.5, 0.0, 3.0))->share, 0.93, 0.07);
  EXPECT_LT(share, 0.02);
}

TEST(ReceiverCorrection, IsRefusedOnAnotherMarkAndWhenTooShort) {
  const Position mark = SimulatedReceiver::globe(0, 0);
  const auto other = ReceiverCorrection::onMark(mark, 0.03, halfAMinute(18.0, 2.0));
  ASSERT_FALSE(other);
  EXPECT_THAT(other.error().what, HasSubstr("18.0 m from the mark"));
  std::vector<Fix> few = halfAMinute(1.0, 3.0);
  few.resize(10);
  const auto brief = ReceiverCorrection::onMark(mark, 0.03, few);
  ASSERT_FALSE(brief);
  EXPECT_THAT(brief.error().what, HasSubstr("too short"));
  EXPECT_FALSE(ReceiverCorrection::onMark(mark, 0.03, {}));
}

TEST(ReceiverCorrection, DoesNotHoldForAReceiverThatFindsItsPositionInAnotherWay) {
  const auto correction =
      ReceiverCorrection::onMark(SimulatedReceiver::globe(0, 0), 0.03, halfAMinute(2.5, 3.0));
  ASSERT_TRUE(correction);
  Fix fixed = fixAt(60, 12.5, 0.0, 0.02);
  fixed.quality = FixQuality::fixed;
  EXPECT_FALSE(correction->apply(fixed));
  EXPECT_FALSE(correction->apply(fixAt(10, 12.5, 0.0, 3.0))) << "before it was found";
}

}  // namespace
}  // namespace swardwalk::geo
