#pragma once

#include <vector>

#include "common/answers/plan.h"
#include "common/answers/stock.h"

namespace swardwalk::answers {

/// Sums of the plan's lines by green and material, values added and independent doubts in
/// squares; a line whose amount is unknown is left out, and the patch warns of it.
std::vector<MaterialTotal> totalsOf(const std::vector<PlannedPatch>& patches,
                                    measure::UnitSystem units);

/// The same over all greens, by material; `green` is empty.
std::vector<MaterialTotal> sumsOf(const std::vector<PlannedPatch>& patches,
                                  measure::UnitSystem units);

/// What to order: packs so that stock and order last in nine of ten cases, with the
/// least left over.
std::vector<OrderLine> orderOf(const std::vector<MaterialTotal>& sums,
                               const course::CourseState& state, const Stock& stock,
                               measure::UnitSystem units);

}  // namespace swardwalk::answers
