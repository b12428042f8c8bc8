#include "common/answers/tasks.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <tuple>

#include "common/answers/history.h"
#include "common/answers/materials.h"
#include "common/answers/sentences.h"
#include "common/answers/young_turf.h"
#include "common/repair/loads.h"

namespace swardwalk::answers {
namespace {

using measure::Quantity;
using repair::Choice;
using repair::SowingState;

/// The last sighting that said how deep sand lies, unless it was raked back since.
const course::Sighting* sandLying(const course::Patch& records) {
  const course::Sighting* last = nullptr;
  for (const course::Sighting& sighting : records.sightings) {
    if (sighting.sandLying_mm) last = &sighting;
  }
  if (last == nullptr || !(*last->sandLying_mm > 0.0)) return nullptr;
  const bool cleared = std::any_of(
      records.repairs.begin(), records.repairs.end(),
      [&](const course::Repair& repair) { return repair.rakedBack && repair.done >= last->seen; });
  return cleared ? nullptr : last;
}

/// What takes an open gap before the grass does (common practice, no source); nothing
/// where seed lies that is about to come up, or turf.
std::string whatElseMayGrow(const PatchProgress& patch) {
  if (patch.sowing == SowingState::waiting || patch.sowing == SowingState::due) return {};
  if (patch.story->history.turfedDay) return {};
  const std::vector<std::string>& wanted = patch.story->zoneSpecies;
  const bool annualBelongs = mayGrow("annual bluegrass", wanted);
  return annualBelongs ? "moss, algae or weeds may take the gap"
                       : "annual bluegrass, moss or weeds may take the gap";
}

std::optional<double> thickness_mm(const course::CourseState& state, const std::string& turf) {
  for (const turf::Turf& one : state.turfs) {
    if (one.name == turf) return one.thickness_mm;
  }
  return std::nullopt;
}

/// A choice in a list of work; what is left alone is there for the sand on it.
std::string workWord(const PlannedPatch& patch) {
  if (patch.choice == Choice::leave) return "clear the sand";
  return std::string(repair::word(patch.choice));
}

}  // namespace

std::vector<WorkLine> workOf(const std::vector<PlannedPatch>& patches) {
  std::vector<WorkLine> out;
  for (std::size_t i = 0; i < patches.size(); ++i) {
    const PlannedPatch& patch = patches[i];
    if (!patch.toDo && !patch.sandLying_l) continue;
    auto line = std::find_if(out.begin(), out.end(), [&](const WorkLine& one) {
      return one.green == patch.green && one.who == patch.who;
    });
    if (line == out.end()) {
      line = out.insert(line, {patch.green, patch.who, {}, {}});
      line->text = patch.who.empty() ? "nobody named: " : patch.who + ": ";
    } else {
      line->text += ", ";
    }
    line->patches.push_back(i);
    line->text += fmt::format("{} {}", patch.label, workWord(patch));
  }
  std::stable_sort(out.begin(), out.end(), [](const WorkLine& a, const WorkLine& b) {
    return std::tuple(std::string_view(a.green), a.who.empty(), std::string_view(a.who)) <
           std::tuple(std::string_view(b.green), b.who.empty(), std::string_view(b.who));
  });
  return out;
}

Tasks tasksFor(const PatchProgress& patch, const course::Patch* records,
               const course::CourseState& state, Choice choice, const Calendar& calendar,
               const Settings& settings, measure::UnitSystem units) {
  Tasks out;
  const course::Sighting* sand = records == nullptr ? nullptr : sandLying(*records);
  if (sand != nullptr) {
    const auto area = areaOf(*sand, settings);
    const measure::Measured depth_mm{*sand->sandLying_mm, settings["depth_u_mm"]};
    const std::string depth = measure::write(depth_mm, Quantity::depth, units).text();
    if (area) {
      // A millimetre on a square metre is a litre.
      measure::Measured litres{area->value * depth_mm.value, std::nullopt};
      if (area->u) {
        litres.u = std::hypot(*area->u * depth_mm.value, area->value * *depth_mm.u);
      }
      out.sandLying_l = litres;
      out.words.push_back(
          fmt::format("Clear the sand off the living grass within days: {}, about {}.", depth,
                      measure::write(litres, Quantity::volume, units).text()));
    } else {
      out.words.push_back(
          fmt::format("Clear the sand off the living grass within days: {}.", depth));
    }
  }
  if (choice == Choice::mendTheCauseFirst) {
    out.words.emplace_back("Find where the water comes from before anything is sown.");
  }
  if (choice == Choice::leave && patch.verdict != infill::Verdict::feed) {
    const std::string others = whatElseMayGrow(patch);
    if (!others.empty()) {
      out.words.push_back(fmt::format("Until it touches, {}: look at it each round.", others));
    }
  }
  for (std::string& words : youngTurfWords(state, patch, calendar, settings, units)) {
    out.words.push_back(std::move(words));
  }
  return out;
}

std::vector<CartLoad> loadsOf(const std::vector<PlannedPatch>& patches,
                              const course::CourseState& state, const Settings& settings,
                              measure::UnitSystem units) {
  std::vector<CartLoad> out;
  if (!state.course.cartLimit_kg || !(*state.course.cartLimit_kg > 0.0)) return out;
  constexpr double gram_kg = 1e-3;
  std::vector<std::string> greens;
  for (const PlannedPatch& patch : patches) {
    if (std::find(greens.begin(), greens.end(), patch.green) == greens.end()) {
      greens.push_back(patch.green);
    }
  }
  for (const std::string& green : greens) {
    std::vector<const PlannedPatch*> carried;
    std::vector<double> weights_kg;
    for (const PlannedPatch& patch : patches) {
      if (patch.green != green) continue;
      double weight_kg = 0.0;
      if (patch.seed_g) weight_kg += gram_kg * patch.seed_g->value;
      if (patch.feed_g) weight_kg += gram_kg * patch.feed_g->value;
      if (patch.fill_kg) weight_kg += patch.fill_kg->value;
      if (patch.turf_m2) {
        // A millimetre on a square metre is a litre.
        const double turf_l = patch.turf_m2->value * thickness_mm(state, patch.turf).value_or(0.0);
        weight_kg += turf_l * settings["turf_kg_l"];
      }
      if (!(weight_kg > 0.0)) continue;
      carried.push_back(&patch);
      weights_kg.push_back(weight_kg);
    }
    for (const repair::Load& load : repair::cartLoads(weights_kg, *state.course.cartLimit_kg)) {
      CartLoad cart;
      cart.number = static_cast<int>(out.size()) + 1;
      cart.green = green;
      cart.weight_kg = load.weight_kg;
      cart.text = measure::write({load.weight_kg, std::nullopt}, Quantity::fillMass, units);
      std::vector<std::string> labels;
      for (const repair::Load::Part& part : load.parts) {
        cart.parts.push_back(
            {carried[part.item]->patch, carried[part.item]->label, part.weight_kg});
        labels.push_back(carried[part.item]->label);
      }
      cart.labels = listed(labels);
      out.push_back(std::move(cart));
    }
  }
  return out;
}

std::vector<std::string> unweighedNotes(const std::vector<PlannedPatch>& patches,
                                        const course::CourseState& state) {
  std::vector<std::string> out;
  if (!state.course.cartLimit_kg) return out;
  for (const turf::Turf& turf : state.turfs) {
    const bool planned = std::any_of(patches.begin(), patches.end(), [&](const auto& patch) {
      return patch.turf_m2 && patch.turf == turf.name;
    });
    if (planned && !turf.thickness_mm) {
      out.push_back(fmt::format(
          "{} is not weighed in the cart loads: its thickness is not recorded.", turf.name));
    }
  }
  return out;
}

}  // namespace swardwalk::answers
