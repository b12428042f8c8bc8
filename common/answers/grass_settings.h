#pragma once

#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "common/turf/species.h"

/// What is known of grasses, as settings that a course may change.
namespace swardwalk::answers {

/// One figure of one grass.
struct GrassSetting {
  std::string name;  ///< "perennial_ryegrass_seeds_per_g"
  double standard = 0.0;
  double low = 0.0;
  double high = 0.0;
  std::string_view unit;
  std::string what;
  std::string_view origin;
};

/// Every figure of every grass, made once; lives as long as the program.
const std::vector<GrassSetting>& grassSettings();

/// The setting of a grass's rate on small patches.
std::string rateSettingOf(const turf::Species& species);

/// The grasses with a course's own figures: `ownOf` gives those that it changed. The range
/// about a changed figure moves with it in proportion.
std::vector<turf::Species> grassesWith(
    const std::function<std::optional<double>(std::string_view)>& ownOf);

}  // namespace swardwalk::answers
