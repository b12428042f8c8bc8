#include "common/answers/grass_settings.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cctype>

namespace swardwalk::answers {
namespace {

using turf::Range;
using turf::Species;

struct Figure {
  std::string_view ending;
  Range Species::*of;
  std::string_view unit;
  std::string_view what;
};

constexpr std::array figures{
    Figure{"_seeds_per_g", &Species::seedsPerGram, "a gram", "seeds"},
    Figure{"_seed_g_m2", &Species::patchRate_g_m2, "g/m²", "on small patches, fresh seed"},
    Figure{"_live_per_cm2", &Species::livePerSquareCentimetre, "a cm²", "seedlings wanted"},
    Figure{"_up_at_10_c_d", &Species::daysUpAt10_c, "days", "from sowing until up at 10 °C"},
    Figure{"_up_at_15_c_d", &Species::daysUpAt15_c, "days", "from sowing until up at 15 °C"},
    Figure{"_up_at_20_c_d", &Species::daysUpAt20_c, "days", "from sowing until up at 20 °C"},
    Figure{"_puttable_after_d", &Species::sownToPuttable_d, "days",
           "from sowing until puttable, from 13 °C on"},
    Figure{"_creep_cool_mm_d", &Species::creepCool_mm_d, "mm a day", "edge creep at 8 to 12 °C"},
    Figure{"_creep_warm_mm_d", &Species::creepWarm_mm_d, "mm a day", "edge creep at 15 to 22 °C"},
};

constexpr std::string_view coldest = "_coldest_c";

std::string stemOf(const Species& species) {
  std::string stem;
  for (const char letter : species.name) {
    stem +=
        letter == ' ' ? '_' : static_cast<char>(std::tolower(static_cast<unsigned char>(letter)));
  }
  return stem;
}

std::string settingOf(const Species& species, const Figure& figure) {
  // Two rates have names of their own among the trade's defaults.
  if (figure.of == &Species::patchRate_g_m2) {
    if (species.name == "creeping bentgrass") return "seed_bent_g_m2";
    if (species.name == "perennial ryegrass") return "seed_ryegrass_g_m2";
  }
  return stemOf(species).append(figure.ending);
}

/// "Perennial ryegrass, seeds"
std::string describe(const Species& species, std::string_view what) {
  return fmt::format("{}: {}", species.name, what);
}

std::vector<GrassSetting> made() {
  std::vector<GrassSetting> out;
  // A figure is mistyped by a power of ten more often than a grass is that unusual.
  constexpr double farthest = 4.0;
  constexpr double coldestLow_c = -5.0;
  constexpr double coldestHigh_c = 25.0;
  for (const Species& species : turf::allSpecies()) {
    for (const Figure& figure : figures) {
      const Range& range = species.*figure.of;
      std::string name = settingOf(species, figure);
      if (name.starts_with("seed_")) continue;
      out.push_back({std::move(name), range.best, range.low / farthest, range.high * farthest,
                     figure.unit, describe(species, figure.what), species.source});
    }
    out.push_back({stemOf(species).append(coldest), species.coldestGrows_c, coldestLow_c,
                   coldestHigh_c, "°C", describe(species, "grows from a daily mean of"),
                   species.source});
  }
  return out;
}

}  // namespace

const std::vector<GrassSetting>& grassSettings() {
  static const std::vector<GrassSetting> all = made();
  return all;
}

std::string rateSettingOf(const Species& species) {
  const auto rate = std::find_if(figures.begin(), figures.end(), [](const Figure& figure) {
    return figure.of == &Species::patchRate_g_m2;
  });
  return settingOf(species, *rate);
}

std::vector<Species> grassesWith(
    const std::function<std::optional<double>(std::string_view)>& ownOf) {
  std::vector<Species> out(turf::allSpecies().begin(), turf::allSpecies().end());
  for (Species& species : out) {
    for (const Figure& figure : figures) {
      const auto own = ownOf(settingOf(species, figure));
      if (!own) continue;
      const double factor = *own / (species.*figure.of).best;
      species.*figure.of = factor * species.*figure.of;
      // What creeps faster in the warm is expected to where nobody knows how warm it is.
      if (figure.of == &Species::creepWarm_mm_d) {
        species.creepUnknown_mm_d = factor * species.creepUnknown_mm_d;
      }
    }
    if (const auto own = ownOf(stemOf(species).append(coldest))) species.coldestGrows_c = *own;
  }
  return out;
}

}  // namespace swardwalk::answers
