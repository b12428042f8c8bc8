#pragma once

#include <optional>

#include "common/answers/calendar.h"
#include "common/course/state.h"

/// What fell between two moments, from the rain records.
namespace swardwalk::answers {

/// A bank or an apron: rain runs off there and takes along what lies loose.
bool onSlope(course::Zone zone);

/// Rain of a record that fell within [from, to), days as in `Calendar`; its rate is taken
/// as even.
double within_mm(const course::Water& rain, double from, double to);

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
