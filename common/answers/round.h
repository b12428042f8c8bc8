#pragma once

#include <optional>
#include <string>
#include <vector>

#include "common/answers/progress.h"
#include "common/geo/position.h"

namespace swardwalk::answers {

/// A patch to look at, and why.
struct RoundStop {
  std::string patch;
  std::string label;
  std::string heading;
  std::string green;
  std::optional<geo::Position> place;  ///< its own, else its green's middle
  std::string why;                     ///< one sentence
  Weight weight = Weight::calm;
};

/// What to look at first, in walking order.
struct Round {
  measure::Date on;
  std::vector<RoundStop> stops;  ///< those without any place come last
  double walk_m = 0.0;           ///< from where one stands, where that is known, to the last
  bool incomplete = false;

  // Ready to show.
  std::string headline;  ///< "Seven places to look at, 212 m to walk"
  std::vector<std::string> notes;
};

/// The open patches that want a look, each with the first of these reasons that holds:
/// seed that rain may have taken; after a storm since it was last seen, a place that
/// washed before, one on a bank or an apron, and seed that is not up; seed that is due or
/// overdue and was not looked at today; a patch that grows; one without a size; one that
/// nobody saw for `look_again_after_d`. A storm is what washes seed off a slope (settings
/// `rain_slope_mm_d`, `rain_slope_mm_h`). Heights are not known, so that low ends count
/// only as far as they are aprons.
///
/// Ordered by `geo::walkingOrder` from `from`, else from where the walk is shortest.
Round round(const course::CourseState& state, const Progress& progress,
            const std::optional<geo::Position>& from);

/// The answer as contract.md writes it.
std::string roundJson(const Round& round);
std::string roundText(const Round& round);
std::string roundCsv(const Round& round);

}  // namespace swardwalk::answers
