#include "common/geo/walk.h"

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "walk_simulator.h"

namespace swardwalk::geo {
namespace {

using std::numbers::pi;
using testing::Contains;
using testing::HasSubstr;
using namespace std::chrono_literals;

WalkedOutline walked(const std::vector<Fix>& fixes, const WalkSettings& settings = {}) {
  const Result<WalkedOutline> outline = walkedOutline(fixes, settings);
  EXPECT_TRUE(outline) << (outline ? "" : outline.error().text());
  return outline.value();
}

/// What many walks of one kind say and do.
struct Outcome {
  double meanError = 0.0;
  double error = 0.0;    ///< root mean square
  double said = 0.0;     ///< root mean square of the uncertainties
  double covered = 0.0;  ///< share of truths within 1.96 u
  double perimeterError = 0.0;
  double perimeterSaid = 0.0;
};

/// The estimator is told the simulator's error time; walk_coverage_test.cpp does not.
Outcome outcomeOf(const SimulatedWalk& walk, double truth_m2, int runs) {
  WalkSettings settings;
  for (ErrorTime& time : settings.errorTimes) time.seconds = walk.errorTime_s;
  Outcome outcome;
  for (int run = 0; run < runs; ++run) {
    const WalkedOutline outline =
        walked(simulate(walk, 1000 + static_cast<std::uint64_t>(run)), settings);
    const double error = outline.area_m2.value - truth_m2;
    outcome.meanError += error / runs;
    outcome.error += error * error / runs;
    outcome.said += std::pow(outline.area_m2.u.value(), 2) / runs;
    outcome.covered += std::abs(error) < 1.96 * outline.area_m2.u.value() ? 1.0 / runs : 0.0;
    outcome.perimeterError += std::pow(outline.perimeter_m.value - walk.length_m, 2) / runs;
    outcome.perimeterSaid += std::pow(outline.perimeter_m.u.value(), 2) / runs;
  }
  outcome.error = std::sqrt(outcome.error);
  outcome.said = std::sqrt(outcome.said);
  outcome.perimeterError = std::sqrt(outcome.perimeterError);
  outcome.perimeterSaid = std::sqrt(outcome.perimeterSaid);
  return outcome;
}

struct Kind {
  const char* name;
  SimulatedWalk walk;
  double truth_m2;
};

/// Patches that are large enough for their receiver.
std::vector<Kind> kinds() {
  std::vector<Kind> kinds;
  for (const double u_m : {0.02, 1.0, 4.0}) {
    const double size = u_m < 2.0 ? 1.0 : 2.5;
    kinds.push_back({"circle", circle(6.0 * size), pi * 36.0 * size * size});
    kinds.back().walk.receiver_u_m = u_m;
    kinds.push_back({"rectangle", rectangle(12.0 * size, 8.0 * size), 96.0 * size * size});
    kinds.back().walk.receiver_u_m = u_m;
  }
  return kinds;
}

TEST(WalkedOutline, MonteCarloOfDriftingReceiversAgreesWithTheUncertaintySaid) {
  for (const Kind& kind : kinds()) {
    const Outcome outcome = outcomeOf(kind.walk, kind.truth_m2, 400);
    SCOPED_TRACE(fmt::format("{}, receiver {} m", kind.name, kind.walk.receiver_u_m));
    // 400 walks give a standard deviation to 3.5 %, of which three; and a tenth for what
    // the models of bends and edges do not share with the simulator.
    EXPECT_NEAR(outcome.said, outcome.error, 0.2 * outcome.error);
    EXPECT_LT(std::abs(outcome.meanError), 0.25 * outcome.error);
    // 95 % of 400: binomial 1.1 %, of which three.
    EXPECT_NEAR(outcome.covered, 0.95, 0.033);
  }
}

TEST(WalkedOutline, ThePerimeterIsNotLengthenedByTheReceiversShiver) {
  for (const Kind& kind : kinds()) {
    const Outcome outcome = outcomeOf(kind.walk, kind.truth_m2, 200);
    SCOPED_TRACE(fmt::format("{}, receiver {} m", kind.name, kind.walk.receiver_u_m));
    EXPECT_LT(outcome.perimeterError, 0.15 * kind.walk.length_m);
    EXPECT_LT(outcome.perimeterError, 2.0 * outcome.perimeterSaid);
    EXPECT_GT(outcome.perimeterError, 0.2 * outcome.perimeterSaid);
  }
}

TEST(WalkedOutline, BendsAreNotCutByTheirChords) {
  // One step a second of 1 m round 3 m: chords alone lose 1.8 %.
  SimulatedWalk walk = circle(3.0);
  walk.receiver_u_m = 0.005;
  walk.walker_u_m = 0.0;
  const WalkedOutline outline = walked(simulate(walk, 1));
  EXPECT_NEAR(outline.area_m2.value, pi * 9.0, 0.003 * pi * 9.0);
}

TEST(WalkedOutline, TheAreaIsThatOfTheShape) {
  for (const Kind& kind : kinds()) {
    const WalkedOutline outline = walked(simulate(kind.walk, 5));
    EXPECT_DOUBLE_EQ(outline.area_m2.value, area_m2(outline.shape));
    for (const LocalPolygon& part : outline.shape) EXPECT_FALSE(crossesItself(part.outer));
  }
}

TEST(WalkedOutline, TheDirectionOfTheWalkDoesNotMatter) {
  SimulatedWalk walk = circle(6.0);
  const auto forward = walk.edge;
  walk.edge = [forward](double share) { return forward(1.0 - share); };
  const WalkedOutline outline = walked(simulate(walk, 9));
  EXPECT_GT(signedArea_m2(outline.shape[0].outer), 0.0);
  EXPECT_NEAR(outline.area_m2.value, pi * 36.0, 4.0 * outline.area_m2.u.value());
}

TEST(WalkedOutline, APatchTooSmallForItsReceiverIsToldToTakeTheTape) {
  SimulatedWalk walk = circle(0.8);
  walk.receiver_u_m = 4.0;
  walk.speed_m_s = 0.5;
  const WalkedOutline outline = walked(simulate(walk, 2));
  EXPECT_TRUE(outline.tooSmall);
  EXPECT_THAT(outline.warnings, Contains(HasSubstr("by tape")));
  SimulatedWalk large = circle(6.0);
  large.receiver_u_m = 0.02;
  EXPECT_FALSE(walked(simulate(large, 2)).tooSmall);
  EXPECT_TRUE(walked(simulate(large, 2)).warnings.empty());
}

TEST(WalkedOutline, StandingStillAddsNeitherAreaNorLength) {
  SimulatedWalk walk = circle(6.0);
  walk.receiver_u_m = 0.02;
  std::vector<Fix> fixes = simulate(walk, 3);
  const WalkedOutline before = walked(fixes);
  // Two minutes on one spot, with a receiver's shiver of a centimetre.
  std::vector<Fix> paused(fixes.begin(), fixes.begin() + 15);
  for (int i = 1; i <= 120; ++i) {
    Fix fix = fixes[14];
    fix.time += std::chrono::seconds{i};
    fix.position.latitude_deg += 1e-7 * std::sin(i);
    fix.position.longitude_deg += 1e-7 * std::cos(1.7 * i);
    paused.push_back(fix);
  }
  for (std::size_t i = 15; i < fixes.size(); ++i) {
    paused.push_back(fixes[i]);
    paused.back().time += 120s;
  }
  const WalkedOutline after = walked(paused);
  EXPECT_NEAR(after.area_m2.value, before.area_m2.value, 0.02);
  EXPECT_NEAR(after.perimeter_m.value, before.perimeter_m.value, 0.05);
  EXPECT_EQ(after.fixesUsed, before.fixesUsed + 120);
}

TEST(WalkedOutline, OutliersAreLeftOutWhereverTheyStand) {
  SimulatedWalk walk = circle(6.0);
  walk.receiver_u_m = 0.5;
  const std::vector<Fix> fixes = simulate(walk, 4);
  const double clean = walked(fixes).area_m2.value;
  for (const std::size_t wild : {std::size_t{0}, fixes.size() / 2, fixes.size() - 1}) {
    std::vector<Fix> spoilt = fixes;
    spoilt[wild].position.latitude_deg += 0.001;  // 111 m
    const WalkedOutline outline = walked(spoilt);
    EXPECT_EQ(outline.fixesDropped, 1) << wild;
    EXPECT_EQ(outline.fixesUsed + 1, static_cast<int>(fixes.size()));
    // One step of a metre is missing from a circle of 38 m.
    EXPECT_NEAR(outline.area_m2.value, clean, 1.0) << wild;
  }
  std::vector<Fix> elsewhere = fixes;
  elsewhere[7].position = {0.0, 0.0};
  EXPECT_NEAR(walked(elsewhere).area_m2.value, clean, 1.0);
}

TEST(WalkedOutline, UselessFixesAreDroppedAndCounted) {
  std::vector<Fix> fixes = simulate(circle(6.0), 4);
  const std::size_t given = fixes.size();
  const double clean = walked(fixes).area_m2.value;
  const double nan = std::numeric_limits<double>::quiet_NaN();
  const auto add = [&](Position position, double accuracy_m) {
    Fix fix = fixes[3];
    fix.time += 100ms;
    fix.position = position;
    fix.accuracy_m = accuracy_m;
    fixes.push_back(fix);
  };
  add({nan, 0.0}, 1.0);
  add({51.5, nan}, 1.0);
  add({91.0, 0.0}, 1.0);
  add(fixes[3].position, 40.0);
  add(fixes[3].position, nan);
  add(fixes[3].position, -1.0);
  fixes.push_back(fixes[5]);  // the same time once more
  const WalkedOutline outline = walked(fixes);
  EXPECT_EQ(outline.fixesDropped, 7);
  EXPECT_EQ(outline.fixesUsed, static_cast<int>(given));
  EXPECT_DOUBLE_EQ(outline.area_m2.value, clean);
}

TEST(WalkedOutline, TheOrderOfTheFixesDoesNotMatter) {
  const std::vector<Fix> fixes = simulate(circle(6.0), 4);
  const std::vector<Fix> turned(fixes.rbegin(), fixes.rend());
  EXPECT_EQ(walked(turned).area_m2, walked(fixes).area_m2);
}

/// Two circles that touch, walked as a figure of eight, begun anywhere.
SimulatedWalk figureOfEight(double radius_m) {
  SimulatedWalk walk;
  walk.length_m = 4.0 * pi * radius_m;
  walk.edge = [radius_m](double share) {
    const double angle = 4.0 * pi * share;
    const double side = share < 0.5 ? 1.0 : -1.0;
    return LocalPoint{side * radius_m * (1.0 - std::cos(angle)), radius_m * std::sin(angle)};
  };
  return walk;
}

TEST(WalkedOutline, AFigureOfEightCountsBothLoops) {
  SimulatedWalk walk = figureOfEight(5.0);
  walk.receiver_u_m = 0.02;
  const WalkedOutline outline = walked(simulate(walk, 6));
  const double truth = 2.0 * pi * 25.0;
  EXPECT_NEAR(outline.area_m2.value, truth, 4.0 * outline.area_m2.u.value());
  EXPECT_LT(outline.area_m2.u.value(), 0.05 * truth);
  EXPECT_THAT(outline.warnings, Contains(HasSubstr("crosses itself")));
}

TEST(WalkedOutline, TheUncertaintyOfAFigureOfEightIsThatOfTheSumOfItsLoops) {
  SimulatedWalk walk = figureOfEight(8.0);
  walk.errorTime_s = 120.0;
  const Outcome outcome = outcomeOf(walk, 2.0 * pi * 64.0, 400);
  EXPECT_NEAR(outcome.said, outcome.error, 0.2 * outcome.error);
}

TEST(WalkedOutline, AGapIsClosedAndReported) {
  SimulatedWalk walk = rectangle(12.0, 8.0);
  walk.receiver_u_m = 0.02;
  walk.length_m *= 0.8;
  walk.edge = [](double share) {
    const double along = 32.0 * share;
    if (along < 12.0) return LocalPoint{along, 0.0};
    if (along < 20.0) return LocalPoint{12.0, along - 12.0};
    return LocalPoint{32.0 - along, 8.0};
  };
  std::vector<Fix> fixes = simulate(walk, 8);
  // The simulator starts anywhere: turn the walk so that it begins at the corner.
  std::size_t jump = 0;
  for (std::size_t i = 1; i < fixes.size(); ++i) {
    if (std::abs(fixes[i].position.latitude_deg - fixes[i - 1].position.latitude_deg) > 4e-5)
      jump = i;
  }
  std::rotate(fixes.begin(), fixes.begin() + static_cast<std::ptrdiff_t>(jump), fixes.end());
  for (std::size_t i = 0; i < fixes.size(); ++i)
    fixes[i].time = measure::Instant{1'800'000'000s} + std::chrono::seconds{i};
  const WalkedOutline outline = walked(fixes);
  EXPECT_NEAR(outline.closedGap_m, 8.0, 1.5);
  // At both ends up to a step of 1 m is missing beside the open side of 8 m.
  EXPECT_NEAR(outline.area_m2.value, 96.0, 8.0);
  EXPECT_THAT(outline.warnings, Contains(HasSubstr("a straight line closes it")));
}

TEST(WalkedOutline, AnUnknownAccuracyIsAssumedAndSaid) {
  std::vector<Fix> fixes = simulate(circle(6.0), 4);
  const double known = walked(fixes).area_m2.u.value();
  for (Fix& fix : fixes) fix.accuracy_m.reset();
  const WalkedOutline outline = walked(fixes);
  // 4 m are assumed of a receiver of 1 m, which the walk itself shows to be calm.
  EXPECT_GT(outline.area_m2.u.value(), 1.3 * known);
  EXPECT_THAT(outline.warnings, Contains(HasSubstr("did not say how accurate")));
}

TEST(WalkedOutline, WorksAtThePolesAndAcrossTheAntimeridian) {
  const std::vector<Fix> plain = simulate(circle(6.0), 4);
  const LocalPlane from = planeFor(GlobeRing{plain.front().position});
  for (const Position origin : {Position{-17.8, 180.0}, Position{90.0, 0.0}, Position{0.0, 0.0}}) {
    const LocalPlane to(origin);
    std::vector<Fix> fixes = plain;
    for (Fix& fix : fixes) fix.position = to.toGlobe(from.toLocal(fix.position));
    EXPECT_NEAR(walked(fixes).area_m2.value, walked(plain).area_m2.value, 1e-4);
  }
}

TEST(WalkedOutline, FewerThanThreeUsableFixesFailInWords) {
  const std::vector<Fix> fixes = simulate(circle(6.0), 4);
  for (const std::size_t count : {0U, 1U, 2U}) {
    const auto outline = walkedOutline(std::span(fixes).first(count), {});
    ASSERT_FALSE(outline);
    EXPECT_EQ(outline.error().kind, FailureKind::invalid);
    EXPECT_THAT(outline.error().todo, HasSubstr("tape"));
  }
  std::vector<Fix> same(50, fixes[0]);
  EXPECT_FALSE(walkedOutline(same, {}));
  for (std::size_t i = 0; i < same.size(); ++i) same[i].time += std::chrono::seconds{i};
  EXPECT_FALSE(walkedOutline(same, {}));
}

TEST(WalkedOutline, TooManyFixesAreRefusedInWords) {
  const std::vector<Fix> fixes(mostFixesOfWalk + 1);
  const auto outline = walkedOutline(fixes, {});
  ASSERT_FALSE(outline);
  EXPECT_THAT(outline.error().text(), HasSubstr("split the log"));
}

}  // namespace
}  // namespace swardwalk::geo
