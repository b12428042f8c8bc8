#include "common/answers/plan.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "tests/common/answers/small_course.h"

namespace swardwalk::answers {
namespace {

using repair::Choice;
using test::CourseBuilder;
using test::find;
using testing::Contains;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::StartsWith;
using turf::Kind;

/// A bare patch of 1 m2 on the green, seen on 11 April at 16 C.
struct OnePatch {
  OnePatch() : patch(course.patch("N1")) {
    course.shed();
    course.temperature("2027-03-20", "2027-04-12", 16.0);
    course.seen(patch, "2027-04-11", Kind::bare, 1.0, 1.0);
  }
  PlannedPatch planned(std::string_view on = "2027-04-12") const {
    return find(course.plan(on), "N1");
  }

  CourseBuilder course;
  course::Patch& patch;
};

TEST(Choice, FlipsFromSowingToLeavingWithTheOpeningDay) {
  OnePatch one;
  // A metre closes at 1 mm a day in 500 days; seed is puttable after 70 (50 to 100).
  one.course.state.course.openingDay = test::date("2027-09-01");
  EXPECT_EQ(one.planned().choice, Choice::overseed);
  EXPECT_THAT(one.planned().reason, HasSubstr("sown today it is puttable by"));
  one.course.state.course.openingDay = test::date("2031-09-01");
  EXPECT_EQ(one.planned().choice, Choice::leave);
  EXPECT_THAT(one.planned().reason,
              StartsWith("Left alone it is puttable in 2028, in time: ready in "));
}

TEST(Choice, NamesHowLikelyLeavingWouldBeInTimeWhereItIsNotEnough) {
  // Scars that may close in time by themselves, but not as surely as was wanted.
  CourseBuilder course;
  course.shed();
  course.temperature("2027-03-20", "2027-04-12", 16.0);
  course.seen(course.patch("N1"), "2027-04-11", Kind::bare, 2.0, 0.10);
  course.seen(course.patch("N2"), "2027-04-11", Kind::bare, 2.0, 0.20);
  std::string inTime;
  std::string late;
  for (int day = 30; day < 200; day += 5) {
    course.state.course.openingDay = test::date("2027-04-12") + std::chrono::days(day);
    for (const PlannedPatch& planned : course.plan("2027-04-12").patches) {
      if (planned.choice == Choice::leave) continue;
      if (!planned.reason.starts_with("Left alone it is puttable")) continue;
      (planned.reason.find("late") == std::string::npos ? inTime : late) = planned.reason;
    }
  }
  EXPECT_THAT(inTime, testing::ContainsRegex(", in time in [0-9]+ %; sown today"));
  EXPECT_THAT(late, testing::ContainsRegex(" late; sown today"));
}

TEST(Choice, TurfWhereSeedWouldBeTooLate) {
  OnePatch one;
  turf::Turf& sod = one.course.state.turfs.emplace_back();
  sod.name = "Sand-grown bent";
  sod.species = "creeping bentgrass";
  one.course.state.course.openingDay = test::date("2027-05-15");
  const PlannedPatch planned = one.planned();
  EXPECT_EQ(planned.choice, Choice::turf);
  EXPECT_EQ(planned.turf, "Sand-grown bent");
  EXPECT_THAT(planned.reason, HasSubstr("seed would come too late for 15 May"));
  // 3 cm beyond the edge of a disc of 1 m2, and a twentieth for the cuts.
  EXPECT_NEAR(planned.turf_m2->value, 1.05 * (1.0 + 0.03 * 2.0 * std::sqrt(M_PI) + 0.0009 * M_PI),
              1e-9);
  EXPECT_FALSE(planned.turfPieces) << "nobody knows how large a piece is";

  sod.piece_m2 = 0.01;
  const PlannedPatch plugged = one.planned();
  EXPECT_EQ(plugged.turfPieces, 117);
  EXPECT_THAT(plugged.tasks, Contains(HasSubstr("Lay 117 plugs of 0.01 m²:")));
}

TEST(Choice, UnderTurfAHoleIsFilledUpToTheTurf) {
  OnePatch one;
  turf::Turf& sod = one.course.state.turfs.emplace_back();
  sod.name = "Sand-grown bent";
  sod.species = "creeping bentgrass";
  one.course.state.course.openingDay = test::date("2027-05-15");
  one.patch.sightings.back().depths_mm = {40.0};
  const PlannedPatch whole = one.planned();
  ASSERT_EQ(whole.choice, Choice::turf);
  EXPECT_THAT(whole.warnings, Contains(HasSubstr("thickness is not recorded")));
  sod.thickness_mm = 25.0;
  const PlannedPatch thick = one.planned();
  EXPECT_NEAR(thick.fill_l->value / whole.fill_l->value, 15.0 / 40.0, 1e-12) << "a flat hollow";
  sod.thickness_mm = 40.0;
  EXPECT_FALSE(one.planned().fill_l) << "the turf fills it";
  EXPECT_TRUE(one.planned().fill.empty());
}

TEST(Choice, AHoleIsFilledAFlatPlaceIsSown) {
  OnePatch one;
  one.course.state.course.openingDay = test::date("2027-09-01");
  EXPECT_EQ(one.planned().choice, Choice::overseed);
  EXPECT_FALSE(one.planned().fill_l.has_value());
  one.patch.sightings.back().depths_mm = {40.0};
  EXPECT_EQ(one.planned().choice, Choice::fillAndSow);
  // Flat hollow: 1 m2 x 40 mm = 40 l, more by the 10 % that settle.
  EXPECT_NEAR(one.planned().fill_l->value, 40.0 / 0.9, 1e-9);
  EXPECT_NEAR(one.planned().fill_kg->value, 1.55 * 40.0 / 0.9, 1e-9);
}

TEST(Choice, WashedTwiceItsCauseIsMendedFirst) {
  OnePatch one;
  one.course.seen(one.patch, "2027-04-11T08:00:00Z", Kind::washed, 1.0, 1.0);
  EXPECT_NE(one.planned().choice, Choice::mendTheCauseFirst);
  one.course.seen(one.patch, "2027-04-12", Kind::washed, 1.5, 1.4);
  EXPECT_EQ(one.planned().choice, Choice::mendTheCauseFirst);
  EXPECT_THAT(one.planned().reason, StartsWith("Washed out two times"));
}

TEST(Choice, AnOldSightingIsLookedAtAgain) {
  OnePatch one;
  EXPECT_NE(one.planned("2027-04-25").choice, Choice::lookAgain);
  EXPECT_EQ(one.planned("2027-04-26").choice, Choice::lookAgain);
  EXPECT_EQ(one.planned("2027-04-26").reason, "Not seen for 15 days: look before a cart goes out.");
}

TEST(Choice, WhatIsSownIsLeftUntilItIsUpAndSownAgainWhereItWasLost) {
  OnePatch one;
  one.course.state.course.openingDay = test::date("2027-09-01");
  one.course.sown(one.patch, "2027-04-11T12:00:00Z");
  EXPECT_EQ(one.planned().choice, Choice::leave);
  EXPECT_EQ(one.planned().sowing, repair::SowingState::waiting);
  one.course.rain("2027-04-12", 45.0, 42.0);
  EXPECT_EQ(one.planned().choice, Choice::overseed);
  EXPECT_EQ(one.planned().sowing, repair::SowingState::washedOut);
  EXPECT_THAT(one.planned().reason, StartsWith("Seed washed out 12 April; left alone"));
}

TEST(Choice, HungryIsFedAndThenLeftUntilItShows) {
  OnePatch one;
  one.course.seen(one.patch, "2027-04-11T08:00:00Z", Kind::hungry, 2.0, 1.0);
  const PlannedPatch hungry = one.planned();
  EXPECT_EQ(hungry.choice, Choice::feed);
  EXPECT_EQ(hungry.feed, "Starter");
  // 0.7 g/m2 of nitrogen from 6 %: 11.667 g/m2 of product on 2 m2.
  EXPECT_NEAR(hungry.feed_g->value, 2.0 * 0.7 / 0.06, 1e-9);
  EXPECT_NEAR(*hungry.nitrogen_g_m2, 0.7, 1e-12);
  one.course.repair(one.patch, "2027-04-12").feed = "Starter";
  EXPECT_EQ(one.planned().choice, Choice::leave);
  EXPECT_EQ(one.planned().reason, "Fed 12 April; it shows by 19 April.");
  EXPECT_FALSE(one.planned().feed_g.has_value());
}

TEST(Choice, APersonsGoesBeforeTheComputedOneWithItsMaterial) {
  OnePatch one;
  one.course.state.course.openingDay = test::date("2031-09-01");
  ASSERT_EQ(one.planned().choice, Choice::leave);
  one.course.choose(one.patch, "overseed", "Tilde", "Guests in June");
  const PlannedPatch planned = one.planned();
  EXPECT_EQ(planned.choice, Choice::overseed);
  EXPECT_EQ(planned.chosenBy, "Tilde");
  EXPECT_TRUE(planned.chosenByPerson);
  EXPECT_EQ(planned.reason, "Guests in June.");
  EXPECT_TRUE(planned.seed_g.has_value());
}

TEST(Choice, TheLaterOfTwoPersonsDecidesAndNoNameIsAPerson) {
  OnePatch one;
  one.course.choose(one.patch, "overseed", "Tilde");
  one.course.choose(one.patch, "look again");
  std::swap(one.patch.choices[0], one.patch.choices[1]);
  EXPECT_EQ(one.planned().choice, Choice::lookAgain);
  EXPECT_EQ(one.planned().chosenBy, "a person");
}

TEST(Choice, OnceDoneAPersonsChoiceHasHadItsDay) {
  OnePatch one;
  one.course.choose(one.patch, "overseed", "Tilde");
  one.course.sown(one.patch, "2027-04-12");
  EXPECT_FALSE(one.planned().chosenByPerson);
  EXPECT_EQ(one.planned().choice, Choice::leave);
}

TEST(Seed, IsThatOfLiveSeedsWanted) {
  OnePatch one;
  one.course.choose(one.patch, "overseed");
  const PlannedPatch planned = one.planned();
  EXPECT_EQ(planned.seedLot, "Bent 26-4");
  // 4.8 seedlings a cm2 on 1 m2, half of the live seed established, 14,110 seeds a gram.
  EXPECT_NEAR(planned.seed_g->value, 48000.0 / (0.98 * 0.90 * 0.5 * 14110.0), 1e-9);
  EXPECT_GT(*planned.seed_g->u, 0.0);
}

TEST(Seed, TheCoursesOwnRateIsForAFreshLot) {
  OnePatch one;
  one.course.choose(one.patch, "overseed");
  one.course.state.course.settings["seed_bent_g_m2"] = 10.0;
  EXPECT_NEAR(one.planned().seed_g->value, 10.0 * 0.85 / (0.98 * 0.90), 1e-9);
}

TEST(Seed, RyegrassNeverGoesOnABentGreen) {
  OnePatch one;
  one.course.choose(one.patch, "overseed");
  std::erase_if(one.course.state.seedLots,
                [](const turf::SeedLot& lot) { return lot.name == "Bent 26-4"; });
  const PlannedPatch planned = one.planned();
  EXPECT_EQ(planned.seedLot, "");
  EXPECT_FALSE(planned.seed_g.has_value());
  EXPECT_THAT(planned.warnings, Contains("no seed: no lot of a grass that belongs on North"));
}

TEST(Seed, ABlendWithOneForeignGrassStaysOffTheGreen) {
  OnePatch one;
  one.course.choose(one.patch, "overseed");
  std::erase_if(one.course.state.seedLots,
                [](const turf::SeedLot& lot) { return lot.name == "Bent 26-4"; });
  turf::SeedLot& blend = one.course.lot("Blend", "creeping bentgrass");
  blend.parts = {{"creeping bentgrass", 0.9}, {"perennial ryegrass", 0.1}};
  EXPECT_EQ(one.planned().seedLot, "");
  blend.parts.pop_back();
  EXPECT_EQ(one.planned().seedLot, "Blend");
}

TEST(Seed, RyegrassGoesOnItsBank) {
  CourseBuilder course;
  course.shed();
  course::Patch& patch = course.patch("N10", course::Zone::bank);
  course.seen(patch, "2027-04-11", Kind::bare, 1.0, 1.0);
  course.choose(patch, "overseed");
  EXPECT_EQ(find(course.plan("2027-04-12"), "N10").seedLot, "Ryegrass 26-1");
}

TEST(Seed, VariantsOfATradeNameAreOneGrass) {
  OnePatch one;
  one.course.choose(one.patch, "overseed");
  one.course.state.greens[0].species = {"bentgrass"};
  EXPECT_EQ(one.planned().seedLot, "Bent 26-4");
}

TEST(Seed, AGrassNobodyKnowsIsMatchedByItsNameButHasNoAmount) {
  OnePatch one;
  one.course.choose(one.patch, "overseed");
  one.course.state.greens[0].species = {"Moor grass"};
  one.course.lot("Moor 1", "moor grass");
  EXPECT_EQ(one.planned().seedLot, "Moor 1");
  EXPECT_FALSE(one.planned().seed_g.has_value());
  EXPECT_THAT(one.planned().warnings,
              Contains("seed unknown: nothing is known of the grass of Moor 1"));
}

TEST(Seed, PurityOfZeroIsAWarningNotANumber) {
  OnePatch one;
  one.course.choose(one.patch, "overseed");
  one.course.state.seedLots[0].purity = 0.0;
  EXPECT_FALSE(one.planned().seed_g.has_value());
  EXPECT_THAT(one.planned().warnings, Contains("seed unknown: Bent 26-4 has a purity of 0"));
}

TEST(Seed, AnOldTestIsNamedWithItsAge) {
  OnePatch one;
  one.course.choose(one.patch, "overseed");
  one.course.state.seedLots[0].tested = test::date("2026-03-08");
  EXPECT_THAT(one.planned().warnings, Contains("Bent 26-4: germination tested 400 days ago"));
  one.course.state.seedLots[0].tested = test::date("2026-04-12");
  EXPECT_THAT(one.planned().warnings, IsEmpty());
}

TEST(Seed, MoreLiveSeedIsTakenFirst) {
  OnePatch one;
  one.course.choose(one.patch, "overseed");
  one.course.lot("A weak lot", "creeping bentgrass").germination = 0.5;
  EXPECT_EQ(one.planned().seedLot, "Bent 26-4");
}

TEST(Feed, WithoutAnAnalysisTheNitrogenIsUnknownNotZero) {
  OnePatch one;
  one.course.choose(one.patch, "feed");
  one.course.state.feeds.clear();
  turf::Feed& feed = one.course.feed("Old bag", std::nullopt);
  feed.labelRate_g_m2 = 20.0;
  const PlannedPatch planned = one.planned();
  EXPECT_FALSE(planned.nitrogen_g_m2.has_value());
  EXPECT_NEAR(planned.feed_g->value, 20.0, 1e-12);
  EXPECT_THAT(planned.warnings, Contains("nitrogen unknown: no analysis"));
}

TEST(Feed, TheCourseSetsTheNitrogenWanted) {
  OnePatch one;
  one.course.choose(one.patch, "feed");
  one.course.state.course.settings["soluble_n_g_m2"] = 1.4;
  EXPECT_NEAR(one.planned().feed_g->value, 1.4 / 0.06, 1e-9);
}

TEST(Fill, AWashedPlaceIsAChannelADugOneABowl) {
  OnePatch one;
  one.course.choose(one.patch, "fill and sow");
  one.patch.sightings.back().depths_mm = {20.0, 40.0};
  one.patch.kind = one.patch.sightings.back().kind = Kind::washed;
  EXPECT_NEAR(one.planned().fill_l->value, 2.0 / 3.0 * 30.0 / 0.9, 1e-9);
  one.patch.kind = one.patch.sightings.back().kind = Kind::dug;
  EXPECT_NEAR(one.planned().fill_l->value, 0.5 * 40.0 / 0.9, 1e-9);
  one.course.repair(one.patch, "2027-04-12").rakedBack = true;
  EXPECT_NEAR(one.planned().fill_l->value, 0.5 * 0.5 * 40.0 / 0.9, 1e-9);
}

TEST(Fill, WithoutADepthItIsUnknown) {
  OnePatch one;
  one.course.choose(one.patch, "fill and sow");
  EXPECT_FALSE(one.planned().fill_l.has_value());
  EXPECT_THAT(one.planned().warnings, Contains("fill unknown: no depth was measured"));
}

TEST(Plan, LeavesClosedPatchesOut) {
  const Plan plan = test::stormyCourse().plan("2027-04-12");
  EXPECT_EQ(std::count_if(plan.patches.begin(), plan.patches.end(),
                          [](const PlannedPatch& patch) { return patch.patch == "N5"; }),
            0);
  EXPECT_EQ(plan.patches.size(), 7U);
}

TEST(Plan, TotalsAreTheSumsOfItsLines) {
  const Plan plan = test::stormyCourse().plan("2027-04-12");
  std::map<std::string, double> kilograms;
  std::map<std::string, double> squares;
  const auto add = [&](const std::string& material, const std::optional<measure::Measured>& amount,
                       double perKg) {
    if (!amount) return;
    kilograms[material] += amount->value / perKg;
    squares[material] += *amount->u * *amount->u / perKg / perKg;
  };
  for (const PlannedPatch& patch : plan.patches) {
    add(patch.seedLot, patch.seed_g, 1000.0);
    add(patch.fill, patch.fill_kg, 1.0);
    add(patch.feed, patch.feed_g, 1000.0);
  }
  ASSERT_EQ(plan.totals.size(), kilograms.size());
  ASSERT_GE(plan.totals.size(), 3U);
  for (const MaterialTotal& total : plan.totals) {
    // Sums in another order differ by rounding only.
    EXPECT_NEAR(total.amount_kg->value, kilograms.at(total.material), 1e-12) << total.material;
    EXPECT_NEAR(*total.amount_kg->u, std::sqrt(squares.at(total.material)), 1e-12);
  }
  for (const OrderLine& line : plan.order) {
    EXPECT_NEAR(*line.needed_kg, kilograms.at(line.material), 1e-12) << line.material;
  }
}

TEST(Plan, CountsWhatIsToDoAndWhatIsLeftAlone) {
  const Plan plan = test::stormyCourse().plan("2027-04-12");
  const auto toDo = std::count_if(plan.patches.begin(), plan.patches.end(),
                                  [](const PlannedPatch& patch) { return patch.toDo; });
  EXPECT_EQ(plan.headline,
            std::to_string(toDo) + " to do today, " + std::to_string(7 - toDo) + " left alone");
  EXPECT_EQ(plan.greens.at(0).text,
            std::to_string(toDo) + " to do, " + std::to_string(7 - toDo) + " left alone");
}

std::vector<std::string> abouts(const Plan& plan) {
  std::vector<std::string> all;
  for (const Caution& caution : plan.cautions) {
    EXPECT_FALSE(caution.source.empty()) << caution.about;
    all.push_back(caution.about);
  }
  return all;
}

TEST(Cautions, OnlyThoseThatApply) {
  OnePatch one;
  one.course.state.course.openingDay = test::date("2031-09-01");
  EXPECT_THAT(abouts(one.course.plan("2027-04-12")), IsEmpty());
  one.course.rain("2027-04-11", 12.0);
  EXPECT_THAT(abouts(one.course.plan("2027-04-12")), testing::ElementsAre("lightning"));
  one.course.choose(one.patch, "fill and sow");
  one.patch.sightings.back().depths_mm = {40.0};
  EXPECT_THAT(abouts(one.course.plan("2027-04-12")),
              testing::ElementsAre("dust", "label", "lifting", "lightning"));
}

TEST(Cautions, DugPlacesAndWetBanksAreNamed) {
  EXPECT_THAT(abouts(test::stormyCourse().plan("2027-04-12")), Contains("wildlife"));
  EXPECT_THAT(abouts(test::stormyCourse().plan("2027-04-12")), Contains("wet banks"));
}

TEST(Units, ImperialPlanChangesTextNotNumbers) {
  const CourseBuilder course = test::stormyCourse();
  const PlannedPatch metric = find(course.plan("2027-04-12"), "N3");
  const PlannedPatch imperial =
      find(course.plan("2027-04-12", measure::UnitSystem::imperial), "N3");
  EXPECT_EQ(metric.seed_g, imperial.seed_g);
  EXPECT_EQ(metric.seedText.unit, "g");
  EXPECT_EQ(imperial.seedText.unit, "oz");
  EXPECT_EQ(imperial.fillText.unit, "US gal");
}

}  // namespace
}  // namespace swardwalk::answers
