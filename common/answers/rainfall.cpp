#include "common/answers/rainfall.h"

#include <algorithm>
#include <iterator>
#include <map>

namespace swardwalk::answers {
namespace {

constexpr double hoursADay = 24.0;

}  // namespace

bool onSlope(course::Zone zone, std::optional<double> slope_percent, const Settings& settings) {
  if (zone == course::Zone::green) return false;
  if (slope_percent) return *slope_percent >= settings["slope_from_percent"];
  return zone == course::Zone::bank || zone == course::Zone::apron;
}

double within_mm(const course::Water& rain, double from, double to) {
  const double begins = Calendar::dayOf(rain.from);
  const double ends = Calendar::dayOf(rain.to);
  if (ends <= begins) return begins >= from && begins < to ? rain.amount_mm : 0.0;
  const double shared = std::min(to, ends) - std::max(from, begins);
  return shared > 0.0 ? rain.amount_mm * shared / (ends - begins) : 0.0;
}

std::vector<double> dailyWater_mm(const course::CourseState& state, measure::Date first,
                                  measure::Date last, const Calendar& calendar) {
  const double begin = calendar.beginOf(first);
  std::vector<course::Water> since;
  for (const std::vector<course::Water>* waters : {&state.rain, &state.watering}) {
    std::copy_if(waters->begin(), waters->end(), std::back_inserter(since),
                 [&](const course::Water& water) { return Calendar::dayOf(water.to) >= begin; });
  }
  std::vector<double> days;
  for (measure::Date day = first; day <= last; day += std::chrono::days(1)) {
    const double from = calendar.beginOf(day);
    const double to = calendar.beginOf(day + std::chrono::days(1));
    double fallen_mm = 0.0;
    for (const course::Water& water : since) fallen_mm += within_mm(water, from, to);
    days.push_back(fallen_mm);
  }
  return days;
}

double anHour_mm(const course::Water& rain) {
  const double hours = (Calendar::dayOf(rain.to) - Calendar::dayOf(rain.from)) * hoursADay;
  return std::max(rain.peak_mm_h.value_or(0.0), hours >= 1.0 ? rain.amount_mm / hours : 0.0);
}

Rainfall rainBetween(const course::CourseState& state, double from, double to,
                     const Calendar& calendar) {
  std::map<measure::Date, double> days;
  Rainfall out;
  for (const course::Water& rain : state.rain) {
    const double begins = Calendar::dayOf(rain.from);
    if (std::max(begins, Calendar::dayOf(rain.to)) <= from || begins > to) continue;
    if (!(rain.amount_mm > 0.0)) continue;
    days[calendar.dateOf(rain.from)] += rain.amount_mm;
    out.hour_mm = std::max(out.hour_mm, anHour_mm(rain));
  }
  for (const auto& [day, fallen_mm] : days) {
    if (fallen_mm <= out.day_mm) continue;
    out.day_mm = fallen_mm;
    out.wettest = day;
  }
  return out;
}

}  // namespace swardwalk::answers
