#pragma once

#include <vector>

#include "common/answers/calendar.h"
#include "common/answers/plan.h"

namespace swardwalk::answers {

/// What can hurt people or animals in this plan, each with its source; only what applies.
/// Limits and weights are those of the sources; label, local rules and licensed practice
/// go before them.
std::vector<Caution> cautionsFor(const Plan& plan, const Progress& progress,
                                 const course::CourseState& state, const Calendar& calendar);

}  // namespace swardwalk::answers
