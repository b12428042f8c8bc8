#include "server/review/rain.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <boost/json.hpp>
#include <cmath>

#include "server/review/words.h"

namespace swardwalk::server::review {
namespace {

constexpr int shownDays = 14;
using DailyRain = std::array<double, shownDays>;  ///< mm; the last is today

measure::Written rainText(double amount_mm) {
  return measure::write({amount_mm, std::nullopt}, measure::Quantity::rain,
                        measure::UnitSystem::metric);
}

/// What fell over several days counts on each by its share of the time.
DailyRain dailyRain(const CourseAnswers& all) {
  DailyRain daily{};
  const measure::Date first = all.progress.on - std::chrono::days(shownDays - 1);
  for (int i = 0; i < shownDays; ++i) {
    const measure::Date day = first + std::chrono::days(i);
    const measure::Instant begin = all.zone.endOf(day - std::chrono::days(1));
    const measure::Instant end = all.zone.endOf(day);
    for (const course::Water& rain : all.state.rain) {
      const double whole_d = measure::daysBetween(rain.from, rain.to);
      if (whole_d <= 0.0) {
        if (rain.from >= begin && rain.from < end) daily[i] += rain.amount_mm;
        continue;
      }
      const double shared_d =
          measure::daysBetween(std::max(rain.from, begin), std::min(rain.to, end));
      if (shared_d > 0.0) daily[i] += rain.amount_mm * shared_d / whole_d;
    }
  }
  return daily;
}

/// The round number at or above the highest bar that three equal steps reach.
double topOfAxis_mm(double highest_mm) {
  for (const double top : {3.0, 6.0, 15.0, 30.0, 60.0, 150.0, 300.0}) {
    if (highest_mm <= top) return top;
  }
  return std::ceil(highest_mm / 300.0) * 300.0;
}

std::string chart(const CourseAnswers& all, const DailyRain& daily) {
  constexpr double width = 400;
  constexpr double height = 150;
  constexpr double left = 28;
  constexpr double top = 24;
  constexpr double bottom = 124;
  const double highest = *std::max_element(daily.begin(), daily.end());
  const double axis_mm = topOfAxis_mm(highest);
  const double step = (width - left) / shownDays;
  const auto y = [&](double mm) { return bottom - (bottom - top) * mm / axis_mm; };

  std::string svg = fmt::format(
      R"(<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {} {}" font-family="B612" font-size="14" fill="#3B4A43">)"
      R"(<text x="0" y="12">rain, mm a day</text>)",
      width, height);
  for (int i = 0; i <= 3; ++i) {
    const double mm = axis_mm * i / 3;
    svg += fmt::format(
        R"(<line x1="{0}" y1="{1:.1f}" x2="{2}" y2="{1:.1f}" stroke="#B9BEAE"/>)"
        R"(<text x="{3}" y="{4:.1f}" text-anchor="end">{5:g}</text>)",
        left, y(mm), width, left - 6, y(mm) + 5, mm);
  }
  const auto peak = std::max_element(daily.begin(), daily.end()) - daily.begin();
  const measure::Date first = all.progress.on - std::chrono::days(shownDays - 1);
  for (int i = 0; i < shownDays; ++i) {
    const double x = left + step * i;
    if (daily[i] > 0.0) {
      svg += fmt::format(
          R"(<rect x="{:.1f}" y="{:.1f}" width="{:.1f}" height="{:.1f}" fill="#004F86"/>)",
          x + step * 0.1, y(daily[i]), step * 0.8, bottom - y(daily[i]));
    }
    if (i == peak && daily[i] > 0.0) {
      svg += fmt::format(
          R"(<text x="{:.1f}" y="{:.1f}" text-anchor="middle" fill="#10201A" font-weight="bold">{}</text>)",
          x + step / 2, y(daily[i]) - 4, rainText(daily[i]).figure);
    }
    const bool today = i == shownDays - 1;
    if (today || i == 0 || i == 4 || i == 8) {
      svg += fmt::format(R"(<text x="{:.1f}" y="{}" text-anchor="{}">{}</text>)",
                         today ? width : x + (i == 0 ? 0 : step / 2), height - 8,
                         today ? "end" : (i == 0 ? "start" : "middle"),
                         today ? "today" : measure::wordsDate(first + std::chrono::days(i)));
    }
  }
  return svg + "</svg>";
}

}  // namespace

boost::json::value rainJson(const CourseAnswers& all) {
  const DailyRain daily = dailyRain(all);
  double total_mm = 0.0;
  for (const double mm : daily) total_mm += mm;
  if (total_mm <= 0.0) return nullptr;

  const auto peak = std::max_element(daily.begin(), daily.end()) - daily.begin();
  const measure::Date day = all.progress.on - std::chrono::days(shownDays - 1 - peak);
  std::string heaviest = fmt::format("Heaviest on {}: {} in the day.", dayWords(day, false),
                                     rainText(daily[peak]).text());
  return boost::json::object{{"total", writtenJson(rainText(total_mm))},
                             {"chart", chart(all, daily)},
                             {"heaviest", heaviest}};
}

}  // namespace swardwalk::server::review
