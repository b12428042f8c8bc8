#pragma once

#include <optional>
#include <string>
#include <vector>

#include "common/answers/chart.h"
#include "common/answers/progress.h"

namespace swardwalk::answers {

/// What a line of a patch's life tells; pages put sightings and repairs apart by it.
enum class LifeSort { sighting, repair, cameUp, rain, closed };

/// One line of a patch's life, newest first.
struct LifeLine {
  measure::Instant when;
  std::string date;  ///< "11 April"
  std::string who;
  std::string what;  ///< "seen, by tape", "sown, Bent 26-4, 19 g"
  measure::Written amount;
  Weight weight = Weight::calm;
  LifeSort sort = LifeSort::sighting;
  std::string note;  ///< what the person wrote
};

/// A picture of a patch, named as records name it.
struct PhotoLine {
  journal::Digest photo{};
  journal::Digest small{};  ///< for a list; the picture itself where there is no smaller one
  std::string text;         ///< "11 April, Ansa: below the bunker"
};

struct PatchLife {
  PatchProgress progress;
  std::vector<LifeLine> lines;
  std::vector<PhotoLine> photos;  ///< newest first
  /// Where it was joined of several: "Hollow 7 and Hollow 12b were joined by Ansa."; else empty.
  std::string joinedText;
  Chart chart;           ///< area over time with fit, band and opening day
  std::string chartSvg;  ///< the same, drawn in the sun colours
};

/// Nothing for a patch that is not there.
std::optional<PatchLife> patchLife(const course::CourseState& state, const Progress& progress,
                                   std::string_view patch, measure::UnitSystem units);

}  // namespace swardwalk::answers
