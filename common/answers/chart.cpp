#include "common/answers/chart.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "common/answers/sentences.h"

namespace swardwalk::answers {
namespace {

constexpr double fontSize = 14.0;
constexpr double glyphWidth = 0.62 * fontSize;  // B612's mean, a little generous
constexpr double dotRadius = 4.5;
constexpr double barHalf = 3.0;
constexpr double narrow = 400.0;
constexpr double besideFrom = 480.0;  ///< narrower charts have their end label above
constexpr double lineHeight = 1.35 * fontSize;

struct Plot {
  double left = 0.0;
  double right = 0.0;
  double top = 0.0;
  double bottom = 0.0;
  double dayFrom = 0.0;
  double dayTo = 1.0;
  double valueTo = 1.0;

  double x(double day) const {
    return left + (right - left) * std::clamp((day - dayFrom) / (dayTo - dayFrom), 0.0, 1.0);
  }
  double y(double value) const {
    return bottom - (bottom - top) * std::clamp(value / valueTo, 0.0, 1.0);
  }
};

std::string escaped(std::string_view text) {
  std::string out;
  for (const char c : text) {
    switch (c) {
      case '&':
        out += "&amp;";
        break;
      case '<':
        out += "&lt;";
        break;
      case '>':
        out += "&gt;";
        break;
      case '"':
        out += "&quot;";
        break;
      default:
        out += c;
    }
  }
  return out;
}

/// 1, 2 or 5 times a power of ten, so that about `wanted` steps reach `to`.
double niceStep(double to, double wanted) {
  const double rough = to / wanted;
  const double power = std::pow(10.0, std::floor(std::log10(rough)));
  for (const double factor : {1.0, 2.0, 5.0}) {
    if (factor * power >= rough * (1.0 - 1e-9)) return factor * power;
  }
  return 10.0 * power;
}

measure::Date dateOfDay(double day) {
  return measure::Date(std::chrono::days(static_cast<int>(std::floor(day))));
}

double dayOfDate(measure::Date date) {
  return static_cast<double>(date.time_since_epoch().count());
}

/// "8 Apr", or "Apr 2028" where ticks are years apart.
std::string shortDate(measure::Date date) {
  constexpr std::string_view months = "JanFebMarAprMayJunJulAugSepOctNovDec";
  const std::chrono::year_month_day parts(date);
  const std::size_t at = 3 * (static_cast<unsigned>(parts.month()) - 1);
  return fmt::format("{} {}", static_cast<unsigned>(parts.day()), months.substr(at, 3));
}

/// Dates to mark: every few days from the first of a month, else months' firsts.
std::vector<measure::Date> dateTicks(double from, double to, int most) {
  using std::chrono::days;
  using std::chrono::year_month_day;
  const measure::Date first = dateOfDay(std::ceil(from - 1e-9));
  const measure::Date last = dateOfDay(to);
  for (const int step : {1, 2, 7, 14}) {
    if ((to - from) / step > most) continue;
    std::vector<measure::Date> ticks;
    for (measure::Date date = first; date <= last; date += days(step)) ticks.push_back(date);
    return ticks;
  }
  for (const int step : {1, 2, 3, 6, 12}) {
    std::vector<measure::Date> ticks;
    for (measure::Date date = first; date <= last; date += days(1)) {
      const year_month_day parts(date);
      const int month = static_cast<int>(static_cast<unsigned>(parts.month())) - 1;
      if (parts.day() == std::chrono::day(1) && month % step == 0) ticks.push_back(date);
    }
    if (static_cast<int>(ticks.size()) <= most || step == 12) return ticks;
  }
  return {};
}

class Drawing {
 public:
  explicit Drawing(const Chart& chart) : chart_(chart) {}

  std::string draw() {
    lines_ = lines(chart_.endLabel);
    layOut();
    out_ = fmt::format(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\" width=\"{0}\" "
        "height=\"{1}\" viewBox=\"0 0 {0} {1}\">\n",
        chart_.width, chart_.height);
    if (!chart_.title.empty()) out_ += fmt::format("<title>{}</title>\n", escaped(chart_.title));
    axes();
    band();
    limit();
    opening();
    computed();
    seen();
    endLabel();
    out_ += "</svg>\n";
    return std::move(out_);
  }

 private:
  static std::vector<std::string> lines(const std::string& text) {
    std::vector<std::string> parts;
    std::string_view rest = text;
    while (!rest.empty()) {
      const std::size_t end = std::min(rest.find('\n'), rest.size());
      parts.emplace_back(rest.substr(0, end));
      rest.remove_prefix(std::min(end + 1, rest.size()));
    }
    return parts;
  }

