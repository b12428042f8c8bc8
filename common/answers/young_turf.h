#pragma once

#include <string>
#include <vector>

#include "common/answers/calendar.h"
#include "common/answers/progress.h"
#include "common/answers/settings.h"

namespace swardwalk::answers {

/// What stays off seed, young grass and laid turf and for how long; when it is rolled and
/// first cut at which height, and how it comes down to the height at which its green was cut
/// last. Sentences; none where nothing young grows. Common practice, no source.
std::vector<std::string> youngTurfWords(const course::CourseState& state,
                                        const PatchProgress& patch, const Calendar& calendar,
                                        const Settings& settings, measure::UnitSystem units);

}  // namespace swardwalk::answers
