#pragma once

#include <optional>
#include <string>
#include <vector>

#include "common/answers/calendar.h"
#include "common/answers/plan.h"
#include "common/answers/settings.h"

namespace swardwalk::answers {

/// What else has to be done or minded at a patch beside its choice, each a sentence.
struct Tasks {
  std::vector<std::string> words;
  std::optional<measure::Measured> sandLying_l;  ///< sand on living grass, to be cleared
};

/// Sand that was seen lying on living grass and not raked back since; how young grass is
/// kept (`youngTurfWords`); what else may grow where a gap is left open; where the water comes
/// from before a place that washed out twice is sown again.
/// `records` is the patch in `state`; may be null.
Tasks tasksFor(const PatchProgress& patch, const course::Patch* records,
               const course::CourseState& state, repair::Choice choice, const Calendar& calendar,
               const Settings& settings, measure::UnitSystem units);

/// Today's work by green and person.
std::vector<WorkLine> workOf(const std::vector<PlannedPatch>& patches);

/// The plan's materials on carts, green by green; none without a weight limit of the
/// course. Turf of unknown thickness is left out.
std::vector<CartLoad> loadsOf(const std::vector<PlannedPatch>& patches,
                              const course::CourseState& state, const Settings& settings,
                              measure::UnitSystem units);

/// Turf of the plan that no load weighs.
std::vector<std::string> unweighedNotes(const std::vector<PlannedPatch>& patches,
                                        const course::CourseState& state);

}  // namespace swardwalk::answers
