#include <algorithm>
#include <chrono>
#include <cmath>

#include "common/answers/growth.h"

namespace swardwalk::answers {
namespace {

constexpr int window_d = 14;
constexpr int bridged_d = 14;
constexpr int longestPast_d = 1100;
constexpr int ahead_d = 3653;  ///< as far as forecasts look

constexpr std::array months = {"typical_january_c", "typical_february_c", "typical_march_c",
                               "typical_april_c",   "typical_may_c",      "typical_june_c",
                               "typical_july_c",    "typical_august_c",   "typical_september_c",
                               "typical_october_c", "typical_november_c", "typical_december_c"};

std::optional<std::array<double, 12>> typicalYearOf(const Settings& settings) {
  std::array<double, 12> means{};
  for (std::size_t i = 0; i < means.size(); ++i) {
    if (!settings.changed(months[i])) return std::nullopt;
    means[i] = settings[months[i]];
  }
  return means;
}

}  // namespace

Seasons::Seasons(const course::CourseState& state, const Calendar& calendar,
                 const Settings& settings)
    : calendar_(calendar), typical_c_(typicalYearOf(settings)) {
  const measure::Date on = calendar.on();
  now_c_ = meanTemperature_c(state, on - std::chrono::days(window_d - 1), on);
  if (!now_c_ && typical_c_) now_c_ = typicalOn_c(on);
  const measure::Date oldest = on - std::chrono::days(longestPast_d);
  for (const course::Temperature& day : state.temperatures) {
    if (day.on < oldest || day.on > on) continue;
    if (recorded_c_.empty()) firstDay_ = day.on;
    const auto at = static_cast<std::size_t>((day.on - firstDay_).count());
    if (recorded_c_.size() <= at) recorded_c_.resize(at + 1);
    recorded_c_[at] = 0.5 * (day.min_c + day.max_c);
  }
  if (!recorded_c_.empty()) {
    recorded_c_.resize(static_cast<std::size_t>((on - firstDay_).count()) + 1);
  }
}

bool Seasons::tooCold(const turf::Species& species) const {
  return now_c_ && !(*now_c_ >= species.coldestGrows_c);
}

double Seasons::reference_c(const turf::Species& species) const {
  // Where nothing grows now, against the middle of the warm range of creep.
  constexpr double coolSeason_c = 18.5;
  constexpr double warmSeason_c = 28.0;
  if (!tooCold(species)) return *now_c_;
  return species.warmSeason ? warmSeason_c : coolSeason_c;
}

double Seasons::paceAt(const turf::Species& species, double mean_c) const {
  if (!(mean_c >= species.coldestGrows_c)) return 0.0;
  return turf::growthPotential(mean_c, species.warmSeason) /
         turf::growthPotential(reference_c(species), species.warmSeason);
}

double Seasons::typicalOn_c(measure::Date date) const {
  // Straight between the middles of the months.
  const std::chrono::year_month_day day{date};
  const double month = static_cast<double>(static_cast<unsigned>(day.month())) - 1.0;
  const double at = month + (static_cast<double>(static_cast<unsigned>(day.day())) - 15.5) / 30.4;
  const double below = std::floor(at);
  const auto first = static_cast<std::size_t>(static_cast<int>(below + 12.0) % 12);
  const double part = at - below;
  return (1.0 - part) * (*typical_c_)[first] + part * (*typical_c_)[(first + 1) % 12];
}

std::optional<double> Seasons::recordedOn_c(int day) const {
  const int days = static_cast<int>(recorded_c_.size());
  const auto known = [&](int k) { return recorded_c_[static_cast<std::size_t>(k)].has_value(); };
  if (day < 0 || day >= days) return std::nullopt;
  int before = day;
  int after = day;
  while (before >= 0 && !known(before)) --before;
  while (after < days && !known(after)) ++after;
  if (before < 0 || after >= days || after - before > bridged_d) return std::nullopt;
  const double part = after == before ? 0.0 : static_cast<double>(day - before) / (after - before);
  return (1.0 - part) * *recorded_c_[static_cast<std::size_t>(before)] +
         part * *recorded_c_[static_cast<std::size_t>(after)];
}

double Seasons::meanOn_c(measure::Date date) const {
  if (!recorded_c_.empty()) {
    if (const auto mean_c = recordedOn_c(static_cast<int>((date - firstDay_).count()))) {
      return *mean_c;
    }
  }
  return typical_c_ && date > calendar_.on() ? typicalOn_c(date) : *now_c_;
}

std::optional<turf::Range> Seasons::daysUntilUp(const turf::Species& species,
                                                double sownDay) const {
  if (!now_c_) return turf::daysUpFor(species, std::nullopt);
  constexpr int longest_d = 550;
  // How far each of the three has come, of the whole way of 1.
  turf::Range gone;
  std::optional<double> best;
  std::optional<double> low;
  const measure::Date first = *calendar_.dateOf(sownDay);
  double day = sownDay;
  for (int i = 0; i < longest_d; ++i) {
    const measure::Date date = first + std::chrono::days(i);
    const double end = calendar_.endOf(date);
    const auto pace = turf::daysUp(species, meanOn_c(date));
    if (pace) {
      const double part_d = end - day;
      const auto reached = [&](double& way, double needed_d) -> std::optional<double> {
        const double before = way;
        way += part_d / needed_d;
        if (before >= 1.0 || way < 1.0) return std::nullopt;
        return day + (1.0 - before) * needed_d - sownDay;
      };
      if (const auto at = reached(gone.low, pace->low)) low = at;
      if (const auto at = reached(gone.best, pace->best)) best = at;
      if (const auto at = reached(gone.high, pace->high)) return turf::Range{*best, *low, *at};
    }
    day = end;
  }
  if (!best) return std::nullopt;
  return turf::Range{*best, *low, day - sownDay};
}

std::shared_ptr<const infill::GrowingTime> Seasons::timeFor(const turf::Species& species) {
  if (!now_c_) return nullptr;
  if (const auto made = made_.find(species.name); made != made_.end()) return made->second;
  std::vector<double> paces;
  const int days = static_cast<int>(recorded_c_.size());
  for (int i = 0; i < days; ++i) {
    const auto mean_c = recordedOn_c(i);
    paces.push_back(mean_c ? paceAt(species, *mean_c) : 1.0);
  }
  double after = tooCold(species) ? 0.0 : 1.0;
  if (typical_c_) {
    double sum = 0.0;
    for (int i = 1; i <= ahead_d; ++i) {
      paces.push_back(paceAt(species, typicalOn_c(calendar_.on() + std::chrono::days(i))));
      sum += paces.back();
    }
    after = sum / ahead_d;
  }
  const measure::Date first = days > 0 ? firstDay_ : calendar_.on() + std::chrono::days(1);
  auto time = std::make_shared<const infill::GrowingTime>(calendar_.beginOf(first), paces, after);
  made_.emplace(species.name, time);
  return time;
}

std::optional<infill::CreepPrior> Seasons::priorFor(const turf::Species& species) const {
  if (!now_c_) return infill::CreepPrior{species.creepUnknown_mm_d};
  if (tooCold(species) && !typical_c_) return std::nullopt;
  const auto creep = turf::creepFor(species, reference_c(species));
  return creep ? std::optional(infill::CreepPrior{*creep}) : std::nullopt;
}

}  // namespace swardwalk::answers
