#pragma once

#include <string>
#include <vector>

#include "common/answers/progress.h"

namespace swardwalk::answers {

/// One line of a patch's life, newest first.
struct LifeLine {
  measure::Instant when;
  std::string date;    ///< "11 April"
  std::string who;
  std::string what;    ///< "seen, by tape", "sown, Bent 26-4, 19 g"
  measure::Written amount;
  Weight weight = Weight::calm;
};

struct PatchLife {
  PatchProgress progress;
  std::vector<LifeLine> lines;
  std::string chartSvg;  ///< area over time with fit, band and opening day
};

/// Nothing for a patch that is not there.
std::optional<PatchLife> patchLife(const course::CourseState& state, const Progress& progress,
                                   std::string_view patch, measure::UnitSystem units);

}  // namespace swardwalk::answers
