#include "common/answers/cautions.h"

#include <fmt/format.h>

#include <algorithm>

#include "common/answers/history.h"

namespace swardwalk::answers {
namespace {

using repair::Choice;

// Guideline weights close to the body (HSE L23).
constexpr double liftAlone_kg = 16.0;
constexpr double stormRecent_d = 1.0;

bool works(const PlannedPatch& patch) {
  return patch.choice != Choice::leave && patch.choice != Choice::lookAgain;
}

bool rainWithin(const course::CourseState& state, const Calendar& calendar, double days) {
  return std::any_of(state.rain.begin(), state.rain.end(), [&](const course::Water& rain) {
    const double from = Calendar::dayOf(rain.from);
    const double to = Calendar::dayOf(rain.to);
    return rain.amount_mm > 0.0 && to > calendar.today() - days - 1.0 && from <= calendar.today();
  });
}

bool heavyPack(const OrderLine& line) {
  return std::any_of(line.packs.begin(), line.packs.end(),
                     [](const repair::PackCount& pack) { return pack.pack_kg > liftAlone_kg; });
}

bool heavyPack(const turf::Packs& packs) {
  return std::any_of(packs.sizes_kg.begin(), packs.sizes_kg.end(),
                     [](double size_kg) { return size_kg > liftAlone_kg; });
}

}  // namespace

std::vector<Caution> cautionsFor(const Plan& plan, const Progress& progress,
                                 const course::CourseState& state, const Calendar& calendar) {
  std::vector<Caution> cautions;
  const auto any = [&](auto fits) {
    return std::any_of(plan.patches.begin(), plan.patches.end(), fits);
  };
  const bool fills = any([](const PlannedPatch& patch) { return !patch.fill.empty(); });
  const bool turfs = any([](const PlannedPatch& patch) { return patch.choice == Choice::turf; });
  if (fills) {
    cautions.push_back(
        {"dust",
         "Dry sand makes fine quartz dust that harms lungs: keep it damp and stay out of the "
         "dust. The limit at work is 0.05 mg/m³ over eight hours in the USA.",
         "29 CFR 1910.1053 (crystalline silica)"});
  }
  if (any([](const PlannedPatch& patch) { return !patch.feed.empty(); })) {
    cautions.push_back(
        {"label",
         "Feed: the label and local rules decide, not this list. Weigh it, spread none before "
         "heavy rain, keep it out of drains and water.",
         "the product's label; \"Read the Label First\", EPA"});
  }
  const bool heavyBags =
      std::any_of(plan.order.begin(), plan.order.end(),
                  [](const OrderLine& line) { return heavyPack(line); }) ||
      std::any_of(state.fills.begin(), state.fills.end(), [&](const turf::Fill& fill) {
        return heavyPack(fill.packs) &&
               any([&](const PlannedPatch& patch) { return patch.fill == fill.name; });
      });
  const double carried_kg = [&] {
    double sum = 0.0;
    for (const PlannedPatch& patch : plan.patches) {
      if (patch.fill_kg) sum = std::max(sum, patch.fill_kg->value);
    }
    return sum;
  }();
  if (heavyBags || turfs || carried_kg > liftAlone_kg) {
    cautions.push_back(
        {"lifting",
         "Wet sand, bags and wet turf are heavy: lift with two, close to the body, or use the "
         "barrow. Guideline weights are 25 kg for men and 16 kg for women, less when twisting.",
         "HSE L23 (manual handling, guideline weights)"});
  }
  const auto dug =
      std::count_if(plan.patches.begin(), plan.patches.end(),
                    [](const PlannedPatch& patch) { return patch.kind == turf::Kind::dug; });
  if (dug > 0) {
    cautions.push_back(
        {"wildlife",
         fmt::format("{} dug by an animal, which may be protected: ask before fencing, moving "
                     "or trapping.",
                     dug == 1 ? "One place was" : fmt::format("{} places were", dug)),
         "local wildlife law; common practice, no source"});
  }
  const bool slope = std::any_of(
      progress.patches.begin(), progress.patches.end(), [&](const PatchProgress& patch) {
        return patch.story->slope && any([&](const PlannedPatch& planned) {
                 return planned.patch == patch.patch && works(planned);
               });
      });
  if (slope) {
    cautions.push_back({"wet banks",
                        "Work on a slope: wet grass and sand slip; keep machines away from deep "
                        "water.",
                        "common practice, no source"});
  }
  if (rainWithin(state, calendar, stormRecent_d)) {
    cautions.push_back(
        {"lightning",
         "After a storm: go in when thunder is heard, and wait 30 minutes after the last of it.",
         "University of Nebraska, severe weather (30-30 rule)"});
  }
  return cautions;
}

}  // namespace swardwalk::answers
