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

std::shared_ptr<const infill::GrowingTime> Seasons::timeFor(const turf::Species& species) {
  if (!now_c_) return nullptr;
  if (const auto made = made_.find(species.name); made != made_.end()) return made->second;
  std::vector<double> paces;
  const int days = static_cast<int>(recorded_c_.size());
  for (int i = 0; i < days; ++i) {
    const auto known = [&](int k) { return recorded_c_[static_cast<std::size_t>(k)].has_value(); };
    int before = i;
    int after = i;
    while (before >= 0 && !known(before)) --before;
    while (after < days && !known(after)) ++after;
    if (before < 0 || after >= days || after - before > bridged_d) {
      paces.push_back(1.0);
      continue;
    }
    const double part = after == before ? 0.0 : static_cast<double>(i - before) / (after - before);
    const double mean_c = (1.0 - part) * *recorded_c_[static_cast<std::size_t>(before)] +
                          part * *recorded_c_[static_cast<std::size_t>(after)];
    paces.push_back(paceAt(species, mean_c));
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
