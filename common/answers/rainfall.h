#pragma once

#include <optional>
#include <vector>

#include "common/answers/calendar.h"
#include "common/answers/settings.h"
#include "common/course/state.h"

/// What fell between two moments, from the rain records.
namespace swardwalk::answers {

/// Does rain run off there and take along what lies loose? A surround whose slope is known
/// by its slope (setting `slope_from_percent`), else a bank or an apron; never the green.
bool onSlope(course::Zone zone, std::optional<double> slope_percent, const Settings& settings);

/// Rain of a record that fell within [from, to), days as in `Calendar`; its rate is taken
/// as even.
double within_mm(const course::Water& rain, double from, double to);

/// Rain and watering of each day from `first` to `last`, in this order.
std::vector<double> dailyWater_mm(const course::CourseState& state, measure::Date first,
                                  measure::Date last, const Calendar& calendar);

/// Rain of its wettest hour, mm: the recorded peak, at least the mean of a record that
/// lasts an hour or longer.
double anHour_mm(const course::Water& rain);

struct Rainfall {
  double day_mm = 0.0;                   ///< most on one day of the course
  std::optional<measure::Date> wettest;  ///< that day; absent: no rain
  double hour_mm = 0.0;                  ///< most in one hour
};

/// A record counts whole where it ends after `from` and begins by `to`: what is not known
/// to have fallen earlier may have fallen since.
Rainfall rainBetween(const course::CourseState& state, double from, double to,
                     const Calendar& calendar);

}  // namespace swardwalk::answers
