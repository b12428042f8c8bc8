#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "common/answers/answer_text.h"
#include "common/answers/sentences.h"

namespace swardwalk::answers {
namespace {

using infill::Verdict;
using measure::Quantity;
using repair::SowingState;

bool isOpen(const PatchProgress& patch) { return patch.verdict != Verdict::closed; }

struct ChanceWord {
  int from_percent = 0;
  std::string_view word;
  Weight weight = Weight::calm;
};

// The page's rule: from 95 on course, from 80 likely, from 50 in doubt.
constexpr std::array chanceWords{
    ChanceWord{95, "On course", Weight::good}, ChanceWord{80, "Likely", Weight::calm},
    ChanceWord{50, "In doubt", Weight::watch}, ChanceWord{0, "Not on course", Weight::stop}};

const ChanceWord& chanceWord(double probability) {
  const int shown = wholePercent(probability);
  return *std::find_if(chanceWords.begin(), chanceWords.end(),
                       [shown](const ChanceWord& word) { return shown >= word.from_percent; });
}

std::string listedWithCount(const std::vector<std::pair<int, std::string_view>>& counts) {
  std::string text;
  for (const auto& [n, what] : counts) {
    if (n == 0) continue;
    if (!text.empty()) text += ", ";
    text += fmt::format("{} {}", n, what);
  }
  return text;
}

/// "Hollow 1 and 11": the green's name once.
std::string closedOn(const std::string& green, std::vector<const PatchProgress*> closed) {
  if (closed.empty()) return {};
  std::sort(closed.begin(), closed.end(), [](const PatchProgress* a, const PatchProgress* b) {
    return naturalLess(a->label, b->label);
  });
  std::vector<std::string> names;
  const std::string head = fmt::format("{} ", green);
  for (const PatchProgress* patch : closed) {
    const bool cut = !names.empty() && patch->heading.starts_with(head);
    names.push_back(cut ? patch->heading.substr(head.size()) : patch->heading);
  }
  return fmt::format("{} closed: {}", closed.size(), listed(names));
}

struct Urgent {
  std::string text;
  std::string green;
  Weight weight = Weight::calm;
};

/// Patches that fit, by green, in the order of the answer.
template <class Fits>
std::map<std::string, std::vector<const PatchProgress*>> byGreen(const Progress& progress,
                                                                 Fits fits) {
  std::map<std::string, std::vector<const PatchProgress*>> found;
  for (const PatchProgress& patch : progress.patches) {
    if (isOpen(patch) && fits(patch)) found[patch.green].push_back(&patch);
  }
  return found;
}

/// The green with most of them; the first by name among equals.
template <class Groups>
auto largest(const Groups& groups) {
  return std::max_element(groups.begin(), groups.end(), [](const auto& a, const auto& b) {
    return a.second.size() < b.second.size();
  });
}

std::string place(const std::string& green) { return green.empty() ? "no green" : green; }

Urgent mostUrgent(const Progress& progress) {
  const auto washedOften = [](const PatchProgress& patch) {
    return patch.sowing == SowingState::washedOut &&
           patch.story->timesWashed >= repair::washesForCause;
  };
  if (const auto often = byGreen(progress, washedOften); !often.empty()) {
    const auto& [green, patches] = *largest(often);
    const PatchProgress& patch = *patches.front();
    return {fmt::format("Find where the water comes from at {}: it washed out {} times.",
                        patch.heading, count(patch.story->timesWashed)),
            green, Weight::stop};
  }
  const auto lost = byGreen(
      progress, [](const PatchProgress& patch) { return patch.sowing == SowingState::washedOut; });
  if (!lost.empty()) {
    const auto& [green, patches] = *largest(lost);
    if (patches.size() == 1) {
      const PatchProgress& patch = *patches.front();
      return {fmt::format("Sow {} again: its seed was washed out.", patch.heading), green,
              Weight::stop};
    }
    return {fmt::format("Sow {} again: the seed of {} patches was washed out.", place(green),
                        count(static_cast<int>(patches.size()))),
            green, Weight::stop};
  }
  const auto growing = byGreen(
      progress, [](const PatchProgress& patch) { return patch.verdict == Verdict::growing; });
  if (!growing.empty()) {
    const auto& [green, patches] = *largest(growing);
    const PatchProgress& patch = *patches.front();
    std::string answer = patch.answer;
    answer.front() = 'g';
    return {fmt::format("{} is {}.", patch.heading, answer), green, Weight::stop};
  }
  const GreenProgress* worst = nullptr;
  for (const GreenProgress& green : progress.greens) {
    if (green.probabilityReady && green.weight != Weight::good && green.weight != Weight::calm &&
        (worst == nullptr || *green.probabilityReady < *worst->probabilityReady)) {
      worst = &green;
    }
  }
  if (worst != nullptr) {
    return {fmt::format("{} is {}: ready on {} in {} of cases.", worst->green,
                        worst->weight == Weight::stop ? "not on course" : "in doubt",
                        dateWords(*worst->openingDay, progress.on),
                        measure::writeChance(*worst->probabilityReady)),
            worst->green, worst->weight};
  }
  const auto late = byGreen(progress, [](const PatchProgress& patch) { return patch.late; });
  if (!late.empty()) {
    const auto& [green, patches] = *largest(late);
    const int n = static_cast<int>(patches.size());
    const std::string day = dateWords(*patches.front()->openingDay, progress.on);
    const std::string text = n == 1
                                 ? fmt::format("{} is late for {}.", patches.front()->heading, day)
                                 : fmt::format("{} patches on {} are late for {}.",
                                               capital(count(n)), place(green), day);
    return {text, green, Weight::watch};
  }
  const auto overdue = byGreen(
      progress, [](const PatchProgress& patch) { return patch.sowing == SowingState::overdue; });
  if (!overdue.empty()) {
    const auto& [green, patches] = *largest(overdue);
    std::string answer = patches.front()->answer;
    answer.front() = 's';
    return {fmt::format("{} is {}: look whether the seed is up.", patches.front()->heading, answer),
            green, Weight::watch};
  }
  const auto hungry = byGreen(progress, [](const PatchProgress& patch) {
    return patch.verdict == Verdict::feed && patch.weight == Weight::watch;
  });
  if (!hungry.empty()) {
    const auto& [green, patches] = *largest(hungry);
    std::vector<std::string> names;
    for (const PatchProgress* patch : patches) names.push_back(patch->heading);
    const std::string what = names.size() <= 3
                                 ? listed(names)
                                 : fmt::format("{} hungry places on {}",
                                               count(static_cast<int>(names.size())), place(green));
    return {fmt::format("Feed {} today.", what), green, Weight::watch};
  }
  if (progress.greens.empty()) {
    return {"No greens yet: bring in the course's outlines first.", {}, Weight::calm};
  }
  if (progress.patches.empty()) {
    return {"No patch is marked yet: walk the greens and look.", {}, Weight::calm};
  }
  for (const GreenProgress& green : progress.greens) {
    if (green.looked) continue;
    return {fmt::format("Walk {}: nobody has looked at it yet.", green.green), green.green,
            Weight::watch};
  }
  const bool anyOpen = std::any_of(progress.patches.begin(), progress.patches.end(), isOpen);
  if (!anyOpen) return {"Nothing is open: no patch needs anybody today.", {}, Weight::good};
  return {"Nothing is urgent: what is open is closing in time.", {}, Weight::good};
}

}  // namespace

void writeGreen(GreenProgress& green, const course::CourseState& state, const Progress& progress,
                measure::UnitSystem units) {
  if (!green.looked) {
    green.answer = "Not walked yet";
    green.weight = Weight::watch;
  } else if (green.probabilityReady) {
    const ChanceWord& word = chanceWord(*green.probabilityReady);
    green.answer = word.word;
    green.weight = word.weight;
    green.chance = measure::writeChance(*green.probabilityReady);
  } else {
    green.answer = green.openingDay ? "Cannot say yet" : "No opening day";
    green.weight = Weight::calm;
  }
  if (green.openingDay) {
    const std::string day = dateWords(*green.openingDay, progress.on);
    green.chanceOf = fmt::format("chance of being ready on {}", day);
    if (green.probabilityReady) green.readyText = fmt::format("Ready on {}: {}", day, green.chance);
  }
  // An outline is as exact as whoever drew it; nobody said how well.
  green.areaText = measure::write({green.area_m2, std::nullopt}, Quantity::area, units);
  green.bareText = measure::write(green.bare_m2, Quantity::area, units);
  if (green.area_m2 > 0.0) {
    green.bareShareFigures = measure::write(green.bareShare, Quantity::share, units);
    green.bareShareText = fmt::format("{} bare", green.bareShareFigures.text());
  }
  green.summary = fmt::format("{} {}, {:.1f} % bare", green.areaText.figure, green.areaText.unit,
                              100.0 * green.bareShare.value);
  if (!green.looked) {
    green.bareText = {};
    green.bareShareFigures = {};
    green.bareShareText = "nobody has looked yet";
    green.summary = fmt::format("{}, nobody has looked yet", green.areaText.text());
    if (green.openingDay) green.readyText = "Nobody has looked yet";
    green.chanceOf = "nobody has looked yet";
  }
  if (green.thinShare) {
    green.thinText = fmt::format("thin stand: {} bare in {}",
                                 measure::write(*green.thinShare, Quantity::share, units).text(),
                                 counted(green.frames, "frame", "frames"));
    green.summary += ", " + green.thinText;
  }
  std::vector<std::string> looks;
  for (const LookNext& look : green.lookNext) {
    looks.push_back(fmt::format("{} ({})", look.heading, look.why));
  }
  green.lookNextText = listed(looks);
  if (const course::Green* found = state.green(green.green)) {
    green.speciesText = listed(found->species);
  }

  int lost = 0;
  int overdue = 0;
  int due = 0;
  int waiting = 0;
  int up = 0;
  std::vector<const PatchProgress*> closed;
  for (const PatchProgress& patch : progress.patches) {
    if (patch.green != green.green) continue;
    if (!isOpen(patch)) {
      closed.push_back(&patch);
      continue;
    }
    lost += patch.sowing == SowingState::washedOut ? 1 : 0;
    overdue += patch.sowing == SowingState::overdue ? 1 : 0;
    due += patch.sowing == SowingState::due ? 1 : 0;
    waiting += patch.sowing == SowingState::waiting ? 1 : 0;
    up += patch.sowing == SowingState::up ? 1 : 0;
  }
  green.sownText = listedWithCount(
      {{lost, "lost"}, {overdue, "overdue"}, {due, "due"}, {waiting, "waiting"}, {up, "up"}});
  green.sownWeight = lost > 0 ? Weight::stop : overdue > 0 ? Weight::watch : Weight::calm;
  green.closedText = closedOn(green.green, closed);
  green.openText =
      fmt::format("{} open {}", green.openPatches, green.openPatches == 1 ? "patch" : "patches");
  green.lateText =
      green.latePatches == 0 ? "none late" : fmt::format("{} late", count(green.latePatches));
  green.lateWeight = green.latePatches == 0 ? Weight::calm : Weight::stop;
  if (!green.looked) {
    green.openText = "not walked yet";
    green.lateText.clear();
  }
}

void writeHeadline(Progress& progress) {
  const Urgent urgent = mostUrgent(progress);
  progress.headline = urgent.text;
  progress.headlineGreen = urgent.green;
  progress.headlineWeight = urgent.weight;
  progress.dateText = longDate(progress.on);
  if (progress.openingDay) {
    const int days = static_cast<int>((*progress.openingDay - progress.on).count());
    const std::string day = dateWords(*progress.openingDay, progress.on);
    progress.openingText =
        days > 0    ? fmt::format("{} {} to opening day, {}", days, days == 1 ? "day" : "days", day)
        : days == 0 ? std::string("Opening day is today")
                    : fmt::format("Opening day was {}", day);
  }
}

}  // namespace swardwalk::answers
