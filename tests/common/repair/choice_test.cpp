#include "common/repair/choice.h"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>

namespace swardwalk::repair {
namespace {

using Because = Advice::Because;

constexpr double today = 1000.0;

const turf::Species& bent() { return *turf::findSpecies("creeping bentgrass"); }

infill::PatchForecast leftAlone(double area_m2, double mean_c, turf::Kind kind = turf::Kind::bare) {
  infill::PatchHistory history;
  history.kind = kind;
  history.sizes = {{today, {area_m2, 0.1 * area_m2}}};
  history.sightings = 1;
  history.today = today;
  if (const auto creep = turf::creepFor(bent(), mean_c)) history.prior = infill::CreepPrior{*creep};
  return infill::forecastPatch(history);
}

/// Bare disc on a bentgrass green at 18 C with seed and turf at hand.
Case bareDisc(double area_m2, std::optional<double> openingIn_d) {
  Case patch;
  patch.left = leftAlone(area_m2, 18.0);
  patch.today = today;
  if (openingIn_d) patch.openingDay = today + *openingIn_d;
  patch.seedForZone = true;
  patch.turfForZone = true;
  patch.fillKnown = true;
  patch.feedKnown = true;
  patch.sownToPuttable_d = turf::sownToPuttableFor(bent(), 18.0);
  patch.daysUntilUp = turf::daysUp(bent(), 18.0);
  return patch;
}

const Option& option(const Advice& advice, Choice choice) {
  for (const Option& one : advice.options) {
    if (one.choice == choice) return one;
  }
  ADD_FAILURE() << "no option " << word(choice);
  return advice.options.front();
}

TEST(Choice, EveryWordNamesItsChoice) {
  for (const Choice choice : {Choice::leave, Choice::overseed, Choice::fillAndSow, Choice::turf,
                              Choice::feed, Choice::mendTheCauseFirst, Choice::lookAgain}) {
    EXPECT_EQ(choiceNamed(word(choice)), choice);
  }
  EXPECT_EQ(word(Choice::fillAndSow), "fill and sow");
  EXPECT_FALSE(choiceNamed("dig"));
}

TEST(Advice, SmallPatchWithTimeIsLeft) {
  // 60 mm across: half its width at 1 mm a day is a month.
  const Advice advice = advise(bareDisc(0.0028, 120));
  EXPECT_EQ(advice.choice, Choice::leave);
  EXPECT_EQ(advice.because, Because::makesItAlone);
  EXPECT_GE(*option(advice, Choice::leave).probabilityReady, 0.8);
}

TEST(Advice, BareDiscFortyFiveDaysBeforeOpeningIsNeverLeft) {
  const Advice withTurf = advise(bareDisc(0.3, 45));
  EXPECT_EQ(withTurf.choice, Choice::turf);
  EXPECT_EQ(withTurf.because, Because::turfMakesIt);
  Case noTurf = bareDisc(0.3, 45);
  noTurf.turfForZone = false;
  EXPECT_EQ(advise(noTurf).choice, Choice::overseed);
  EXPECT_EQ(advise(noTurf).because, Because::bestOfNone);
}

TEST(Advice, BareDiscHundredAndTenDaysBeforeOpeningIsOverseeded) {
  const Advice advice = advise(bareDisc(0.3, 110));
  EXPECT_EQ(advice.choice, Choice::overseed);
  EXPECT_EQ(advice.because, Because::seedMakesIt);
  EXPECT_NEAR(*option(advice, Choice::overseed).puttableDay, today + 70, 1e-9);
  // Middle 70 d, 90 % by 100 d: a little more than 0.9 by 110.
  EXPECT_GT(*option(advice, Choice::overseed).probabilityReady, 0.9);
  EXPECT_LT(*option(advice, Choice::leave).probabilityReady, 0.1);
}

TEST(Advice, ADeepHoleIsFilledAndSown) {
  Case hole = bareDisc(0.3, 110);
  hole.kind = turf::Kind::dug;
  hole.deepest_mm = 40;
  const Advice advice = advise(hole);
  EXPECT_EQ(advice.choice, Choice::fillAndSow);
  EXPECT_FALSE(option(advice, Choice::overseed).possible);
  EXPECT_NE(option(advice, Choice::overseed).whyNot.find("40 mm"), std::string::npos);
}

TEST(Advice, DepthDecidesBetweenOverseedAndFillAtItsThreshold) {
  Case hole = bareDisc(0.3, 110);
  hole.kind = turf::Kind::washed;
  hole.deepest_mm = 9.9;
  EXPECT_EQ(advise(hole).choice, Choice::overseed);
  hole.deepest_mm = 10.0;
  EXPECT_EQ(advise(hole).choice, Choice::fillAndSow);
  hole.deepest_mm = 0.0;
  EXPECT_EQ(advise(hole).choice, Choice::fillAndSow) << "washed, depth unknown";
  hole.kind = turf::Kind::bare;
  EXPECT_EQ(advise(hole).choice, Choice::overseed) << "bare and flat";
}

TEST(Advice, WithoutSeedThatMayGrowThereNoneIsSownAndItSaysWhy) {
  Case patch = bareDisc(0.3, 110);
  patch.seedForZone = false;
  patch.turfForZone = false;
  patch.noSeedReason = "only ryegrass in stock";
  const Advice advice = advise(patch);
  EXPECT_EQ(advice.choice, Choice::leave);
  EXPECT_EQ(advice.because, Because::nothingFits);
  EXPECT_FALSE(option(advice, Choice::overseed).possible);
  EXPECT_EQ(option(advice, Choice::overseed).whyNot, "only ryegrass in stock");
  EXPECT_EQ(option(advice, Choice::fillAndSow).whyNot, "only ryegrass in stock");
  EXPECT_FALSE(option(advice, Choice::turf).whyNot.empty());
}

TEST(Advice, TooColdToSowLeavesTurfOrNothing) {
  Case patch = bareDisc(0.3, 110);
  patch.left = leftAlone(0.3, 6.0);
  patch.sownToPuttable_d = turf::sownToPuttableFor(bent(), 6.0);
  EXPECT_EQ(advise(patch).choice, Choice::turf);
  patch.turfForZone = false;
  EXPECT_EQ(advise(patch).because, Because::nothingFits);
  EXPECT_FALSE(option(advise(patch), Choice::overseed).closesDay);
}

TEST(Advice, HungryPatchesAreFed) {
  Case patch = bareDisc(4.0, 30);
  patch.kind = turf::Kind::hungry;
  patch.left = leftAlone(4.0, 18.0, turf::Kind::hungry);
  const Advice advice = advise(patch);
  EXPECT_EQ(advice.choice, Choice::feed);
  EXPECT_EQ(advice.because, Because::hungry);
  EXPECT_FALSE(option(advice, Choice::leave).closesDay);
  patch.feedKnown = false;
  EXPECT_FALSE(option(advise(patch), Choice::feed).possible);
}

TEST(Advice, WashedTwiceMeansTheCauseFirst) {
  Case patch = bareDisc(0.3, 110);
  patch.kind = turf::Kind::washed;
  patch.timesWashed = 1;
  EXPECT_EQ(advise(patch).choice, Choice::fillAndSow);
  patch.timesWashed = 2;
  EXPECT_EQ(advise(patch).choice, Choice::mendTheCauseFirst);
  EXPECT_EQ(advise(patch).because, Because::washedTwice);
  patch.sowing = SowingState::up;
  EXPECT_NE(advise(patch).choice, Choice::mendTheCauseFirst) << "it came up this time";
}

TEST(Advice, WhatIsSownIsLeftUntilItIsOverdue) {
  Case patch = bareDisc(0.3, 110);
  for (const SowingState state : {SowingState::waiting, SowingState::due}) {
    patch.sowing = state;
    EXPECT_EQ(advise(patch).choice, Choice::leave);
    EXPECT_EQ(advise(patch).because, Because::waitingForSeed);
  }
  for (const SowingState state : {SowingState::overdue, SowingState::washedOut}) {
    patch.sowing = state;
    EXPECT_EQ(advise(patch).choice, Choice::overseed);
  }
}

TEST(Advice, WithoutASizeOrWithAnOldOneSomebodyLooksAgain) {
  Case patch = bareDisc(0.3, 110);
  patch.daysSinceSeen = 14.0;
  EXPECT_EQ(advise(patch).choice, Choice::overseed);
  patch.daysSinceSeen = 14.1;
  EXPECT_EQ(advise(patch).choice, Choice::lookAgain);
  EXPECT_EQ(advise(patch).because, Because::oldSighting);
  patch = bareDisc(0.3, 110);
  patch.left.area_m2.reset();
  EXPECT_EQ(advise(patch).choice, Choice::lookAgain);
  EXPECT_EQ(advise(patch).because, Because::noSize);
}

TEST(Advice, WithoutOpeningDayWhatTouchesInTwoMonthsIsLeft) {
  EXPECT_EQ(advise(bareDisc(0.0028, std::nullopt)).choice, Choice::leave);
  const Advice large = advise(bareDisc(0.3, std::nullopt));
  EXPECT_EQ(large.choice, Choice::overseed);
  EXPECT_FALSE(option(large, Choice::leave).probabilityReady);
}

TEST(Advice, WithoutOpeningDaySixtyDaysIsHowLongATouchIsWaitedFor) {
  Case patch = bareDisc(0.0028, std::nullopt);
  patch.left.closesDay = patch.today + 60.0;
  EXPECT_EQ(advise(patch).choice, Choice::leave);
  patch.left.closesDay = patch.today + 60.5;
  EXPECT_EQ(advise(patch).choice, Choice::overseed);
}

TEST(Advice, WantedProbabilityMovesTheChoice) {
  Case patch = bareDisc(0.3, 90);
  patch.wantedProbability = 0.80;
  EXPECT_EQ(advise(patch).choice, Choice::overseed);
  patch.wantedProbability = 0.95;
  EXPECT_EQ(advise(patch).choice, Choice::turf);
}

TEST(Advice, OpeningTomorrowAsksForTheMostThatCanBeDone) {
  const Advice advice = advise(bareDisc(0.3, 1));
  EXPECT_EQ(advice.choice, Choice::turf);
  EXPECT_EQ(advice.because, Because::bestOfNone);
}

TEST(Advice, OptionsStandInAFixedOrderAndAreNeverNaN) {
  const Advice advice = advise(bareDisc(0.3, 45));
  ASSERT_EQ(advice.options.size(), 4U);
  EXPECT_EQ(advice.options[0].choice, Choice::leave);
  EXPECT_EQ(advice.options[1].choice, Choice::overseed);
  EXPECT_EQ(advice.options[2].choice, Choice::fillAndSow);
  EXPECT_EQ(advice.options[3].choice, Choice::turf);
  for (const Option& one : advice.options) {
    EXPECT_EQ(one.possible, one.whyNot.empty());
    if (one.possible) {
      ASSERT_TRUE(one.probabilityReady);
      EXPECT_GE(*one.probabilityReady, 0.0);
      EXPECT_LE(*one.probabilityReady, 1.0);
    }
  }
}

}  // namespace
}  // namespace swardwalk::repair
