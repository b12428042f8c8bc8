#include "common/answers/progress.h"

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <map>
#include <set>
#include <string_view>
#include <tuple>

#include "common/answers/answer_text.h"
#include "common/answers/bare_area.h"
#include "common/answers/calendar.h"
#include "common/answers/history.h"
#include "common/answers/kept_work.h"
#include "common/answers/sentences.h"
#include "common/answers/thin_stand.h"
#include "common/geo/outline.h"
#include "common/infill/green_forecast.h"

namespace swardwalk::answers {
namespace {

using infill::Verdict;

/// The same green gives the same draws on every machine and day (FNV-1a, 64 bits).
std::uint64_t seedOf(std::string_view name) {
  std::uint64_t hash = 14695981039346656037ULL;
  for (const char c : name) {
    hash ^= static_cast<unsigned char>(c);
    hash *= 1099511628211ULL;
  }
  return hash;
}

std::optional<measure::Date> openingDayOf(const course::CourseState& state,
                                          std::string_view greenName) {
  const course::Green* green = state.green(greenName);
  if (green != nullptr && green->openingDay) return green->openingDay;
  return state.course.openingDay;
}

bool countsAsBare(turf::Kind kind) { return kind != turf::Kind::hungry; }

/// Forecasts of all patches: each alone, then with what the others of its green, zone and
/// grass tell.
void forecastTogether(const course::CourseState& state,
                      const std::vector<std::shared_ptr<PatchStory>>& stories,
                      std::vector<infill::PatchForecast>& forecasts, KeptWork& kept) {
  const auto forecastOf = [&kept](PatchStory& story) {
    story.inputs = historyDigest(story.history, story.form);
    return kept.forecasts.get(story.inputs, [&] { return infill::forecastPatch(story.history); });
  };
  std::map<std::tuple<std::string, course::Zone, std::string>, std::vector<std::size_t>> pools;
  for (std::size_t i = 0; i < stories.size(); ++i) {
    forecasts.push_back(forecastOf(*stories[i]));
    const std::string& green = state.patches[i].green;
    if (green.empty() || !stories[i]->history.prior) continue;
    if (forecasts[i].verdict == Verdict::closed || forecasts[i].verdict == Verdict::feed) continue;
    pools[{green, stories[i]->zone, stories[i]->priorSpecies}].push_back(i);
  }
  for (const auto& [place, members] : pools) {
    if (members.size() < 2) continue;
    std::vector<infill::CreepTold> told;
    for (const std::size_t i : members) {
      const bool grows = forecasts[i].verdict == Verdict::growing;
      told.push_back(grows ? infill::CreepTold{} : forecasts[i].told.value_or(infill::CreepTold{}));
    }
    const infill::GreenPool pool(
        infill::logCreepOf(stories[members.front()]->history.prior->creep_mm_d), told);
    for (std::size_t k = 0; k < members.size(); ++k) {
      const std::size_t i = members[k];
      stories[i]->history.pool = pool.without(k);
      forecasts[i] = forecastOf(*stories[i]);
    }
  }
}

PatchProgress progressOf(const course::CourseState& state, const course::Patch& patch,
                         const Calendar& calendar, std::shared_ptr<const PatchStory> story,
                         infill::PatchForecast made) {
  PatchProgress out;
  out.patch = patch.id;
  out.label = patch.label.empty() ? patch.id : patch.label;
  out.heading = headingOf(out.label, patch.green);
  out.green = patch.green;
  out.kind = patch.kind;
  out.zone = patch.zone;
  out.story = std::move(story);
  out.forecast = std::move(made);
  const infill::PatchForecast& forecast = out.forecast;
  out.chapter = forecast.chapter;
  out.sightings = static_cast<int>(patch.sightings.size());
  if (!patch.sightings.empty()) out.lastSeen = patch.sightings.back().seen;
  if (!patch.closed.empty()) {
    out.lastSeen =
        std::max(out.lastSeen.value_or(patch.closed.back().seen), patch.closed.back().seen);
  }
  out.area_m2 = forecast.area_m2;
  out.model = forecast.model;
  out.edgeCreep_mm_d = forecast.creep_mm_d;
  if (forecast.verdict != Verdict::feed) out.shareClosed = forecast.shareClosed;
  if (forecast.verdict == Verdict::closed && !out.story->history.closedDay && forecast.area_m2 &&
      forecast.largestArea_m2.value_or(0.0) > 0.0) {
    // Closed because hardly anything is left: say how much, not all.
    out.shareClosed = 1.0 - forecast.area_m2->value / *forecast.largestArea_m2;
  }
  out.closesOn = calendar.dateOf(forecast.closesDay);
  out.closesEarliest = calendar.dateOf(forecast.closesEarliestDay);
  out.closesLatest = calendar.dateOf(forecast.closesLatestDay);
  out.puttableOn = calendar.dateOf(forecast.puttableDay);
  out.verdict = forecast.verdict;
  out.sowing = out.story->sowingState;
  out.openingDay = openingDayOf(state, patch.green);
  if (out.verdict == Verdict::closed) {
    // Lists of equal days, of no use to anybody; a course gathers many closed patches.
    std::vector<double>().swap(out.forecast.closesDays);
    std::vector<double>().swap(out.forecast.puttableDays);
  }

  const bool open = out.verdict != Verdict::closed && out.verdict != Verdict::feed;
  if (out.openingDay && open) {
    if (out.puttableOn) {
      out.late = *out.puttableOn > *out.openingDay;
      if (out.late) out.daysLate = static_cast<int>((*out.puttableOn - *out.openingDay).count());
    } else {
      const bool never = out.verdict == Verdict::closing && !forecast.puttableDays.empty();
      out.late = never || out.verdict == Verdict::growing || out.verdict == Verdict::stalled;
    }
  }
  return out;
}

/// The last sighting with a size: what is bare now, as far as anybody saw.
const course::Sighting* lastSized(const course::Patch& patch) {
  for (auto sighting = patch.sightings.rbegin(); sighting != patch.sightings.rend(); ++sighting) {
    if (course::hasArea(*sighting)) return &*sighting;
  }
  return nullptr;
}

GreenChances chancesOf(const std::vector<infill::PatchOnGreen>& patches, double green_m2,
                       double limit, double opening, double today, std::uint64_t seed,
                       const std::optional<infill::ThinStand>& thin) {
  constexpr std::size_t mostLooks = 3;
  GreenChances chances;
  chances.ready = infill::probabilityReady(patches, green_m2, limit, opening, seed, thin);
  if (opening >= today) {
    chances.looks = infill::nextLooks(patches, green_m2, limit, opening, today, seed, mostLooks);
  }
  return chances;
}

GreenProgress greenOf(const course::CourseState& state, const course::Green& green,
                      const Progress& progress, const Calendar& calendar, KeptWork& kept) {
  GreenProgress out;
  out.green = green.name;
  out.area_m2 = green.shape.empty() ? 0.0 : geo::groundArea_m2(green.shape);
  out.openingDay = openingDayOf(state, green.name);

  out.looked = looked(state, green.name);
  const auto thin = thinStandOf(state, green.name, calendar);
  std::vector<const PatchProgress*> counted;
  std::vector<BarePatch> bare;
  std::vector<infill::PatchOnGreen> onGreen;
  for (const PatchProgress& patch : progress.patches) {
    if (patch.green != green.name || patch.verdict == Verdict::closed) continue;
    ++out.openPatches;
    out.latePatches += patch.late ? 1 : 0;
    const auto kind = std::find(allKinds.begin(), allKinds.end(), patch.kind);
    ++out.openByKind[static_cast<std::size_t>(kind - allKinds.begin())];
    if (patch.zone != course::Zone::green || !countsAsBare(patch.kind)) continue;
    onGreen.push_back({&patch.story->history, &patch.forecast});
    counted.push_back(&patch);
    if (!patch.area_m2) {
      ++out.patchesWithoutSize;
      continue;
    }
    const course::Sighting* sighting = lastSized(*state.patch(patch.patch));
    const double creep_mm_d = patch.edgeCreep_mm_d ? patch.edgeCreep_mm_d->value : 0.0;
    bare.push_back(
        {carried(*patch.area_m2, calendar.today() - patch.story->lastSizeDay, creep_mm_d),
         sighting == nullptr ? geo::GlobeShape{} : course::shapeOf(*sighting)});
  }
  Inputs covered;
  covered.add(green.shape);
  for (const BarePatch& patch : bare) covered.add(patch.area_m2).add(patch.shape);
  out.bare_m2 = kept.bare_m2.get(covered.digest(), [&] { return bareArea_m2(green.shape, bare); });
  if (!out.looked) out.bare_m2.u.reset();
  if (!(out.area_m2 > 0.0)) return out;
  out.bareShare = (1.0 / out.area_m2) * out.bare_m2;
  std::optional<infill::ThinStand> besides;
  if (thin) {
    out.frames = thin->frames;
    // Thrown at random, they fall on patches, too.
    const double share = std::max(0.0, thin->share.value - out.bareShare.value);
    out.thinShare = measure::Measured{share, thin->share.u};
    besides = infill::ThinStand{share, thin->share.u.value_or(0.0), thin->day};
  }
  if (!out.openingDay || !out.looked) return out;
  const double limit = green.bareShareLimit.value_or(state.course.bareShareLimit);
  const double opening = calendar.endOf(*out.openingDay);
  if (onGreen.empty() && !besides) {
    out.probabilityReady = 1.0;
    return out;
  }
  Inputs inputs;
  for (const PatchProgress* patch : counted) inputs.add(patch->story->inputs);
  inputs.add(out.area_m2).add(limit).add(opening).add(calendar.today());
  inputs.addNumber(seedOf(green.name)).addNumber(besides ? 1 : 0);
  if (besides) inputs.add(besides->share).add(besides->u).add(besides->day);
  const GreenChances& chances = kept.chances.get(inputs.digest(), [&] {
    return chancesOf(onGreen, out.area_m2, limit, opening, calendar.today(), seedOf(green.name),
                     besides);
  });
  out.probabilityReady = chances.ready;
  for (const infill::NextLook& look : chances.looks) {
    const PatchProgress& patch = *counted[look.patch];
    out.lookNext.push_back({patch.patch, patch.label, patch.heading, whyLook(patch, calendar)});
  }
  return out;
}

void addRain(const course::CourseState& state, const Calendar& calendar, Progress& progress,
             measure::UnitSystem units) {
  if (state.rain.empty()) return;
  constexpr int shownDays = 14;
  double sum_mm = 0.0;
  for (int back = shownDays - 1; back >= 0; --back) {
    RainDay day{calendar.on() - std::chrono::days(back), 0.0, {}};
    for (const course::Water& rain : state.rain) {
      if (calendar.dateOf(rain.from) == day.on) day.amount_mm += rain.amount_mm;
    }
    day.text = measure::write({day.amount_mm, std::nullopt}, measure::Quantity::rain, units);
    sum_mm += day.amount_mm;
    progress.rain.push_back(std::move(day));
  }
  progress.rainText = measure::write({sum_mm, std::nullopt}, measure::Quantity::rain, units);
}

void addNotes(const course::CourseState& state, const Settings& settings, Progress& progress) {
  progress.notes = settings.notes();
  if (state.incomplete) {
    progress.notes.push_back(
        "Incomplete: some records were made by a newer version and are left out here.");
  }
  if (!state.unusable.empty()) {
    const int n = static_cast<int>(state.unusable.size());
    progress.notes.push_back(
        capital(counted(n, "record", "records")) +
        (n == 1 ? " could not be used; it is kept." : " could not be used; they are kept."));
  }
}

/// What may be one patch, told in the notes as far as a reader takes it in.
void addSamePatches(const course::CourseState& state, Progress& progress,
                    measure::UnitSystem units) {
  constexpr std::size_t mostTold = 5;
  progress.samePatches = openPatches(state, progress, units).pairs();
  for (std::size_t i = 0; i < std::min(progress.samePatches.size(), mostTold); ++i) {
    const SamePair& pair = progress.samePatches[i];
    progress.notes.push_back(
        fmt::format("Same patch? {} and {}: {}", pair.heading, pair.otherHeading, pair.reason));
  }
  if (progress.samePatches.size() > mostTold) {
    progress.notes.push_back(
        fmt::format("And {} more pairs that may be one patch.",
                    count(static_cast<int>(progress.samePatches.size() - mostTold))));
  }
}

}  // namespace

Progress progress(const course::CourseState& state, measure::Date on, measure::UnitSystem units) {
  KeptWork kept;
  return progress(state, on, units, kept);
}

Progress progress(const course::CourseState& state, measure::Date on, measure::UnitSystem units,
                  KeptWork& kept) {
  const Calendar calendar(state, on);
  const Settings settings(state.course.settings);
  Progress out;
  out.on = on;
  out.incomplete = state.incomplete;
  out.courseName = state.course.name;
  out.openingDay = state.course.openingDay;
  Seasons seasons(state, calendar, settings);
  std::vector<std::shared_ptr<PatchStory>> stories;
  for (const course::Patch& patch : state.patches) {
    stories.push_back(storyOf(state, patch, calendar, settings, seasons, kept));
  }
  std::vector<infill::PatchForecast> forecasts;
  forecastTogether(state, stories, forecasts, kept);
  for (std::size_t i = 0; i < stories.size(); ++i) {
    out.patches.push_back(
        progressOf(state, state.patches[i], calendar, stories[i], std::move(forecasts[i])));
  }
  std::sort(out.patches.begin(), out.patches.end(),
            [](const PatchProgress& a, const PatchProgress& b) {
              return std::tie(a.green, a.patch) < std::tie(b.green, b.patch);
            });
  for (PatchProgress& patch : out.patches) writePatch(patch, state, calendar, units);
  for (const course::Green& green : state.greens) {
    out.greens.push_back(greenOf(state, green, out, calendar, kept));
  }
  std::sort(out.greens.begin(), out.greens.end(),
            [](const GreenProgress& a, const GreenProgress& b) { return a.green < b.green; });
  for (GreenProgress& green : out.greens) writeGreen(green, state, out, units);
  addRain(state, calendar, out, units);
  addNotes(state, settings, out);
  addSamePatches(state, out, units);
  writeHeadline(out);
  kept.endRound();
  return out;
}

PatchFinder openPatches(const course::CourseState& state, const Progress& progress,
                        measure::UnitSystem units) {
  std::set<std::string_view> closed;
  for (const PatchProgress& patch : progress.patches) {
    if (patch.verdict == Verdict::closed) closed.insert(patch.patch);
  }
  return PatchFinder(
      state, [&](const course::Patch& patch) { return !closed.contains(patch.id); }, units);
}

}  // namespace swardwalk::answers
