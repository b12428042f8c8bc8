#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "common/course/state.h"
#include "common/infill/patch_forecast.h"
#include "common/turf/species.h"

/// What the grass of a place can do at the temperatures that the course recorded.
namespace swardwalk::answers {

/// Grasses that may grow in a zone of a green: the green's own on the green, the
/// surround's elsewhere. Empty where nobody named one.
std::vector<std::string> speciesOf(const course::CourseState& state, std::string_view green,
                                   course::Zone zone);

/// Mean of daily means over the days [from, to] that have a record; nothing without one.
std::optional<double> meanTemperature_c(const course::CourseState& state, measure::Date from,
                                        measure::Date to);

/// The grass whose edge moves fastest among those named, or nullptr; one that does not
/// creep has a little, from tillers.
const turf::Species* fastestCreeper(const std::vector<std::string>& names);

/// The grass that most of a lot is made of; without such a lot one of the zone's.
const turf::Species* mainSpecies(const course::CourseState& state, std::string_view lotName,
                                 const std::vector<std::string>& zoneSpecies);

/// Edge creep before the first sighting, at the temperature of now. Where it is too cold
/// to grow the cool range stands in: the days to come are warmer than none.
infill::CreepPrior priorOf(const turf::Species& species, std::optional<double> mean_c);

}  // namespace swardwalk::answers