  void layOut() {
    double from = INFINITY;
    double to = -INFINITY;
    double most = 0.0;
    const auto stretch = [&](double day) {
      from = std::min(from, day);
      to = std::max(to, day);
    };
    for (const ChartDot& dot : chart_.seen) {
      stretch(dot.day);
      most = std::max(most, dot.value + dot.u.value_or(0.0));
    }
    for (const ChartPoint& point : chart_.computed) {
      stretch(point.day);
      most = std::max(most, point.value);
    }
    if (chart_.openingDay) stretch(*chart_.openingDay);
    if (chart_.limit) most = std::max(most, 1.2 * *chart_.limit);
    if (!(from <= to)) from = to = 0.0;
    empty_ = chart_.seen.empty() && chart_.computed.empty();
    constexpr double leastSpan_d = 7.0;
    const double air = 0.03 * std::max(leastSpan_d, to - from);
    plot_.dayFrom = from - air;
    plot_.dayTo = std::max(to + air, plot_.dayFrom + leastSpan_d);
    if (!(most > 0.0)) most = 1.0;
    step_ = niceStep(most, 4.0);
    plot_.valueTo = step_ * std::ceil(most / step_ - 1e-9);

    // Beside a narrow plot the label would take the room that the days need.
    labelAbove_ = chart_.width < besideFrom && !lines_.empty();
    if (labelAbove_ && lines_.size() > 2) {
      for (std::size_t i = 2; i < lines_.size(); ++i) lines_[1] += ' ' + lines_[i];
      lines_.resize(2);
    }
    std::size_t longest = 0;
    for (const std::string& line : lines_) longest = std::max(longest, line.size());
    std::size_t widest = 1;
    for (double value = 0.0; value <= plot_.valueTo * 1.001; value += step_) {
      widest = std::max(widest, tick(value).size());
    }
    plot_.left = 12.0 + glyphWidth * static_cast<double>(widest);
    plot_.right =
        chart_.width -
        (lines_.empty() || labelAbove_ ? 16.0 : 16.0 + glyphWidth * static_cast<double>(longest));
    plot_.top = 2.0 * fontSize + 16.0;
    if (labelAbove_) plot_.top += lineHeight * static_cast<double>(lines_.size());
    plot_.bottom = chart_.height - fontSize - 14.0;
  }

  std::string tick(double value) const {
    const int places = std::max(0, -static_cast<int>(std::floor(std::log10(step_) + 1e-9)));
    return fmt::format("{:.{}f}", value, places);
  }

  void text(double x, double y, std::string_view anchor, const std::string& colour,
            std::string_view words, bool bold = false) {
    out_ += fmt::format(
        "<text x=\"{:.1f}\" y=\"{:.1f}\" font-family=\"{}\" font-size=\"{:.0f}\"{} "
        "text-anchor=\"{}\" fill=\"{}\">{}</text>\n",
        x, y, escaped(chart_.family), fontSize, bold ? " font-weight=\"bold\"" : "", anchor, colour,
        escaped(words));
  }

  void line(double x1, double y1, double x2, double y2, const std::string& colour, double width,
            std::string_view more = "") {
    out_ += fmt::format(
        "<line x1=\"{:.1f}\" y1=\"{:.1f}\" x2=\"{:.1f}\" y2=\"{:.1f}\" stroke=\"{}\" "
        "stroke-width=\"{:.1f}\"{}/>\n",
        x1, y1, x2, y2, colour, width, more);
  }

  void axes() {
    const ChartColours& colours = chart_.colours;
    text(0.0, fontSize, "start", colours.ink2, chart_.axis);
    for (double value = 0.0; value <= plot_.valueTo * 1.001; value += step_) {
      const double y = plot_.y(value);
      line(plot_.left, y, plot_.right, y, value == 0.0 ? colours.ink : colours.line, 1.0);
      text(plot_.left - 8.0, y + 0.35 * fontSize, "end", colours.ink2, tick(value));
    }
    if (empty_) {
      text((plot_.left + plot_.right) / 2.0, (plot_.top + plot_.bottom) / 2.0, "middle",
           colours.ink2, "nothing measured yet");
      return;
    }
    constexpr double labelWidth = 7.0 * glyphWidth;
    const int most = std::max(2, static_cast<int>((plot_.right - plot_.left) / labelWidth));
    for (const measure::Date date : dateTicks(plot_.dayFrom, plot_.dayTo, most)) {
      const double x = plot_.x(dayOfDate(date));
      const std::string label = shortDate(date);
      const double half = 0.5 * glyphWidth * static_cast<double>(label.size());
      if (x - half < 0.0 || x + half > chart_.width) continue;
      line(x, plot_.bottom, x, plot_.bottom + 4.0, colours.ink, 1.0);
      text(x, plot_.bottom + fontSize + 6.0, "middle", colours.ink2, label);
    }
  }

  void band() {
    if (chart_.computed.size() < 2) return;
    std::string points;
    for (const ChartPoint& point : chart_.computed) {
      points += fmt::format("{:.1f},{:.1f} ", plot_.x(point.day), plot_.y(point.high));
    }
    for (auto point = chart_.computed.rbegin(); point != chart_.computed.rend(); ++point) {
      points += fmt::format("{:.1f},{:.1f} ", plot_.x(point->day), plot_.y(point->low));
    }
    points.pop_back();
    out_ += fmt::format("<polygon points=\"{}\" fill=\"{}\" fill-opacity=\"0.25\"/>\n", points,
                        chart_.colours.good);
  }

