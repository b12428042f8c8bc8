#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <cmath>

#include "common/answers/plan_text.h"
#include "common/answers/sentences.h"

namespace swardwalk::answers {
namespace {

using measure::Quantity;
using repair::Choice;
using Because = repair::Advice::Because;

const PlannedOption* optionOf(const PlannedPatch& planned, Choice choice) {
  for (const PlannedOption& option : planned.options) {
    if (option.choice == choice) return &option;
  }
  return nullptr;
}

std::string done(Choice choice) {
  switch (choice) {
    case Choice::overseed:
      return "sown";
    case Choice::fillAndSow:
      return "filled and sown";
    case Choice::turf:
      return "turfed";
    case Choice::feed:
      return "fed";
    default:
      return "left alone";
  }
}

class Reason {
 public:
  Reason(const PlannedPatch& planned, const PatchProgress& patch, const Calendar& calendar)
      : planned_(planned), patch_(patch), calendar_(calendar) {}

  std::string date(measure::Date day) const { return dateWords(day, calendar_.on()); }

  /// ", seven weeks late", ", in time", or nothing without an opening day.
  std::string against(measure::Date day) const {
    if (!patch_.openingDay) return {};
    const int late = static_cast<int>((day - *patch_.openingDay).count());
    return late > 0 ? fmt::format(", {} late", duration(late)) : std::string(", in time");
  }

  /// "Left alone it touches on 2 July, seven weeks late"
  std::string leftAlone() const {
    std::string head;
    if (patch_.sowing == repair::SowingState::washedOut && patch_.story->wash) {
      const auto lost = calendar_.dateOf(patch_.story->wash->day);
      if (lost) head = fmt::format("Seed washed out {}; ", date(*lost));
    }
    std::string text;
    if (patch_.verdict == infill::Verdict::growing || patch_.verdict == infill::Verdict::stalled) {
      text = patch_.answer;
    } else if (const PlannedOption* leave = optionOf(planned_, Choice::leave);
               leave != nullptr && leave->closesOn) {
      text = fmt::format("Left alone it touches {}", onWords(*leave->closesOn, calendar_.on()));
      if (patch_.openingDay && *leave->closesOn <= *patch_.openingDay && leave->puttableOn) {
        text =
            fmt::format("Left alone it is puttable {}{}",
                        byWords(*leave->puttableOn, calendar_.on()), against(*leave->puttableOn));
        // In time by its median is not in time as surely as was wanted.
        if (planned_.choice != Choice::leave && *leave->puttableOn <= *patch_.openingDay &&
            !chance(Choice::leave).empty()) {
          text += fmt::format(" in {}", chance(Choice::leave));
        }
      } else {
        text += against(*leave->closesOn);
      }
    } else if (!patch_.forecast.closesDays.empty()) {
      text = "Left alone it does not close in ten years";
    } else {
      text = "Left alone nobody can say when it closes";
    }
    if (patch_.sowing == repair::SowingState::overdue && patch_.story->sowing.sownDay) {
      const auto sown = calendar_.dateOf(*patch_.story->sowing.sownDay);
      head = fmt::format("Sown {} and not up in time; ", date(*sown));
    }
    if (!head.empty()) text.front() = static_cast<char>(std::tolower(text.front()));
    return head + text;
  }

  /// "filled and sown today it is puttable by 24 June, in time"
  std::string today(Choice choice) const {
    const PlannedOption* option = optionOf(planned_, choice);
    if (option == nullptr || !option->puttableOn) {
      return fmt::format("{} today it has the best start", done(choice));
    }
    return fmt::format("{} today it is puttable {}", done(choice),
                       byWords(*option->puttableOn, calendar_.on()));
  }

  std::string chance(Choice choice) const {
    const PlannedOption* option = optionOf(planned_, choice);
    return option != nullptr && option->probabilityReady
               ? measure::writeChance(*option->probabilityReady)
               : std::string();
  }

