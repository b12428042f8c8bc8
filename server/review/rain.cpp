#include "server/review/rain.h"

#include <fmt/format.h>

#include <algorithm>
#include <boost/json.hpp>
#include <cmath>

#include "server/review/words.h"

namespace swardwalk::server::review {
namespace {

auto heaviestOf(const std::vector<answers::RainDay>& days) {
  return std::max_element(days.begin(), days.end(),
                          [](const auto& a, const auto& b) { return a.amount_mm < b.amount_mm; });
}

/// The round number at or above the highest bar that three equal steps reach.
double topOfAxis_mm(double highest_mm) {
  for (const double top : {3.0, 6.0, 15.0, 30.0, 60.0, 150.0, 300.0}) {
    if (highest_mm <= top) return top;
  }
  return std::ceil(highest_mm / 300.0) * 300.0;
}

std::string chart(const std::vector<answers::RainDay>& days) {
  constexpr double width = 400;
  constexpr double height = 150;
  constexpr double left = 28;
  constexpr double top = 24;
  constexpr double bottom = 124;
  const auto peak = heaviestOf(days);
  const double axis_mm = topOfAxis_mm(peak->amount_mm);
  const double step = (width - left) / static_cast<double>(days.size());
  const auto y = [&](double mm) { return bottom - (bottom - top) * mm / axis_mm; };

  std::string svg = fmt::format(
      R"(<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {} {}" font-family="B612" )"
      R"(font-size="14" fill="#3B4A43"><text x="0" y="12">rain, mm a day</text>)",
      width, height);
  for (int i = 0; i <= 3; ++i) {
    const double mm = axis_mm * i / 3;
    svg += fmt::format(R"(<line x1="{0}" y1="{1:.1f}" x2="{2}" y2="{1:.1f}" stroke="#B9BEAE"/>)"
                       R"(<text x="{3}" y="{4:.1f}" text-anchor="end">{5:g}</text>)",
                       left, y(mm), width, left - 6, y(mm) + 5, mm);
  }
  double x = left;
  for (const answers::RainDay& day : days) {
    if (day.amount_mm > 0.0) {
      svg += fmt::format(
          R"(<rect x="{:.1f}" y="{:.1f}" width="{:.1f}" height="{:.1f}" fill="#004F86"/>)",
          x + step * 0.1, y(day.amount_mm), step * 0.8, bottom - y(day.amount_mm));
    }
    if (&day == &*peak) {
      svg += fmt::format(R"(<text x="{:.1f}" y="{:.1f}" text-anchor="middle" fill="#10201A" )"
                         R"(font-weight="bold">{}</text>)",
                         x + step / 2, y(day.amount_mm) - 4, day.text.figure);
    }
    x += step;
  }
  const auto label = [&](std::size_t day, std::string_view anchor, double at) {
    svg += fmt::format(R"(<text x="{:.1f}" y="{}" text-anchor="{}">{}</text>)", at, height - 8,
                       anchor, day + 1 == days.size() ? "today" : measure::wordsDate(days[day].on));
  };
  label(0, "start", left);
  label(days.size() / 2, "middle", left + step * (static_cast<double>(days.size() / 2) + 0.5));
  label(days.size() - 1, "end", width);
  return svg + "</svg>";
}

}  // namespace

boost::json::value rainJson(const CourseAnswers& all) {
  const auto& days = all.progress.rain;
  const auto peak = heaviestOf(days);
  if (peak == days.end() || peak->amount_mm <= 0.0) return nullptr;
  return boost::json::object{
      {"total", writtenJson(all.progress.rainText)},
      {"chart", chart(days)},
      {"heaviest", fmt::format("Heaviest on {}: {} in the day.", dayWords(peak->on, false),
                               peak->text.text())}};
}

}  // namespace swardwalk::server::review
