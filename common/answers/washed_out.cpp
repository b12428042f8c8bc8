#include "common/answers/washed_out.h"

#include <algorithm>

#include "common/answers/rainfall.h"

namespace swardwalk::answers {

std::optional<Wash> washOf(const course::CourseState& state, bool slope,
                           const repair::Sowing& sowing, const Calendar& calendar,
                           const Settings& settings) {
  if (!sowing.sownDay || sowing.upDay) return std::nullopt;
  const double sown = *sowing.sownDay;
  // Seed of which nobody knows when it comes is not looked after for ever.
  constexpr double longestWait_d = 60.0;
  const double wait_d = sowing.daysUntilUp ? sowing.daysUntilUp->high : longestWait_d;
  const double end = std::min(calendar.today(), sown + wait_d);
  const double limit_mm_h = settings[slope ? "rain_slope_mm_h" : "rain_flat_mm_h"];

  std::optional<Wash> first;
  const auto keepEarlier = [&first](const Wash& wash) {
    if (!first || wash.day < first->day) first = wash;
  };
  for (const course::Water& rain : state.rain) {
    const double from = Calendar::dayOf(rain.from);
    if (from < sown || from > end) continue;
    if (const double hour = anHour_mm(rain); hour >= limit_mm_h) {
      keepEarlier({from, rain.amount_mm, hour, false});
    }
  }
  if (slope) {
    const auto last = calendar.dateOf(end);
    for (auto date = *calendar.dateOf(sown); last && date <= *last; date += std::chrono::days(1)) {
      const double begin = std::max(calendar.beginOf(date), sown);
      const double close = calendar.endOf(date);
      double fallen_mm = 0.0;
      for (const course::Water& rain : state.rain) fallen_mm += within_mm(rain, begin, close);
      // An even share of a day's record may miss its sum by rounding.
      constexpr double rounding_mm = 1e-3;
      if (fallen_mm + rounding_mm >= settings["rain_slope_mm_d"]) {
        keepEarlier({begin, fallen_mm, std::nullopt, false});
        break;
      }
    }
  }
  return first;
}

std::optional<Wash> washBeforeUp(const course::CourseState& state, const course::Patch& patch,
                                 const PatchStory& story, const Calendar& calendar) {
  if (!story.sowing.sownDay || story.chapters.empty() ||
      story.chapters.back().begins != Chapter::Begins::washed) {
    return std::nullopt;
  }
  const double sown = *story.sowing.sownDay;
  const double seen = story.chapters.back().day;
  const bool wasUp =
      std::any_of(patch.cameUp.begin(), patch.cameUp.end(), [&](const course::CameUp& cameUp) {
        const double day = Calendar::dayOf(cameUp.seen);
        return day >= sown && day <= seen && cameUp.share.value_or(1.0) > 0.0;
      });
  if (wasUp) return std::nullopt;
  const Rainfall rain = rainBetween(state, sown, seen, calendar);
  return Wash{seen, rain.wettest ? std::optional(rain.day_mm) : std::nullopt, std::nullopt, true};
}

}  // namespace swardwalk::answers
