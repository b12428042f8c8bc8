#pragma once

#include <optional>
#include <string>
#include <vector>

#include "common/answers/progress.h"
#include "common/answers/stock.h"
#include "common/measure/measured.h"

namespace swardwalk::answers {

/// What became of a green's nitrogen in the last `days`, and what that means for a green
/// that goes off colour. g/m2; absent where a feed's analysis or the green's area is not
/// known.
struct GreenNitrogen {
  std::string green;
  int days = 0;
  std::optional<double> given_g_m2;
  std::optional<double> clipped_g_m2;
  std::optional<double> washed_g_m2;
  std::optional<measure::Measured> left_g_m2;  ///< free now, at most
  std::optional<double> drained_mm;            ///< of water through the rootzone

  // Ready to show.
  std::string text;                   ///< "5.2 g/m² given, 0.9 clipped, 1.1 washed down, …"
  std::vector<std::string> warnings;  ///< over or under what the stage takes; never a cap
  std::optional<double> feeding_kg;   ///< product for one feeding of the whole green, if advised
  std::string feeding;                ///< the same in words
  std::vector<std::string>
      hungry;  ///< where places are off colour: what to ask, what speaks for hunger
};

/// Of every green that was fed, or has hungry places. `progress` is of the same state.
std::vector<GreenNitrogen> nitrogenOfGreens(const course::CourseState& state, const Stock& stock,
                                            const Progress& progress, measure::UnitSystem units);

}  // namespace swardwalk::answers
