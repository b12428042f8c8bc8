#include "common/answers/green_chart.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "common/answers/bare_area.h"
#include "common/answers/calendar.h"
#include "common/answers/history.h"

namespace swardwalk::answers {
namespace {

constexpr int daysShown = 70;        ///< of the past
constexpr std::size_t maxDots = 16;  ///< more would touch each other
constexpr double step_d = 7.0;
/// Half the width of the central 80 % of a normal distribution, in standard deviations.
constexpr double half80 = 1.2815515655446004;

bool onGreen(const course::Patch& patch, std::string_view green) {
  return patch.green == green && patch.zone == course::Zone::green &&
         patch.kind != turf::Kind::hungry;
}

/// What was bare of a patch at a moment, as far as anybody had seen by then.
std::optional<measure::Measured> bareAt(const course::Patch& patch, measure::Instant at,
                                        double creep_mm_d) {
  std::optional<measure::Measured> area;
  measure::Instant seen{};
  for (const course::Sighting& sighting : patch.sightings) {
    if (sighting.seen > at) break;
    if (sighting.kind == turf::Kind::hungry) continue;
    if (auto size = course::areaOf(sighting)) {
      area = size;
      seen = sighting.seen;
    }
  }
  for (const course::Closed& closed : patch.closed) {
    if (closed.seen <= at && closed.seen >= seen) return std::nullopt;
  }
  if (!area) return area;
  return carried(*area, Calendar::dayOf(at) - Calendar::dayOf(seen), creep_mm_d);
}

/// The days on which somebody looked at the green, oldest first.
std::vector<measure::Date> daysSeen(const course::CourseState& state, std::string_view green,
                                    const Calendar& calendar) {
  std::set<measure::Date> days;
  const measure::Date first = calendar.on() - std::chrono::days(daysShown);
  const auto add = [&](measure::Instant instant) {
    const measure::Date day = calendar.dateOf(instant);
    if (day >= first) days.insert(day);
  };
  for (const course::Patch& patch : state.patches) {
    if (!onGreen(patch, green)) continue;
    for (const course::Sighting& sighting : patch.sightings) add(sighting.seen);
    for (const course::Closed& closed : patch.closed) add(closed.seen);
  }
  std::vector<measure::Date> kept(days.begin(), days.end());
  if (kept.size() <= maxDots) return kept;
  // Evenly thinned; the last day always stays.
  std::vector<measure::Date> thinned;
  for (std::size_t i = 0; i < maxDots; ++i) {
    thinned.push_back(kept[(i + 1) * kept.size() / maxDots - 1]);
  }
  return thinned;
}

double creepOf(const Progress& progress, std::string_view patch) {
  const auto found = std::find_if(progress.patches.begin(), progress.patches.end(),
                                  [&](const PatchProgress& one) { return one.patch == patch; });
  if (found == progress.patches.end() || !found->edgeCreep_mm_d) return 0.0;
  return found->edgeCreep_mm_d->value;
}

std::vector<ChartDot> dots(const course::CourseState& state, const Progress& progress,
                           const GreenProgress& green, const Calendar& calendar) {
  std::vector<ChartDot> seen;
  const double percent = 100.0 / green.area_m2;
  for (const measure::Date day : daysSeen(state, green.green, calendar)) {
    double sum = 0.0;
    double variance = 0.0;
    bool doubtKnown = true;
    for (const course::Patch& patch : state.patches) {
      if (!onGreen(patch, green.green)) continue;
      const auto area = bareAt(patch, calendar.zone().endOf(day), creepOf(progress, patch.id));
      if (!area) continue;
      sum += area->value;
      doubtKnown = doubtKnown && area->u.has_value();
      const double u = area->u.value_or(0.0);
      variance += u * u;
    }
    ChartDot dot;
    dot.day = calendar.endOf(day);
    dot.value = percent * sum;
    if (doubtKnown) dot.u = percent * std::sqrt(variance);
    // What grew by more than doubt is new damage: another chapter of the green.
    if (!seen.empty()) {
      const double grown = dot.value - seen.back().value;
      const double doubt = std::hypot(dot.u.value_or(0.0), seen.back().u.value_or(0.0));
      dot.newChapter = grown > 2.0 * doubt && grown > 0.0;
    }
    seen.push_back(dot);
  }
  return seen;
}

std::vector<ChartPoint> expected(const Progress& progress, const GreenProgress& green,
                                 const Calendar& calendar) {
  std::vector<ChartPoint> points;
  if (!green.openingDay || *green.openingDay <= calendar.on()) return points;
  const double percent = 100.0 / green.area_m2;
  const double last = calendar.endOf(*green.openingDay);
  for (double day = calendar.today();; day = std::min(day + step_d, last)) {
    double sum = 0.0;
    double variance = 0.0;
    for (const PatchProgress& patch : progress.patches) {
      const bool bare = patch.green == green.green && patch.zone == course::Zone::green &&
                        patch.kind != turf::Kind::hungry && patch.look != Look::closed;
      if (!bare) continue;
      const auto open = [&](double share) {
        return infill::openArea_m2(patch.forecast, patch.story->history, day, share).value_or(0.0);
      };
      sum += open(0.5);
      const double sigma = (open(0.9) - open(0.1)) / (2.0 * half80);
      variance += sigma * sigma;
    }
    const double reach = half80 * std::sqrt(variance);
    points.push_back(
        {day, percent * sum, percent * std::max(0.0, sum - reach), percent * (sum + reach)});
    if (day >= last) return points;
  }
}

}  // namespace

std::optional<Chart> greenChart(const course::CourseState& state, const Progress& progress,
                                std::string_view name) {
  const auto green = std::find_if(progress.greens.begin(), progress.greens.end(),
                                  [&](const GreenProgress& one) { return one.green == name; });
  const bool known = green != progress.greens.end() && green->area_m2 > 0.0 && green->looked;
  if (!known) return std::nullopt;
  const course::Green* records = state.green(name);
  const Calendar calendar(state, progress.on);

  Chart chart;
  chart.title = fmt::format("Bare share of {}: {}", green->green, green->bareShareText);
  chart.axis = "bare, %";
  chart.seen = dots(state, progress, *green, calendar);
  chart.computed = expected(progress, *green, calendar);
  chart.limit = 100.0 * (records && records->bareShareLimit ? *records->bareShareLimit
                                                            : state.course.bareShareLimit);
  if (green->openingDay) {
    chart.openingDay = static_cast<double>(green->openingDay->time_since_epoch().count());
  }
  chart.width = 320;
  chart.height = 176;
  return chart;
}

}  // namespace swardwalk::answers