 private:
  const PlannedPatch& planned_;
  const PatchProgress& patch_;
  const Calendar& calendar_;
};

std::string grams(const measure::Measured& amount_g, measure::UnitSystem units) {
  return measure::write(amount_g, Quantity::seedMass, units).text();
}

}  // namespace

std::string piecesText(int pieces, const turf::Turf& turf, measure::UnitSystem units) {
  // What comes out of a hole cutter or a plugger; larger ones are cut as sods.
  constexpr double plug_m2 = 0.05;
  const bool plugs = *turf.piece_m2 <= plug_m2;
  std::string size = measure::writeSet(*turf.piece_m2, Quantity::area, units);
  if (turf.thickness_mm) {
    size +=
        fmt::format(", {} thick", measure::writeSet(*turf.thickness_mm, Quantity::depth, units));
  }
  return fmt::format("Lay {} {} of {}: flush with the grass, butted tight and rolled.", pieces,
                     plugs ? (pieces == 1 ? "plug" : "plugs") : (pieces == 1 ? "piece" : "pieces"),
                     size);
}

std::optional<std::string> sownRateWords(const course::CourseState& state,
                                         const PatchProgress& patch, const course::Patch* records,
                                         const Settings& settings, measure::UnitSystem units) {
  using repair::SowingState;
  const bool lies = patch.sowing == SowingState::waiting || patch.sowing == SowingState::due ||
                    patch.sowing == SowingState::overdue;
  if (!lies || records == nullptr || !patch.area_m2 || !(patch.area_m2->value > 0.0)) {
    return std::nullopt;
  }
  const course::Repair* sowing = nullptr;
  for (const course::Repair& repair : records->repairs) {
    if (repair.seed_g && repair.seedLot == patch.story->sownLot) sowing = &repair;
  }
  const auto lot =
      sowing == nullptr
          ? state.seedLots.end()
          : std::find_if(state.seedLots.begin(), state.seedLots.end(),
                         [&](const turf::SeedLot& one) { return one.name == sowing->seedLot; });
  if (lot == state.seedLots.end()) return std::nullopt;
  const auto wanted_g = seedFor_g(*patch.area_m2, *lot, settings);
  if (!wanted_g || !(wanted_g->value > 0.0)) return std::nullopt;
  constexpr double thin = 0.5;
  constexpr double thick = 2.0;
  const double share = *sowing->seed_g / wanted_g->value;
  if (share >= thin && share <= thick) return std::nullopt;
  return fmt::format("sown with {} where {} were wanted: expect {}",
                     measure::writeSet(*sowing->seed_g, Quantity::seedMass, units),
                     grams({wanted_g->value, std::nullopt}, units),
                     share < thin ? "a thin stand, and sow again between the plants"
                                  : "crowded seedlings that rot easily, and keep them dry");
}

std::string choiceText(Choice choice) { return capital(std::string(repair::word(choice))); }

measure::Written writeAmount(const measure::Measured& amount_kg, MaterialSort sort,
                             measure::UnitSystem units) {
  constexpr double kilogramsFrom_kg = 1.0;
  if (sort == MaterialSort::fill || amount_kg.value >= kilogramsFrom_kg)
    return measure::write(amount_kg, Quantity::fillMass, units);
  return measure::write(1000.0 * amount_kg, Quantity::seedMass, units);
}

std::string reasonOf(const PlannedPatch& planned, const PatchProgress& patch,
                     const repair::Advice& advice, const repair::Case& patchCase,
                     const Calendar& calendar, const Settings& settings,
                     measure::UnitSystem units) {
  const Reason reason(planned, patch, calendar);
  const auto days = [](double value) { return static_cast<int>(std::floor(value + 1e-9)); };
  switch (advice.because) {
    case Because::hungry: {
      if (patch.story->fedDay && advice.choice == Choice::leave) {
        const double shows = *patch.story->fedDay + settings["fed_shows_after_d"];
        const auto fed = calendar.dateOf(patch.story->fedDay);
        const auto look = calendar.dateOf(shows);
        return fmt::format("Fed {}; it shows by {}.", reason.date(*fed), reason.date(*look));
      }
      return fmt::format("Off colour, not bare: {} of soluble nitrogen is what sand holds.",
                         measure::writeSet(settings["soluble_n_g_m2"], Quantity::areaRate, units));
    }
    case Because::noSize:
      return fmt::format("{} without a size: measure it, and the amounts follow.",
                         capital(counted(patch.sightings, "sighting", "sightings")));
    case Because::oldSighting:
      return fmt::format("Not seen for {}: look before a cart goes out.",
                         counted(days(patchCase.daysSinceSeen), "day", "days"));
    case Because::washedTwice:
      return fmt::format("Washed out {} times: mend where the water comes from, not the gap.",
                         count(patchCase.timesWashed));
    case Because::waitingForSeed: {
      const auto sown = calendar.dateOf(patch.story->sowing.sownDay);
      const auto& until = patch.story->sowing.daysUntilUp;
      const std::string when = sown ? reason.date(*sown) : std::string("already");
      if (!until) return fmt::format("Sown {}; wait for warmer days.", when);
      const auto due = calendar.dateOf(*patch.story->sowing.sownDay + until->best);
      const auto last = calendar.dateOf(*patch.story->sowing.sownDay + until->high);
      return fmt::format("Sown {}, due {}; overdue only after {}.", when,
                         due ? reason.date(*due) : "", last ? reason.date(*last) : "");
    }
    case Because::makesItAlone: {
      const std::string chance = reason.chance(Choice::leave);
      if (chance.empty()) return reason.leftAlone() + ".";
      return fmt::format("{}: ready in {}.", reason.leftAlone(), chance);
    }
    case Because::seedMakesIt:
      return fmt::format("{}; {}{}.", reason.leftAlone(), reason.today(advice.choice),
                         reason.chance(advice.choice).empty()
                             ? std::string()
                             : ", ready in " + reason.chance(advice.choice));
    case Because::turfMakesIt: {
      const std::string seed = patch.openingDay ? fmt::format("seed would come too late for {}",
                                                              reason.date(*patch.openingDay))
                                                : std::string("no seed fits");
      return fmt::format("{}; {}, {}.", reason.leftAlone(), seed, reason.today(Choice::turf));
    }
    case Because::bestOfNone:
      if (advice.choice == Choice::leave) {
        return fmt::format("{}; no work makes it likelier{}.", reason.leftAlone(),
                           reason.chance(Choice::leave).empty()
                               ? std::string()
                               : " than " + reason.chance(Choice::leave));
      }
      return fmt::format("{}; {}.", reason.leftAlone(), reason.today(advice.choice));
    case Because::nothingFits:
      return fmt::format("{}; {}.", reason.leftAlone(),
                         patchCase.noSeedReason.empty() ? std::string("nothing at hand fits")
                                                        : patchCase.noSeedReason);
  }
  return {};
}

void writeOption(PlannedOption& option, const repair::Option& advised, const Material& material,
                 const PatchProgress& patch, const Calendar& calendar, measure::UnitSystem units) {
  if (!advised.possible) {
    option.lines = {advised.whyNot};
    option.text = advised.whyNot;
    return;
  }
  const auto date = [&](measure::Date day) { return dateWords(day, calendar.on()); };
  if (option.choice == Choice::leave) {
    if (patch.verdict == infill::Verdict::feed) {
      option.lines.push_back("stays off colour");
    } else if (patch.openingDay && (!option.closesOn || *option.closesOn > *patch.openingDay)) {
      option.lines.push_back(fmt::format("not closed on {}", date(*patch.openingDay)));
    } else if (option.closesOn) {
      option.lines.push_back(fmt::format("closes {}", farWords(*option.closesOn, calendar.on())));
    } else {
      option.lines.push_back("closing day unknown");
    }
  } else if (option.puttableOn) {
    option.lines.push_back(fmt::format("puttable {}", farWords(*option.puttableOn, calendar.on())));
  }
  if (option.probabilityReady) {
    option.lines.push_back(
        fmt::format("ready in {}", measure::writeChance(*option.probabilityReady)));
  }
  std::vector<std::string> takes;
  if (material.seed_g) takes.push_back(grams(*material.seed_g, units) + " seed");
  if (material.fill_l) {
    takes.push_back(measure::write(*material.fill_l, Quantity::volume, units).text() + " fill");
  }
  if (material.turf_m2) {
    takes.push_back(measure::write(*material.turf_m2, Quantity::area, units).text() + " turf");
  }
  if (material.feed_g) takes.push_back(grams(*material.feed_g, units) + " feed");
  if (option.choice == Choice::leave) takes.push_back("no material");
  for (std::string& line : takes) option.lines.push_back(std::move(line));
  for (const std::string& line : option.lines) {
    option.text += (option.text.empty() ? "" : "; ") + line;
  }
}

}  // namespace swardwalk::answers
