#include "common/answers/kept_work.h"

#include <gtest/gtest.h>

#include <functional>
#include <set>

#include "common/answers/history.h"
#include "common/answers/progress.h"
#include "tests/common/answers/small_course.h"

namespace swardwalk::answers {
namespace {

using test::CourseBuilder;

constexpr auto metric = measure::UnitSystem::metric;

/// Patches of every sort that is computed: closing by tape and by outline, with one wild
/// size, sown, from inside, stalled.
CourseBuilder busyCourse() {
  CourseBuilder course = test::stormyCourse();
  for (int i = 0; i < 6; ++i) {
    course::Patch& patch = course.patch("K" + std::to_string(i));
    for (int week = 0; week < 5; ++week) {
      const std::string day = "2027-03-" + std::to_string(10 + 4 * week) + "T07:00:00Z";
      const double wide = 0.6 - 0.02 * week * (i % 3) + (i == 4 && week == 2 ? 0.5 : 0.0);
      course::Sighting& sighting =
          course.seen(patch, day.substr(0, 10), turf::Kind::bare, i < 3 ? 1.2 : 0.0, wide);
      if (i >= 3) sighting.outline = test::rectangle(2.0 + 2.0 * i, 3.0, 1.1, wide);
      if (i == 5) sighting.bareShare = 0.6 - 0.05 * week;
    }
  }
  return course;
}

/// Every number of an answer, with all its digits.
void expectSame(const Progress& kept, const Progress& fresh) {
  const measure::Zone zone = *measure::Zone::named("Europe/London");
  EXPECT_EQ(progressJson(kept, zone), progressJson(fresh, zone));
  EXPECT_EQ(progressText(kept), progressText(fresh));
  ASSERT_EQ(kept.patches.size(), fresh.patches.size());
  for (std::size_t i = 0; i < kept.patches.size(); ++i) {
    SCOPED_TRACE(kept.patches[i].patch);
    const infill::PatchForecast& a = kept.patches[i].forecast;
    const infill::PatchForecast& b = fresh.patches[i].forecast;
    EXPECT_EQ(a.closesDays, b.closesDays);
    EXPECT_EQ(a.puttableDays, b.puttableDays);
    EXPECT_EQ(a.scatter, b.scatter);
    EXPECT_EQ(a.expected_m2, b.expected_m2);
    EXPECT_EQ(kept.patches[i].story->inputs, fresh.patches[i].story->inputs);
    if (a.edge && b.edge) {
      EXPECT_EQ(a.edge->insets_mmOn(90.0), b.edge->insets_mmOn(90.0));
    }
  }
  for (std::size_t i = 0; i < kept.greens.size(); ++i) {
    EXPECT_EQ(kept.greens[i].lookNextText, fresh.greens[i].lookNextText);
    EXPECT_EQ(kept.greens[i].bare_m2, fresh.greens[i].bare_m2);
  }
}

TEST(KeptWork, GivesWhatIsMadeFromNothingToTheBit) {
  CourseBuilder course = busyCourse();
  KeptWork kept;
  measure::Date on = test::date("2027-04-12");
  const auto patch = [&](std::size_t i) -> course::Patch& {
    return course.state.patches[course.state.patches.size() - 1 - i];
  };
  // One after the other what may happen between two answers.
  const std::vector<std::function<void()>> happenings = {
      [] {},
      [&] { course.seen(patch(4), "2027-04-11", turf::Kind::bare, 1.2, 0.4); },
      [&] {
        course.seen(patch(1), "2027-04-11", turf::Kind::bare).outline =
            test::rectangle(12.0, 3.0, 1.1, 0.45);
      },
      [&] { patch(2).sightings.pop_back(); },
      [&] { patch(1).sightings[1].edge_u_m = 0.005; },
      [&] { patch(0).sightings[1].bareShare = 0.9; },
      [&] { course.sown(patch(5), "2027-04-10"); },
      [&] { course.temperature("2027-04-01", "2027-04-11", 17.0); },
      [&] { course.state.course.settings["edge_u_m"] = 0.01; },
      [&] { course.state.course.settings["puttable_after_touching_d"] = 20.0; },
      [&] { course.state.course.bareShareLimit = 0.001; },
      [&] { course.state.greens.front().species = {"bermudagrass"}; },
      [&] { course.closed(patch(3), "2027-04-11"); },
      [&] { on += std::chrono::days(1); },
      [&] { course.state.patches.pop_back(); },
  };
  int step = 0;
  for (const auto& happens : happenings) {
    SCOPED_TRACE(step++);
    happens();
    expectSame(progress(course.state, on, metric, kept), progress(course.state, on, metric));
  }
}

TEST(KeptWork, HoldsNoMoreThanOneAnswerNeeds) {
  CourseBuilder course = busyCourse();
  KeptWork kept;
  for (int day = 0; day < 20; ++day) {
    const measure::Date on = test::date("2027-04-12") + std::chrono::days(day);
    course.seen(course.state.patches.back(), measure::isoDate(on), turf::Kind::bare, 1.0,
                0.5 - 0.01 * day);
    progress(course.state, on, metric, kept);
    KeptWork fresh;
    progress(course.state, on, metric, fresh);
    EXPECT_EQ(kept.areas.size(), fresh.areas.size());
    EXPECT_EQ(kept.curves.size(), fresh.curves.size());
    EXPECT_EQ(kept.forecasts.size(), fresh.forecasts.size());
    EXPECT_EQ(kept.bare_m2.size(), fresh.bare_m2.size());
    EXPECT_EQ(kept.chances.size(), fresh.chances.size());
  }
}

TEST(KeptWork, IsMadeOnceWhileItIsAskedForAndAnewAfterARoundWithout) {
  Kept<int> kept;
  int made = 0;
  const journal::Digest one = Inputs().add(1.0).digest();
  const auto ask = [&] { return kept.get(one, [&] { return ++made; }); };
  ask();
  ask();
  kept.endRound();
  EXPECT_EQ(ask(), 1);
  kept.endRound();
  kept.endRound();
  EXPECT_EQ(kept.size(), 0U);
  EXPECT_EQ(ask(), 2);
}

TEST(KeptWork, KeepsTheVeryCurvesOfAllOtherPatches) {
  CourseBuilder course = busyCourse();
  KeptWork kept;
  const measure::Date on = test::date("2027-04-12");
  progress(course.state, on, metric, kept);
  const Progress before = progress(course.state, on, metric, kept);
  const std::string seen = course.state.patches.back().id;
  course.seen(course.state.patches.back(), "2027-04-11", turf::Kind::bare, 0.3, 0.3);
  const Progress after = progress(course.state, on, metric, kept);
  for (std::size_t i = 0; i < before.patches.size(); ++i) {
    if (before.patches[i].patch == seen) continue;
    // The very same object, not an equal one.
    EXPECT_EQ(before.patches[i].story->curve, after.patches[i].story->curve);
  }
}

TEST(HistoryDigest, SeesEveryValue) {
  const infill::PatchHistory plain;
  const std::vector<std::function<void(infill::PatchHistory&)>> changes = {
      [](auto& h) { h.kind = turf::Kind::dug; },
      [](auto& h) { h.chapter = 2; },
      [](auto& h) {
        h.sizes = {{1.0, {1.0, 0.1}}};
      },
      [](auto& h) {
        h.sizes = {{1.0, {1.0, {}}}};
      },
      [](auto& h) {
        h.sizes = {{2.0, {1.0, 0.1}}};
      },
      [](auto& h) { h.sightings = 3; },
      [](auto& h) { h.closedDay = 0.0; },
      [](auto& h) { h.sownDay = 0.0; },
      [](auto& h) { h.upDay = 0.0; },
      [](auto& h) {
        h.daysUntilUp = turf::Range{7.0, 5.0, 9.0};
      },
      [](auto& h) {
        h.sownToPuttable_d = turf::Range{7.0, 5.0, 9.0};
      },
      [](auto& h) { h.turfedDay = 0.0; },
      [](auto& h) {
        h.coverSeen = {{1.0, {1.0, 0.1}}};
      },
      [](auto& h) {
        h.prior = infill::CreepPrior{{1.0, 0.5, 1.8}};
      },
      [](auto& h) { h.pool.patches = 1; },
      [](auto& h) { h.pool.shift = 0.1; },
      [](auto& h) { h.pool.learned2 = 0.1; },
      [](auto& h) { h.pool.scatter2 = 0.1; },
      [](auto& h) { h.pool.belief = 5.0; },
      [](auto& h) { h.time = std::make_shared<infill::GrowingTime>(0.0, std::vector{1.0}, 1.0); },
      [](auto& h) { h.time = std::make_shared<infill::GrowingTime>(0.0, std::vector{0.9}, 1.0); },
      [](auto& h) { h.time = std::make_shared<infill::GrowingTime>(0.0, std::vector{1.0}, 0.9); },
      [](auto& h) { h.time = std::make_shared<infill::GrowingTime>(1.0, std::vector{1.0}, 1.0); },
      [](auto& h) { h.today = 1.0; },
      [](auto& h) { h.puttableAfterTouching_d = 7.0; },
  };
  std::set<journal::Digest> digests = {historyDigest(plain, {}), historyDigest(plain, {1})};
  for (const auto& change : changes) {
    infill::PatchHistory other = plain;
    change(other);
    digests.insert(historyDigest(other, {}));
  }
  EXPECT_EQ(digests.size(), changes.size() + 2);
  EXPECT_EQ(historyDigest(plain, {}), historyDigest(infill::PatchHistory(), {}));
}

}  // namespace
}  // namespace swardwalk::answers
