#pragma once

#include <optional>

#include "common/course/state.h"
#include "common/measure/instant.h"

namespace swardwalk::answers {

/// The day an answer is for, and days as numbers since 1970 (UTC, fractions allowed), in
/// which forecasts count. Immutable; safe to share between threads.
class Calendar {
 public:
  Calendar(const course::CourseState& state, measure::Date on);

  const measure::Zone& zone() const { return zone_; }
  measure::Date on() const { return on_; }

  /// The last moment of `on`: everything that happened on that day lies behind it.
  double today() const { return today_; }

  static double dayOf(measure::Instant instant);

  /// The last moment of a date, so that what is ready on that date is ready in time.
  double endOf(measure::Date date) const;
  double beginOf(measure::Date date) const;

  /// The date on which a day falls here; nothing beyond a hundred years from `on`,
  /// which is as good as never.
  std::optional<measure::Date> dateOf(std::optional<double> day) const;
  measure::Date dateOf(measure::Instant instant) const { return zone_.dateOf(instant); }

 private:
  measure::Zone zone_;
  measure::Date on_;
  double today_ = 0.0;
};

}  // namespace swardwalk::answers
