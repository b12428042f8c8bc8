#include "common/answers/choosing.h"

#include <algorithm>
#include <set>

#include "common/answers/plan_text.h"

namespace swardwalk::answers {

using repair::Choice;

std::vector<ChoiceCard> choiceCards(const PlannedPatch& patch) {
  std::vector<ChoiceCard> cards;
  const auto add = [&](Choice choice, std::vector<std::string> lines, bool possible) {
    cards.push_back({choice, choiceText(choice), std::move(lines), possible,
                     choice == patch.advised, choice == patch.choice});
  };
  for (const PlannedOption& option : patch.options) {
    add(option.choice, option.lines, option.possible);
  }
  const auto addMissing = [&](Choice choice, const char* line) {
    const bool there = std::any_of(cards.begin(), cards.end(),
                                   [&](const ChoiceCard& card) { return card.choice == choice; });
    if (!there) add(choice, {line}, true);
  };
  addMissing(Choice::mendTheCauseFirst, "no material before the cause is found");
  addMissing(Choice::lookAgain, "measure it before anything goes out");
  return cards;
}

std::vector<std::string> crewOf(const course::CourseState& state) {
  std::set<std::string> names;
  const auto authorsOf = [&](const auto& events) {
    for (const auto& event : events) names.insert(event.source.author);
  };
  authorsOf(state.rounds);
  authorsOf(state.frames);
  authorsOf(state.greenRepairs);
  for (const course::Patch& patch : state.patches) {
    authorsOf(patch.sightings);
    authorsOf(patch.closed);
    authorsOf(patch.repairs);
    authorsOf(patch.choices);
    for (const course::Choice& choice : patch.choices) names.insert(choice.who);
  }
  names.erase("");
  return {names.begin(), names.end()};
}

}  // namespace swardwalk::answers
