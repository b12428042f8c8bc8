#include "server/shed/kept_days.h"

#include <algorithm>
#include <set>

namespace swardwalk::server {
namespace {

/// Adds the newest of each period, of so many periods. `days` are the newest first.
template <class PeriodOf>
void keep(std::set<measure::Date>& kept, const std::vector<measure::Date>& days, std::size_t most,
          PeriodOf periodOf) {
  std::set<decltype(periodOf(measure::Date{}))> periods;
  for (const measure::Date day : days) {
    if (periods.size() == most) return;
    if (periods.insert(periodOf(day)).second) kept.insert(day);
  }
}

}  // namespace

std::vector<measure::Date> keptDays(std::vector<measure::Date> days, const KeepingRule& rule) {
  std::sort(days.rbegin(), days.rend());
  std::set<measure::Date> kept;
  keep(kept, days, rule.days, [](measure::Date day) { return day; });
  keep(kept, days, rule.weeks,
       [](measure::Date day) { return day - (std::chrono::weekday(day) - std::chrono::Monday); });
  keep(kept, days, rule.months, [](measure::Date day) {
    const std::chrono::year_month_day date(day);
    return date.year() / date.month();
  });
  return {kept.begin(), kept.end()};
}

}  // namespace swardwalk::server
