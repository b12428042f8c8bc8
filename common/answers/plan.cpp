#include "common/answers/plan.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <unordered_map>

#include "common/answers/calendar.h"
#include "common/answers/cautions.h"
#include "common/answers/growth.h"
#include "common/answers/history.h"
#include "common/answers/materials.h"
#include "common/answers/order.h"
#include "common/answers/plan_text.h"
#include "common/answers/sentences.h"
#include "common/answers/tasks.h"

namespace swardwalk::answers {
namespace {

using repair::Choice;

/// Less seed than this is too little to spread by itself (common practice, no source).
constexpr double littleSeed_g = 20.0;

std::string placeOf(const PatchProgress& patch) {
  if (patch.green.empty()) return "this place, whose green is not known";
  if (patch.zone == course::Zone::green) return patch.green;
  return fmt::format("the {} of {}", course::word(patch.zone), patch.green);
}

repair::Case caseOf(const PatchProgress& patch, const AtHand& atHand,
                    const course::CourseState& state, const Calendar& calendar,
                    const Settings& settings) {
  const PatchStory& story = *patch.story;
  repair::Case out;
  out.kind = patch.kind;
  out.left = patch.forecast;
  if (patch.openingDay) out.openingDay = calendar.endOf(*patch.openingDay);
  out.today = calendar.today();
  out.wantedProbability = state.course.wantedProbability;
  out.deepest_mm = deepest_mm(story);
  out.sowing = patch.sowing;
  out.timesWashed = story.timesWashed;
  if (const auto seen = calendar.dateOf(story.lastSeenDay)) {
    // Whole days: what was seen a fortnight ago is that old all day long.
    out.daysSinceSeen = static_cast<double>((calendar.on() - *seen).count());
  }
  out.seedForZone = atHand.seedLot != nullptr;
  out.noSeedReason = atHand.noSeedReason;
  out.turfForZone = atHand.turf != nullptr;
  out.fillKnown = atHand.fill != nullptr;
  out.feedKnown = atHand.feed != nullptr;
  const turf::Species* species =
      atHand.seedLot == nullptr
          ? nullptr
          : mainSpecies(state, atHand.seedLot->name, story.zoneSpecies, settings);
  if (species != nullptr) {
    out.sownToPuttable_d = turf::sownToPuttableFor(*species, story.mean_c);
    out.daysUntilUp = turf::daysUpFor(*species, story.mean_c);
  }
  return out;
}

/// Was what a person chose done since? Then the choice has had its day.
bool doneSince(const course::Choice& choice, Choice what, const course::Patch& patch) {
  return std::any_of(patch.repairs.begin(), patch.repairs.end(), [&](const course::Repair& done) {
    if (!(choice.source.order() < done.source.order())) return false;
    switch (what) {
      case Choice::overseed:
      case Choice::fillAndSow:
        return !done.seedLot.empty() || done.seed_g.has_value();
      case Choice::turf:
        return done.turf_m2.has_value();
      case Choice::feed:
        return !done.feed.empty() || done.feed_g.has_value();
      case Choice::leave:
      case Choice::mendTheCauseFirst:
      case Choice::lookAgain:
        return false;
    }
    return false;
  });
}

struct Chosen {
  Choice choice;
  std::string by;
  std::string why;
  std::string who;
};

std::optional<Chosen> chosenByPerson(const course::Patch& patch) {
  const course::Choice* last = nullptr;
  for (const course::Choice& choice : patch.choices) {
    if (last == nullptr || last->source.order() < choice.source.order()) last = &choice;
  }
  if (last == nullptr) return std::nullopt;
  const auto what = repair::choiceNamed(last->choice);
  if (!what || doneSince(*last, *what, patch)) return std::nullopt;
  return Chosen{*what, last->source.author.empty() ? "a person" : last->source.author, last->why,
                last->who};
}

void take(PlannedPatch& planned, Material&& material, measure::UnitSystem units) {
  using measure::Quantity;
  if (material.seedLot != nullptr) planned.seedLot = material.seedLot->name;
  if (material.fill != nullptr) planned.fill = material.fill->name;
  if (material.feed != nullptr) planned.feed = material.feed->name;
  if (material.turf != nullptr) planned.turf = material.turf->name;
  planned.seed_g = material.seed_g;
  planned.fill_l = material.fill_l;
  planned.fill_kg = material.fill_kg;
  planned.feed_g = material.feed_g;
  planned.nitrogen_g_m2 = material.nitrogen_g_m2;
  planned.phosphorus_g_m2 = material.phosphorus_g_m2;
  planned.potassium_g_m2 = material.potassium_g_m2;
  planned.turf_m2 = material.turf_m2;
  planned.turfPieces = material.turfPieces;
  planned.warnings = std::move(material.warnings);
  const auto text = [units](const std::optional<measure::Measured>& amount, Quantity quantity) {
    return amount ? measure::write(*amount, quantity, units) : measure::Written{};
  };
  planned.seedText = text(planned.seed_g, Quantity::seedMass);
  planned.fillText = text(planned.fill_l, Quantity::volume);
  planned.fillMassText = text(planned.fill_kg, Quantity::fillMass);
  planned.feedText = text(planned.feed_g, Quantity::seedMass);
  planned.turfText = text(planned.turf_m2, Quantity::area);
}

/// A person's reason, else what the computation found.
std::string personsReason(const Chosen& chosen, const std::string& computed,
                          Choice computedChoice) {
  if (!chosen.why.empty()) {
    const bool ends = chosen.why.ends_with('.') || chosen.why.ends_with('?');
    return ends ? chosen.why : chosen.why + ".";
  }
  if (chosen.choice == computedChoice) return computed;
  return fmt::format("Chosen by {}; computed was {}: {}", chosen.by, repair::word(computedChoice),
                     computed);
}

PlannedPatch planPatch(const course::CourseState& state, const Stock& stock,
                       const PatchProgress& patch, const course::Patch* records,
                       const Calendar& calendar, const Settings& settings,
                       measure::UnitSystem units) {
  const AtHand hand = atHand(state, stock, patch.story->zoneSpecies, placeOf(patch), settings);
  const repair::Case patchCase = caseOf(patch, hand, state, calendar, settings);
  repair::Advice advice = repair::advise(patchCase);
  if (advice.because == repair::Advice::Because::hungry &&
      fedSinceSeen(*patch.story, calendar, settings)) {
    advice.choice = Choice::leave;
  }

  PlannedPatch out;
  out.patch = patch.patch;
  out.label = patch.label;
  out.heading = patch.heading;
  out.green = patch.green;
  out.kind = patch.kind;
  out.look = patch.look;
  out.late = patch.late;
  out.sowing = patch.sowing;
  out.areaText = patch.area;
  out.weight = patch.weight;
  for (const repair::Option& advised : advice.options) {
    PlannedOption option;
    option.choice = advised.choice;
    option.possible = advised.possible;
    if (advised.possible) {
      option.closesOn = calendar.dateOf(advised.closesDay);
      option.puttableOn = calendar.dateOf(advised.puttableDay);
      option.probabilityReady = advised.probabilityReady;
    }
    writeOption(option, advised,
                materialFor(advised.choice, patch, hand, state, calendar.on(), settings), patch,
                calendar, units);
    out.options.push_back(std::move(option));
  }
  out.choice = advice.choice;
  out.advised = advice.choice;
  out.chosenBy = "computed";
  out.reason = reasonOf(out, patch, advice, patchCase, calendar, settings, units);
  if (const auto chosen = records == nullptr ? std::nullopt : chosenByPerson(*records)) {
    out.reason = personsReason(*chosen, out.reason, advice.choice);
    out.choice = chosen->choice;
    out.chosenByPerson = true;
    out.chosenBy = chosen->by;
    out.who = chosen->who;
    out.why = chosen->why;
  }
  take(out, materialFor(out.choice, patch, hand, state, calendar.on(), settings), units);
  Tasks tasks = tasksFor(patch, records, state, out.choice, calendar, settings, units);
  out.tasks = std::move(tasks.words);
  if (out.turfPieces) out.tasks.push_back(piecesText(*out.turfPieces, *hand.turf, units));
  if (auto rate = sownRateWords(state, patch, records, settings, units)) {
    out.warnings.push_back(std::move(*rate));
  }
  out.sandLying_l = tasks.sandLying_l;
  out.choiceText = choiceText(out.choice);
  out.toDo = out.choice != Choice::leave;
  for (const PlannedOption& option : out.options) {
    if (option.choice == out.choice && option.puttableOn) {
      out.coveredText = farWords(*option.puttableOn, calendar.on());
    }
  }
  return out;
}

void addGreens(Plan& plan) {
  std::map<std::string, PlanGreen> greens;
  int toDo = 0;
  int alone = 0;
  for (const PlannedPatch& patch : plan.patches) {
    PlanGreen& green = greens[patch.green];
    green.green = patch.green;
    (patch.toDo ? green.toDo : green.alone) += 1;
    (patch.toDo ? toDo : alone) += 1;
  }
  for (auto& [name, green] : greens) {
    green.text = fmt::format("{} to do, {} left alone", green.toDo, green.alone);
    plan.greens.push_back(std::move(green));
  }
  if (plan.patches.empty()) {
    plan.headline = "Nothing to mend: no patch is open";
  } else if (toDo == 0) {
    plan.headline = fmt::format("Nothing to do today, {} left alone", alone);
  } else {
    plan.headline = fmt::format("{} to do today, {} left alone", toDo, alone);
  }
}

}  // namespace

Plan plan(const course::CourseState& state, const Progress& progress, measure::UnitSystem units) {
  const Calendar calendar(state, progress.on);
  const Settings settings(state.course.settings);
  Plan out;
  out.on = progress.on;
  out.incomplete = progress.incomplete;
  out.notes = progress.notes;
  const Stock stock(state);
  for (std::string& note : stock.notes()) out.notes.push_back(std::move(note));
  for (std::string& note : settings.ownGrassFigures()) out.notes.push_back(std::move(note));
  std::unordered_map<std::string_view, const course::Patch*> records;
  for (const course::Patch& patch : state.patches) records.emplace(patch.id, &patch);
  for (const PatchProgress& patch : progress.patches) {
    if (patch.verdict == infill::Verdict::closed) continue;
    const auto known = records.find(patch.patch);
    out.patches.push_back(planPatch(state, stock, patch,
                                    known == records.end() ? nullptr : known->second, calendar,
                                    settings, units));
  }
  const bool little = std::any_of(
      out.patches.begin(), out.patches.end(),
      [](const PlannedPatch& patch) { return patch.seed_g && patch.seed_g->value < littleSeed_g; });
  if (little) {
    out.notes.push_back(
        fmt::format("Less than {:.0f} g of seed for a patch is taken from stock, mixed with dry "
                    "sand to spread it evenly.",
                    littleSeed_g));
  }
  out.totals = totalsOf(out.patches, units);
  out.all = sumsOf(out.patches, units);
  out.order = orderOf(out.all, state, stock, units);
  out.work = workOf(out.patches);
  out.loads = loadsOf(out.patches, state, settings, units);
  for (std::string& note : unweighedNotes(out.patches, state)) out.notes.push_back(std::move(note));
  out.nitrogen = nitrogenOfGreens(state, stock, progress, units);
  out.cautions = cautionsFor(out, progress, state, calendar);
  addGreens(out);
  return out;
}

}  // namespace swardwalk::answers
