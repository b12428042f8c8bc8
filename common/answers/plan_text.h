#pragma once

#include <optional>
#include <string>

#include "common/answers/calendar.h"
#include "common/answers/materials.h"
#include "common/answers/plan.h"
#include "common/repair/choice.h"

/// Sentences of the plan: nothing is computed here that could change a number.
namespace swardwalk::answers {

/// Why this choice, in one sentence that names the number that decided.
std::string reasonOf(const PlannedPatch& planned, const PatchProgress& patch,
                     const repair::Advice& advice, const repair::Case& patchCase,
                     const Calendar& calendar, const Settings& settings, measure::UnitSystem units);

/// The lines of an option's card: what it comes to, how likely, what it takes.
void writeOption(PlannedOption& option, const repair::Option& advised, const Material& material,
                 const PatchProgress& patch, const Calendar& calendar, measure::UnitSystem units);

/// "Lay 26 plugs of 0.01 m², 20 mm thick: flush with the grass, butted tight and rolled."
std::string piecesText(int pieces, const turf::Turf& turf, measure::UnitSystem units);

/// Where seed lies that was sown at less than half or more than twice the rate wanted, that
/// it was and what to expect; else nothing. `records` may be null.
std::optional<std::string> sownRateWords(const course::CourseState& state,
                                         const PatchProgress& patch, const course::Patch* records,
                                         const Settings& settings, measure::UnitSystem units);

/// "Fill and sow".
std::string choiceText(repair::Choice choice);

/// A fill, seed or feed amount in the unit in which it is handled: seed and feed under a
/// kilogram in grams.
measure::Written writeAmount(const measure::Measured& amount_kg, MaterialSort sort,
                             measure::UnitSystem units);

}  // namespace swardwalk::answers
