#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <functional>

#include "common/answers/plan.h"
#include "tests/common/answers/small_course.h"

// Each input that decides a choice is moved across its threshold: the choice flips and the
// reason says another thing.
namespace swardwalk::answers {
namespace {

using repair::Choice;
using test::CourseBuilder;
using test::date;
using test::find;
using turf::Kind;

constexpr const char* today = "2027-04-12";

/// A bare disc of 0.3 m2 on bentgrass at 18 C, seen yesterday, opening in 110 days: overseed.
struct Disc : CourseBuilder {
  Disc() : patch(CourseBuilder::patch("N1")) {
    shed();
    temperature("2027-02-01", today, 18.0);
    opensIn(110);
    disc(seen(patch, "2027-04-11", Kind::bare), 0.3);
  }
  Disc(const Disc&) = delete;

  void opensIn(int days) { state.course.openingDay = date(today) + std::chrono::days(days); }
  static void disc(course::Sighting& sighting, double area_m2) {
    const double width_m = 2.0 * std::sqrt(area_m2 / M_PI);
    sighting.tape = course::TapeSize{geo::TapeForm::ellipse, width_m, width_m};
  }
  void turfAtHand() {
    turf::Turf& sod = state.turfs.emplace_back();
    sod.name = "Sod";
    sod.species = "creeping bentgrass";
  }
  course::Sighting& sighting() { return patch.sightings.back(); }
  PlannedPatch planned() const { return find(plan(today), "N1"); }