  void limit() {
    if (!chart_.limit) return;
    const double y = plot_.y(*chart_.limit);
    line(plot_.left, y, plot_.right, y, chart_.colours.ink, 1.2, " stroke-dasharray=\"6,4\"");
    text(plot_.left + 4.0, y + fontSize + 2.0, "start", chart_.colours.ink2, "limit");
  }

  void opening() {
    if (!chart_.openingDay || empty_) return;
    const std::string& colour = chart_.late ? chart_.colours.stop : chart_.colours.ink;
    const double x = plot_.x(*chart_.openingDay);
    line(x, plot_.top - 8.0, x, plot_.bottom, colour, 2.0);
    const std::string date = measure::wordsDate(dateOfDay(*chart_.openingDay));
    const std::string label = chart_.width >= narrow ? "opening day, " + date : date;
    const double wide = glyphWidth * static_cast<double>(label.size());
    const double y = plot_.top - 8.0 - 4.0;
    const bool fits = x + wide < chart_.width;
    text(fits ? x : std::min(x + 4.0, static_cast<double>(chart_.width)), y, fits ? "start" : "end",
         colour, label, chart_.late);
  }

  void polyline(const std::vector<std::pair<double, double>>& points, const std::string& colour,
                double width) {
    if (points.size() < 2) return;
    std::string list;
    for (const auto& [x, y] : points) list += fmt::format("{:.1f},{:.1f} ", x, y);
    list.pop_back();
    out_ += fmt::format(
        "<polyline points=\"{}\" fill=\"none\" stroke=\"{}\" stroke-width=\"{:.1f}\" "
        "stroke-linejoin=\"round\"/>\n",
        list, colour, width);
  }

  void computed() {
    std::vector<std::pair<double, double>> points;
    for (const ChartPoint& point : chart_.computed) {
      points.emplace_back(plot_.x(point.day), plot_.y(point.value));
    }
    polyline(points, chart_.colours.good, 2.5);
  }

  void seen() {
    // Chapters that no computed line runs through are joined from dot to dot; the line
    // breaks where one begins.
    std::size_t lastChapter = 0;
    for (std::size_t i = 0; i < chart_.seen.size(); ++i) {
      if (chart_.seen[i].newChapter) lastChapter = i;
    }
    const bool runsThrough = !chart_.computed.empty() && !chart_.seen.empty() &&
                             chart_.computed.front().day <= chart_.seen.back().day;
    std::vector<std::pair<double, double>> joined;
    for (std::size_t i = 0; i < chart_.seen.size(); ++i) {
      const ChartDot& dot = chart_.seen[i];
      if (dot.newChapter) {
        polyline(joined, chart_.colours.ink2, 1.5);
        joined.clear();
      }
      if (i >= lastChapter && runsThrough) break;
      joined.emplace_back(plot_.x(dot.day), plot_.y(dot.value));
    }
    polyline(joined, chart_.colours.ink2, 1.5);
    for (const ChartDot& dot : chart_.seen) {
      const double x = plot_.x(dot.day);
      if (dot.u && *dot.u > 0.0) {
        const double top = plot_.y(dot.value + *dot.u);
        const double bottom = plot_.y(dot.value - *dot.u);
        line(x, top, x, bottom, chart_.colours.ink, 1.5);
        line(x - barHalf, top, x + barHalf, top, chart_.colours.ink, 1.5);
        line(x - barHalf, bottom, x + barHalf, bottom, chart_.colours.ink, 1.5);
      }
      out_ += fmt::format("<circle cx=\"{:.1f}\" cy=\"{:.1f}\" r=\"{:.1f}\" fill=\"{}\"/>\n", x,
                          plot_.y(dot.value), dotRadius, chart_.colours.ink);
    }
  }

  void endLabel() {
    if (lines_.empty()) return;
    const double block = lineHeight * static_cast<double>(lines_.size());
    double y = plot_.bottom;
    double x = plot_.right + 8.0;
    if (labelAbove_) {
      x = 0.0;
      y = fontSize + lineHeight;
    } else if (!chart_.computed.empty()) {
      y = plot_.y(chart_.computed.back().value);
    } else if (!chart_.seen.empty()) {
      y = plot_.y(chart_.seen.back().value);
    }
    if (!labelAbove_) {
      y = std::clamp(y - block + fontSize, plot_.top + fontSize,
                     std::max(plot_.top + fontSize, plot_.bottom - block + fontSize));
    }
    for (std::size_t i = 0; i < lines_.size(); ++i) {
      text(x, y + lineHeight * static_cast<double>(i), "start",
           i == 0 ? chart_.colours.good : chart_.colours.ink2, lines_[i], i == 0);
    }
  }

  const Chart& chart_;
  Plot plot_;
  double step_ = 1.0;
  bool empty_ = false;
  bool labelAbove_ = false;
  std::vector<std::string> lines_;
  std::string out_;
};

}  // namespace

ChartColours darkChartColours() {
  return {"#F2F5EE", "#C3CDC4", "#4A584F", "#8FD9AE", "#FF9C94", "#16201B"};
}

std::string svg(const Chart& chart) { return Drawing(chart).draw(); }

}  // namespace swardwalk::answers
