#include "sample-course/season.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <set>

#include "common/geo/outline.h"
#include "sample-course/crew.h"
#include "sample-course/ground.h"

namespace swardwalk::sample {
namespace {

using std::chrono::year;

constexpr measure::Date firstDay =
    measure::Date(year(2027) / std::chrono::March / std::chrono::day(4));

const TruePatch& patchOf(const Season& season, Story story) {
  for (const auto& patch : season.patches()) {
    if (patch.story == story) return patch;
  }
  throw std::logic_error("no patch with that story");
}

TEST(Season, SameSeedGivesTheSameTruth) {
  const Season one(7);
  const Season other(7);
  ASSERT_EQ(one.patches().size(), other.patches().size());
  for (std::size_t i = 0; i < one.patches().size(); ++i) {
    EXPECT_EQ(one.patches()[i].id, other.patches()[i].id);
    EXPECT_EQ(one.sizeOn(one.patches()[i], 41).area_m2,
              other.sizeOn(other.patches()[i], 41).area_m2);
  }
}

TEST(Season, EveryPatchLiesOnItsGreen) {
  const Season season(7);
  for (const auto& patch : season.patches()) {
    const geo::LocalShape green = {{outlineOf(greens()[patch.green]), {}}};
    EXPECT_TRUE(geo::contains(green, patch.middle)) << patch.id;
  }
}

TEST(Season, AScarLeftAloneClosesAndAStalledPatchDoesNot) {
  const Season season(7);
  EXPECT_FALSE(season.sizeOn(patchOf(season, Story::closes), seasonDays - 1).open);
  const auto& stalled = patchOf(season, Story::stalls);
  EXPECT_EQ(season.sizeOn(stalled, stalled.bornDay).area_m2,
            season.sizeOn(stalled, seasonDays - 1).area_m2);
}

TEST(Season, AStormMakesAWashedPatchLargerAgain) {
  const Season season(7);
  const auto& washed = patchOf(season, Story::washedTwice);
  EXPECT_GT(season.sizeOn(washed, firstStormDay + 1).area_m2,
            season.sizeOn(washed, firstStormDay).area_m2);
}

TEST(Crew, MeasuresNearTheTruthButNotTheTruth) {
  const Season season(7);
  const Crew crew(season, firstDay, 7);
  int sightings = 0;
  int exact = 0;
  for (int day = 0; day < seasonDays; ++day) {
    for (const auto& action : crew.dayOf("a", day)) {
      const auto* sighting = std::get_if<course::Sighting>(&action.what);
      if (sighting == nullptr || !sighting->tape) continue;
      ++sightings;
      for (const auto& patch : season.patches()) {
        if (patch.id != sighting->patch) continue;
        const auto truth = season.sizeOn(patch, day);
        // Two edges of 20 mm each and reading to a centimetre: 0.15 m is five sigma.
        EXPECT_NEAR(sighting->tape->length_m, truth.length_m, 0.15);
        if (sighting->tape->length_m == truth.length_m) ++exact;
      }
    }
  }
  EXPECT_GT(sightings, 50);
  EXPECT_EQ(exact, 0);
}

TEST(Crew, TwoTabletsMarkOnePatchUnderTwoNamesOnOneMorning) {
  const Season season(7);
  const Crew crew(season, firstDay, 7);
  std::set<std::string> names;
  for (const char* letter : {"a", "b"}) {
    for (const auto& action : crew.dayOf(letter, secondStormDay + 1)) {
      if (const auto* sighting = std::get_if<course::Sighting>(&action.what)) {
        if (sighting->green == "Hollow" && sighting->kind == turf::Kind::dug) {
          names.insert(sighting->patch);
        }
      }
    }
  }
  const std::string id = patchOf(season, Story::markedTwiceOpen).id;
  EXPECT_THAT(names, testing::IsSupersetOf({id, std::string(id.rbegin(), id.rend())}));
}

TEST(Crew, ActionsOfADayAreInOrderOfTime) {
  const Season season(7);
  const Crew crew(season, firstDay, 7);
  for (int day = 0; day < seasonDays; ++day) {
    const auto actions = crew.dayOf("a", day);
    for (std::size_t i = 1; i < actions.size(); ++i) {
      EXPECT_LE(actions[i - 1].when, actions[i].when);
    }
  }
}

}  // namespace
}  // namespace swardwalk::sample
