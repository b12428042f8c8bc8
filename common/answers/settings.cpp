#include "common/answers/settings.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cassert>
#include <cctype>
#include <cmath>
#include <limits>
#include <optional>

#include "common/answers/grass_settings.h"

namespace swardwalk::answers {
namespace {

constexpr std::string_view practice = "common practice, no source";
constexpr double none = std::numeric_limits<double>::quiet_NaN();
constexpr std::string_view typicalMean =
    "mean of the month in a typical year; all twelve make forecasts follow the seasons";
constexpr std::string_view typicalOrigin = "none: the recent mean goes on";

constexpr std::array trade{
    Setting{"edge_u_m", 0.02, 0.001, 0.5, "m", "how well a person places the edge of a patch",
            practice},
    Setting{"edge_margin_m", 0.0, 0.0, 0.5, "m", "sown, filled and fed beyond the edge", practice},
    Setting{"turf_margin_m", 0.03, 0.0, 0.5, "m", "cut back beyond a ragged edge before turfing",
            practice},
    Setting{"turf_overlap_share", 0.05, 0.0, 0.5, "of the area",
            "turf or plugs beyond the area, cut off where pieces meet", practice},
    Setting{"depth_u_mm", 2.0, 0.1, 50.0, "mm", "how well a depth is read with a rule", practice},
    Setting{"raked_back_share", 0.5, 0.0, 1.0, "of the hole",
            "what comes back when a dug hole is raked back", practice},
    Setting{"settles_firmed", 0.10, 0.0, 0.5, "of the loose depth",
            "fill settles when it was firmed; a fill's own value comes first",
            "common practice (5 to 15 %), no source"},
    Setting{"soluble_n_g_m2", 0.7, 0.05, 5.0, "g/m²", "soluble nitrogen at one feeding on sand",
            "common practice (0.3 to 1.5), no source"},
    Setting{"fed_shows_after_d", 7.0, 1.0, 60.0, "days",
            "a feeding shows after; no second one is planned before", practice},
    Setting{"soluble_n_most_g_m2", 1.5, 0.1, 10.0, "g/m²",
            "soluble nitrogen that sand holds at one feeding",
            "common practice (0.3 to 1.5), no source"},
    Setting{"n_month_grow_in_low_g_m2", 4.0, 0.0, 30.0, "g/m²",
            "nitrogen that a grow-in takes in 30 days, at least",
            "common practice (4 to 15), no source"},
    Setting{"n_month_grow_in_high_g_m2", 15.0, 1.0, 60.0, "g/m²",
            "nitrogen that a grow-in takes in 30 days, at most",
            "common practice (4 to 15), no source"},
    Setting{"n_month_mature_low_g_m2", 1.5, 0.0, 30.0, "g/m²",
            "nitrogen that a mature green takes in 30 days, at least",
            "Agron. J. 104:1589 (15 to 49 kg/ha)"},
    Setting{"n_month_mature_high_g_m2", 4.9, 0.5, 30.0, "g/m²",
            "nitrogen that a mature green takes in 30 days, at most",
            "Agron. J. 104:1589 (15 to 49 kg/ha)"},
    Setting{"clippings_n_share", 0.04, 0.01, 0.08, "of dry grass", "nitrogen in clippings",
            "asianturfgrass.com, growth ratio"},
    Setting{"roots_mm", 150.0, 20.0, 400.0, "mm", "depth of the roots", practice},
    Setting{"sand_holds_share", 0.12, 0.07, 0.25, "of the volume",
            "water that sand holds against drainage", "FAO-56 (0.07 to 0.17), from memory"},
    Setting{"slow_n_release_d", 56.0, 1.0, 365.0, "days", "over which slow nitrogen comes free",
            practice},
    Setting{"evaporation_mm_d", 2.5, 0.0, 12.0, "mm a day",
            "evaporation on a day without a temperature", practice},
    Setting{"turf_evaporation_share", 0.9, 0.2, 1.3, "of reference", "evaporation of mown grass",
            "FAO-56 table 12, from memory"},
    Setting{"seed_bent_g_m2", 8.0, 1.0, 50.0, "g/m²",
            "creeping bentgrass on small patches, fresh seed",
            "common practice (5 to 12), no source"},
    Setting{"seed_ryegrass_g_m2", 35.0, 5.0, 150.0, "g/m²",
            "perennial ryegrass on banks, fresh seed", "common practice (25 to 50), no source"},
    Setting{"seed_establishment", 0.5, 0.01, 1.0, "of live seeds",
            "live seeds that make a plant on a patch", practice},
    Setting{"seed_test_valid_d", 365.0, 30.0, 3650.0, "days", "a germination test is believed for",
            practice},
    Setting{"slope_from_percent", 8.0, 1.0, 100.0, "per cent",
            "a surround of known slope sheds rain from; of unknown slope a bank or an apron does",
            practice},
    Setting{"rain_slope_mm_h", 10.0, 1.0, 500.0, "mm an hour",
            "rain that washes fresh seed off a slope", practice},
    Setting{"rain_slope_mm_d", 20.0, 1.0, 1000.0, "mm a day",
            "rain that washes fresh seed off a slope", practice},
    Setting{"rain_flat_mm_h", 40.0, 1.0, 500.0, "mm an hour",
            "rain that washes fresh seed off flat sand", practice},
    Setting{"mower_off_after_up_d", 14.0, 0.0, 60.0, "days",
            "mowers stay off seedlings after they are up", "common practice (10 to 21), no source"},
    Setting{"first_cut_mm", 10.0, 3.0, 40.0, "mm", "height of the first cut of young grass",
            "common practice (7 to 13), no source"},
    Setting{"step_down_low_mm_week", 0.8, 0.1, 10.0, "mm a week",
            "the cut of young grass is lowered by, at least",
            "common practice (0.8 to 1.6), no source"},
    Setting{"step_down_high_mm_week", 1.6, 0.1, 10.0, "mm a week",
            "the cut of young grass is lowered by, at most",
            "common practice (0.8 to 1.6), no source"},
    Setting{"turf_roots_after_d", 14.0, 3.0, 60.0, "days", "mowers stay off laid turf for",
            "common practice (10 to 21), no source"},
    Setting{"turf_kg_l", 1.6, 0.5, 2.2, "kg a litre", "weight of moist turf grown on sand",
            "common practice, no source"},
    Setting{"look_again_after_d", 7.0, 1.0, 60.0, "days",
            "a patch is on the round's list again after", practice},
    Setting{"puttable_after_touching_d", 14.0, 0.0, 120.0, "days",
            "from the gap being green until it is knit and at height", practice},
    Setting{"typical_january_c", none, -60.0, 50.0, "°C", typicalMean, typicalOrigin},
    Setting{"typical_february_c", none, -60.0, 50.0, "°C", typicalMean, typicalOrigin},
    Setting{"typical_march_c", none, -60.0, 50.0, "°C", typicalMean, typicalOrigin},
    Setting{"typical_april_c", none, -60.0, 50.0, "°C", typicalMean, typicalOrigin},
    Setting{"typical_may_c", none, -60.0, 50.0, "°C", typicalMean, typicalOrigin},
    Setting{"typical_june_c", none, -60.0, 50.0, "°C", typicalMean, typicalOrigin},
    Setting{"typical_july_c", none, -60.0, 50.0, "°C", typicalMean, typicalOrigin},
    Setting{"typical_august_c", none, -60.0, 50.0, "°C", typicalMean, typicalOrigin},
    Setting{"typical_september_c", none, -60.0, 50.0, "°C", typicalMean, typicalOrigin},
    Setting{"typical_october_c", none, -60.0, 50.0, "°C", typicalMean, typicalOrigin},
    Setting{"typical_november_c", none, -60.0, 50.0, "°C", typicalMean, typicalOrigin},
    Setting{"typical_december_c", none, -60.0, 50.0, "°C", typicalMean, typicalOrigin},
};

std::vector<Setting> wholeTable() {
  std::vector<Setting> whole(trade.begin(), trade.end());
  for (const GrassSetting& grass : grassSettings()) {
    whole.push_back(
        {grass.name, grass.standard, grass.low, grass.high, grass.unit, grass.what, grass.origin});
  }
  return whole;
}

const Setting* find(std::string_view name) {
  const std::span<const Setting> table = allSettings();
  const auto found = std::find_if(table.begin(), table.end(),
                                  [&](const Setting& setting) { return setting.name == name; });
  return found == table.end() ? nullptr : &*found;
}

}  // namespace

std::span<const Setting> allSettings() {
  static const std::vector<Setting> whole = wholeTable();
  return whole;
}

std::string settingsTable() {
  std::string out = "| setting | default | from | to | unit | what | origin |\n";
  out += "| --- | --- | --- | --- | --- | --- | --- |\n";
  for (const Setting& setting : allSettings()) {
    const std::string standard =
        std::isnan(setting.standard) ? std::string("none") : fmt::format("{}", setting.standard);
    out += fmt::format("| `{}` | {} | {} | {} | {} | {} | {} |\n", setting.name, standard,
                       setting.low, setting.high, setting.unit, setting.what, setting.origin);
  }
  return out;
}

Settings::Settings(const std::map<std::string, double>& ofCourse) {
  for (const auto& [name, value] : ofCourse) {
    const Setting* setting = find(name);
    if (setting == nullptr) {
      notes_.push_back(
          fmt::format("The course's setting \"{}\" is not known here and was left out.", name));
    } else if (!std::isfinite(value) || value < setting->low || value > setting->high) {
      notes_.push_back(
          fmt::format("The course's setting \"{}\" must lie between {} and {}; {} was used.", name,
                      setting->low, setting->high,
                      std::isnan(setting->standard) ? std::string("nothing")
                                                    : fmt::format("{}", setting->standard)));
    } else {
      own_.emplace(name, value);
    }
  }
  grasses_ = grassesWith([this](std::string_view name) -> std::optional<double> {
    const auto own = own_.find(name);
    return own == own_.end() ? std::nullopt : std::optional(own->second);
  });
}

double Settings::operator[](std::string_view name) const {
  if (const auto own = own_.find(name); own != own_.end()) return own->second;
  const Setting* setting = find(name);
  assert(setting != nullptr);
  return setting->standard;
}

bool Settings::changed(std::string_view name) const { return own_.contains(name); }

const turf::Species* Settings::grass(std::string_view name) const {
  const turf::Species* shipped = turf::findSpecies(name);
  if (shipped == nullptr) return nullptr;
  return &grasses_[static_cast<std::size_t>(shipped - turf::allSpecies().data())];
}

std::vector<std::string> Settings::ownGrassFigures() const {
  std::vector<std::string> out;
  for (const GrassSetting& grass : grassSettings()) {
    const auto own = own_.find(grass.name);
    if (own == own_.end()) continue;
    out.push_back(fmt::format("{}: {:.6g} {}, as this course set it; {:.6g} as it comes.",
                              grass.what, own->second, grass.unit, grass.standard));
    out.back().front() = static_cast<char>(std::toupper(static_cast<unsigned char>(out.back()[0])));
  }
  return out;
}

}  // namespace swardwalk::answers
