#include "common/geo/walk_steps.h"

#include <algorithm>
#include <chrono>
#include <cmath>

#include "common/geo/compass.h"

namespace swardwalk::geo {
namespace {

/// No receiver knows itself better; keeps a stated 0 from becoming certainty.
constexpr double bestAccuracy_m = 0.005;

bool onGlobe(Position position) {
  return std::abs(position.latitude_deg) <= 90.0 && std::abs(position.longitude_deg) <= 180.0;
}

/// Could one have walked from one fix to the other, their errors granted?
bool walkable(const Step& from, const Step& to, const WalkSettings& settings) {
  const double elapsed_s = to.error.time_s - from.error.time_s;
  const double fade = std::exp(-elapsed_s / settings.errorTimes.front().seconds);
  const double variance = from.error.u_m * from.error.u_m + to.error.u_m * to.error.u_m -
                          2.0 * fade * from.error.u_m * to.error.u_m;
  return distance_m(from.point, to.point) <=
         settings.fastest_m_s * elapsed_s + 3.0 * std::sqrt(variance);
}

}  // namespace

std::vector<Fix> usableFixes(std::span<const Fix> fixes, const WalkSettings& settings) {
  std::vector<Fix> good;
  for (const Fix& fix : fixes) {
    const double accuracy_m = fix.accuracy_m.value_or(settings.assumedAccuracy_m);
    const bool believable = accuracy_m >= 0.0 && accuracy_m <= settings.worstAccuracy_m;
    if (onGlobe(fix.position) && believable) good.push_back(fix);
  }
  std::stable_sort(good.begin(), good.end(),
                   [](const Fix& a, const Fix& b) { return a.time < b.time; });
  const auto sameTime = [](const Fix& a, const Fix& b) { return a.time == b.time; };
  good.erase(std::unique(good.begin(), good.end(), sameTime), good.end());
  return good;
}

double median(std::vector<double> values) {
  const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  std::nth_element(values.begin(), middle, values.end());
  return *middle;
}

LocalPlane planeAmong(const std::vector<Fix>& fixes) {
  std::vector<double> north;
  std::vector<double> east;
  const double reference = fixes.front().position.longitude_deg;
  for (const Fix& fix : fixes) {
    north.push_back(fix.position.latitude_deg);
    east.push_back(longitudeDifference_deg(reference, fix.position.longitude_deg));
  }
  return LocalPlane({median(north), std::remainder(reference + median(east), 360.0)});
}

std::vector<Step> stepsOn(const LocalPlane& plane, const std::vector<Fix>& fixes,
                          const WalkSettings& settings) {
  std::vector<Step> steps;
  for (const Fix& fix : fixes) {
    const double accuracy_m = fix.accuracy_m.value_or(settings.assumedAccuracy_m);
    const double time_s = std::chrono::duration<double>(fix.time - fixes.front().time).count();
    steps.push_back({plane.toLocal(fix.position), {time_s, std::max(accuracy_m, bestAccuracy_m)}});
  }
  return steps;
}

std::vector<Step> withoutOutliers(const std::vector<Step>& steps, const WalkSettings& settings) {
  std::size_t begin = 0;
  for (std::size_t i = 0; i + 2 < steps.size(); ++i) {
    if (walkable(steps[i], steps[i + 1], settings) &&
        walkable(steps[i + 1], steps[i + 2], settings)) {
      begin = i;
      break;
    }
  }
  std::vector<Step> kept;
  for (std::size_t i = begin; i < steps.size(); ++i) {
    if (kept.empty() || walkable(kept.back(), steps[i], settings)) kept.push_back(steps[i]);
  }
  return kept;
}

std::vector<Step> moving(const std::vector<Step>& steps, const WalkSettings& settings) {
  std::vector<Step> kept;
  for (const Step& step : steps) {
    const double least_m = std::clamp(settings.thinShare * step.error.u_m, settings.thinFinest_m,
                                      settings.thinCoarsest_m);
    if (kept.empty() || distance_m(kept.back().point, step.point) >= least_m) {
      kept.push_back(step);
    }
  }
  return kept;
}

}  // namespace swardwalk::geo
