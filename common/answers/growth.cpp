#include "common/answers/growth.h"

#include <algorithm>

namespace swardwalk::answers {

const turf::Species* fastestCreeper(const std::vector<std::string>& names,
                                    const Settings& settings) {
  const turf::Species* best = nullptr;
  for (const std::string& name : names) {
    const turf::Species* species = settings.grass(name);
    if (species == nullptr) continue;
    if (best == nullptr || species->creepUnknown_mm_d.best > best->creepUnknown_mm_d.best) {
      best = species;
    }
  }
  return best;
}

const turf::Species* mainSpecies(const course::CourseState& state, std::string_view lotName,
                                 const std::vector<std::string>& zoneSpecies,
                                 const Settings& settings) {
  for (const turf::SeedLot& lot : state.seedLots) {
    if (lot.name != lotName || lot.parts.empty()) continue;
    const auto part = std::max_element(
        lot.parts.begin(), lot.parts.end(),
        [](const turf::BlendPart& a, const turf::BlendPart& b) { return a.share < b.share; });
    return settings.grass(part->species);
  }
  for (const std::string& name : zoneSpecies) {
    if (const turf::Species* species = settings.grass(name)) return species;
  }
  return nullptr;
}

std::vector<std::string> speciesOf(const course::CourseState& state, std::string_view green,
                                   course::Zone zone) {
  if (zone == course::Zone::green) {
    const course::Green* found = state.green(green);
    return found == nullptr ? std::vector<std::string>{} : found->species;
  }
  for (const course::Surround& surround : state.surrounds) {
    if (surround.green == green && surround.zone == zone) return surround.species;
  }
  return {};
}

std::optional<double> slopeOf_percent(const course::CourseState& state, std::string_view green,
                                      course::Zone zone) {
  for (const course::Surround& surround : state.surrounds) {
    if (surround.green == green && surround.zone == zone) return surround.slope_percent;
  }
  return std::nullopt;
}

std::optional<double> meanTemperature_c(const course::CourseState& state, measure::Date from,
                                        measure::Date to) {
  double sum = 0.0;
  int days = 0;
  for (const course::Temperature& temperature : state.temperatures) {
    if (temperature.on < from || temperature.on > to) continue;
    sum += (temperature.min_c + temperature.max_c) / 2.0;
    ++days;
  }
  if (days == 0) return std::nullopt;
  return sum / days;
}

}  // namespace swardwalk::answers
