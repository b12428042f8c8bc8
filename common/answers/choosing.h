#pragma once

#include <string>
#include <vector>

#include "common/answers/plan.h"
#include "common/course/state.h"

/// What a person needs who decides otherwise than the plan.
namespace swardwalk::answers {

/// One thing that can be done with a patch, ready to show.
struct ChoiceCard {
  repair::Choice choice = repair::Choice::leave;
  std::string title;               ///< "Fill and sow"
  std::vector<std::string> lines;  ///< what it comes to and takes, or why it is not possible
  bool possible = true;
  bool advised = false;  ///< what the computation recommends
  bool chosen = false;   ///< what the plan holds now
};

/// The options of the plan, then to mend the cause first and to look again: those two can
/// always be chosen.
std::vector<ChoiceCard> choiceCards(const PlannedPatch& patch);

/// Who may be given work: everybody who recorded something or was given work, by name.
std::vector<std::string> crewOf(const course::CourseState& state);

}  // namespace swardwalk::answers
