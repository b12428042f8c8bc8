#include "common/answers/calendar.h"

#include <cmath>

namespace swardwalk::answers {
namespace {

constexpr double msADay = 86'400'000.0;
constexpr double farthest_d = 36'525.0;

}  // namespace

Calendar::Calendar(const course::CourseState& state, measure::Date on)
    : zone_(course::zoneOf(state)), on_(on), today_(endOf(on)) {}

double Calendar::dayOf(measure::Instant instant) {
  return static_cast<double>(instant.time_since_epoch().count()) / msADay;
}

double Calendar::endOf(measure::Date date) const {
  return dayOf(zone_.endOf(date) - std::chrono::milliseconds(1));
}

double Calendar::beginOf(measure::Date date) const {
  return dayOf(zone_.endOf(date - std::chrono::days(1)));
}

std::optional<measure::Date> Calendar::dateOf(std::optional<double> day) const {
  if (!day || !std::isfinite(*day) || std::abs(*day - today_) > farthest_d) return std::nullopt;
  const auto ms = static_cast<std::int64_t>(std::floor(*day * msADay + 0.5));
  return zone_.dateOf(measure::Instant(std::chrono::milliseconds(ms)));
}

}  // namespace swardwalk::answers
