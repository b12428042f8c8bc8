#pragma once

#include <array>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "common/answers/calendar.h"
#include "common/answers/settings.h"
#include "common/course/state.h"
#include "common/infill/patch_forecast.h"
#include "common/turf/species.h"

/// What the grass of a place can do at the temperatures that the course recorded.
namespace swardwalk::answers {

/// Grasses that may grow in a zone of a green: the green's own on the green, the
/// surround's elsewhere. Empty where nobody named one.
std::vector<std::string> speciesOf(const course::CourseState& state, std::string_view green,
                                   course::Zone zone);

/// Slope of a green's surround, where it was entered.
std::optional<double> slopeOf_percent(const course::CourseState& state, std::string_view green,
                                      course::Zone zone);

/// Mean of daily means over the days [from, to] that have a record; nothing without one.
std::optional<double> meanTemperature_c(const course::CourseState& state, measure::Date from,
                                        measure::Date to);

/// The grass whose edge moves fastest among those named, or nullptr; one that does not
/// creep has a little, from tillers.
const turf::Species* fastestCreeper(const std::vector<std::string>& names,
                                    const Settings& settings);

/// The grass that most of a lot is made of, by weight or number as the lot states it; without such
/// a lot one of the zone's.
const turf::Species* mainSpecies(const course::CourseState& state, std::string_view lotName,
                                 const std::vector<std::string>& zoneSpecies,
                                 const Settings& settings);

/// The temperatures of a course as its grasses feel them: recorded up to the day of the
/// answer; from then on the mean of the last 14 days with a record, or the typical year
/// where the course's settings give one. Keeps what it made: use from one thread.
class Seasons {
 public:
  Seasons(const course::CourseState& state, const Calendar& calendar, const Settings& settings);

  /// Mean of the last 14 days that have a record, else the typical year's of that day;
  /// nothing where neither is there.
  std::optional<double> now_c() const { return now_c_; }

  bool typicalYear() const { return typical_c_.has_value(); }

  /// Too cold for this grass now?
  bool tooCold(const turf::Species& species) const;

  /// Time in which this grass grows: a day counts by the growth potential of its mean
  /// against that of now; 0 below the grass's limit. A gap in the records of a fortnight is
  /// bridged by a straight line, a longer one counts days as now. Null without any
  /// temperature: calendar days.
  std::shared_ptr<const infill::GrowingTime> timeFor(const turf::Species& species);

  /// Days from a sowing until it is up, added up day by day: every day takes it as far as
  /// its mean allows (`turf::daysUp`), one colder than the grass's limit not at all. Days
  /// without a record as in `timeFor`. Nothing where it does not come up within a year and a
  /// half; the high end is then held there. Without any temperature `turf::daysUpFor`.
  std::optional<turf::Range> daysUntilUp(const turf::Species& species, double sownDay) const;

  /// Edge creep before the first sighting, at the temperature of now (where it is too cold
  /// now and a typical year is given: at that of `timeFor`). Nothing where it is too cold:
  /// below its limit a grass does not creep.
  std::optional<infill::CreepPrior> priorFor(const turf::Species& species) const;

 private:
  double reference_c(const turf::Species& species) const;
  double paceAt(const turf::Species& species, double mean_c) const;
  double typicalOn_c(measure::Date date) const;
  /// Of a day up to the day of the answer: as recorded, or bridged; nothing in a long gap.
  std::optional<double> recordedOn_c(int day) const;
  double meanOn_c(measure::Date date) const;

  const Calendar& calendar_;
  std::optional<double> now_c_;
  std::optional<std::array<double, 12>> typical_c_;
  measure::Date firstDay_{};
  std::vector<std::optional<double>> recorded_c_;  ///< from the first day on
  std::map<std::string, std::shared_ptr<const infill::GrowingTime>, std::less<>> made_;
};

}  // namespace swardwalk::answers
