#pragma once

#include <optional>
#include <string_view>

#include "common/answers/chart.h"
#include "common/answers/progress.h"

namespace swardwalk::answers {

/// Bare share of a green in per cent over time: what was seen on each day on which
/// somebody looked, from today to opening day what is expected with its central 80 %, and
/// the share that opens the green. Patches are summed (overlaps, which `progress` counts
/// once, are rare), with doubt that grows while nobody measures them; those without a size are left
/// out; their forecasts are taken as independent, and as normal for the band. Nothing for a green
/// without an area, or that nobody has walked yet: unknown is not nothing.
std::optional<Chart> greenChart(const course::CourseState& state, const Progress& progress,
                                std::string_view green);

}  // namespace swardwalk::answers