  course::Patch& patch;
};

using Change = std::function<void(Disc&)>;

struct Flip {
  const char* what;
  Change below;
  Choice first;
  Change above;
  Choice then;
};

void PrintTo(const Flip& flip, std::ostream* out) { *out << flip.what; }

class Threshold : public testing::TestWithParam<Flip> {};

TEST_P(Threshold, FlipsTheChoiceAndItsReason) {
  Disc disc;
  GetParam().below(disc);
  const PlannedPatch before = disc.planned();
  EXPECT_EQ(before.choice, GetParam().first) << before.reason;
  GetParam().above(disc);
  const PlannedPatch after = disc.planned();
  EXPECT_EQ(after.choice, GetParam().then) << after.reason;
  EXPECT_NE(before.reason, after.reason);
  EXPECT_FALSE(before.reason.empty());
  EXPECT_FALSE(after.reason.empty());
}

const Flip flips[] = {
    {"depth, 10 mm", [](Disc& disc) { disc.sighting().depths_mm = {9.9}; }, Choice::overseed,
     [](Disc& disc) { disc.sighting().depths_mm = {10.0}; }, Choice::fillAndSow},
    {"days since it was seen, 14",
     [](Disc& disc) { disc.sighting().seen = test::at("2027-03-29"); }, Choice::overseed,
     [](Disc& disc) { disc.sighting().seen = test::at("2027-03-28"); }, Choice::lookAgain},
    {"a size", [](Disc& disc) { disc.sighting().tape.reset(); }, Choice::lookAgain,
     [](Disc& disc) { Disc::disc(disc.sighting(), 0.3); }, Choice::overseed},
    {"times washed, 2",
     [](Disc& disc) {
       disc.patch.sightings.clear();
       Disc::disc(disc.seen(disc.patch, "2027-04-01", Kind::washed), 0.3);
     },
     Choice::fillAndSow,
     [](Disc& disc) { Disc::disc(disc.seen(disc.patch, "2027-04-11", Kind::washed), 0.6); },
     Choice::mendTheCauseFirst},
    {"kind", [](Disc& disc) { disc.sighting().kind = Kind::bare; }, Choice::overseed,
     [](Disc& disc) { disc.patch.kind = disc.sighting().kind = Kind::hungry; }, Choice::feed},
    {"fed after it was seen, for 7 days",
     [](Disc& disc) {
       disc.patch.kind = disc.sighting().kind = Kind::hungry;
       disc.sighting().seen = test::at("2027-04-05");
       disc.repair(disc.patch, "2027-04-05T12:00:00Z").feed = "Starter";
       disc.state.course.settings["fed_shows_after_d"] = 7.0;
     },
     Choice::feed, [](Disc& disc) { disc.state.course.settings["fed_shows_after_d"] = 8.0; },
     Choice::leave},
    {"a lot of a grass that belongs here",
     [](Disc& disc) {
       disc.turfAtHand();
       disc.state.seedLots.front().parts.front().species = "perennial ryegrass";
     },
     Choice::turf,
     [](Disc& disc) { disc.state.seedLots.front().parts.front().species = "creeping bentgrass"; },
     Choice::overseed},
    {"temperature, 7 C for bentgrass to come up",
     [](Disc& disc) {
       disc.turfAtHand();
       disc.state.temperatures.clear();
       disc.temperature("2027-02-01", today, 6.9);
     },
     Choice::turf,
     [](Disc& disc) {
       disc.state.temperatures.clear();
       disc.temperature("2027-02-01", today, 7.1);
       disc.opensIn(200);
     },
     Choice::overseed},
    {"turf at hand, where seed comes too late", [](Disc& disc) { disc.opensIn(45); },
     Choice::overseed, [](Disc& disc) { disc.turfAtHand(); }, Choice::turf},
    {"wanted probability",
     [](Disc& disc) {
       disc.turfAtHand();
       disc.opensIn(90);
     },
     Choice::overseed, [](Disc& disc) { disc.state.course.wantedProbability = 0.95; },
     Choice::turf},
    {"seed that is due and seed that is overdue",
     [](Disc& disc) {
       disc.sown(disc.patch, "2027-04-07");
       disc.sighting().seen = test::at("2027-04-06");
     },
     Choice::leave,
     [](Disc& disc) {
       disc.patch.repairs.back().done = test::at("2027-03-20");
       disc.sighting().seen = test::at("2027-04-11");
     },
     Choice::overseed},
    {"without an opening day, 60 days until it touches",
     [](Disc& disc) {
       disc.state.course.openingDay.reset();
       Disc::disc(disc.sighting(), M_PI * 0.055 * 0.055);
     },
     Choice::leave, [](Disc& disc) { Disc::disc(disc.sighting(), M_PI * 0.075 * 0.075); },
     Choice::overseed},
};

INSTANTIATE_TEST_SUITE_P(Choice, Threshold, testing::ValuesIn(flips));

std::optional<double> chance(const PlannedPatch& planned, Choice choice) {
  for (const PlannedOption& option : planned.options) {
    if (option.choice == choice) return option.probabilityReady;
  }
  return std::nullopt;
}

TEST(Thresholds, SeedIsChosenFromTheDayOnWhichItIsLikelyEnough) {
  Disc disc;
  disc.turfAtHand();
  int flipsSeen = 0;
  PlannedPatch before;
  for (int days = 40; days <= 130; ++days) {
    disc.opensIn(days);
    const PlannedPatch now = disc.planned();
    ASSERT_TRUE(now.choice == Choice::turf || now.choice == Choice::overseed) << days;
    EXPECT_EQ(now.choice == Choice::overseed, *chance(now, Choice::overseed) >= 0.8) << days;
    if (days > 40 && now.choice != before.choice) {
      ++flipsSeen;
      EXPECT_NE(now.reason, before.reason);
    }
    before = now;
  }
  EXPECT_EQ(flipsSeen, 1);
}

TEST(Thresholds, ASmallEnoughGapIsLeft) {
  Disc disc;
  int flipsSeen = 0;
  PlannedPatch before;
  for (int radius_mm = 20; radius_mm <= 160; radius_mm += 2) {
    Disc::disc(disc.sighting(), M_PI * radius_mm * radius_mm * 1e-6);
    const PlannedPatch now = disc.planned();
    EXPECT_EQ(now.choice == Choice::leave, *chance(now, Choice::leave) >= 0.8) << radius_mm;
    if (radius_mm > 20 && now.choice != before.choice) {
      ++flipsSeen;
      EXPECT_EQ(before.choice, Choice::leave);
      EXPECT_EQ(now.choice, Choice::overseed);
      EXPECT_NE(now.reason, before.reason);
    }
    before = now;
  }
  EXPECT_EQ(flipsSeen, 1);
}

}  // namespace
}  // namespace swardwalk::answers
