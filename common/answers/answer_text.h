#pragma once

#include "common/answers/calendar.h"
#include "common/answers/history.h"
#include "common/answers/progress.h"

/// Turns the numbers of an answer into its ready text. Nothing is computed here that
/// could change a number.
namespace swardwalk::answers {

std::string_view word(Look look);
std::string_view word(Weight weight);

/// What its symbol shows: closed, sown, up, closing or open.
Look lookOf(const PatchProgress& patch);

/// Fills everything under "Ready to show" of a patch whose numbers, `forecast`, `sowing`,
/// `openingDay` and `story` are set.
void writePatch(PatchProgress& patch, const course::CourseState& state, const Calendar& calendar,
                measure::UnitSystem units);

/// Why a patch is worth the next look: "one sighting so far". Needs nothing that is ready to
/// show.
std::string whyLook(const PatchProgress& patch, const Calendar& calendar);

/// The same for a green; `progress` holds the written patches.
void writeGreen(GreenProgress& green, const course::CourseState& state, const Progress& progress,
                measure::UnitSystem units);

/// Headline, date, opening day: the most urgent thing first. A place whose cause must be
/// mended comes before other lost seed, that before patches that grow, those before greens
/// that are not on course, then late patches, overdue seed and hungry places.
void writeHeadline(Progress& progress);

}  // namespace swardwalk::answers
