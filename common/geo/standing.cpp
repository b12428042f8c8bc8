#include "common/geo/standing.h"

#include <algorithm>
#include <cassert>
#include <cmath>

namespace swardwalk::geo {

namespace {

/// Chance of 1 in 1,000 for the two coordinates of a place.
constexpr double farthestSquared = 13.815510557964274;

bool hasPlace(const Fix& fix) {
  return std::isfinite(fix.position.latitude_deg) && std::isfinite(fix.position.longitude_deg) &&
         std::abs(fix.position.latitude_deg) <= 90.0 &&
         std::abs(fix.position.longitude_deg) <= 180.0;
}

double accuracyOf(const Fix& fix) {
  const double stated = fix.accuracy_m.value_or(assumedAccuracy_m);
  return std::isfinite(stated) && stated > 0.0 ? stated : assumedAccuracy_m;
}

/// In order of time, each time once.
std::vector<Fix> inOrder(std::span<const Fix> fixes) {
  std::vector<Fix> sorted;
  for (const Fix& fix : fixes) {
    if (hasPlace(fix)) sorted.push_back(fix);
  }
  std::stable_sort(sorted.begin(), sorted.end(),
                   [](const Fix& a, const Fix& b) { return a.time < b.time; });
  sorted.erase(std::unique(sorted.begin(), sorted.end(),
                           [](const Fix& a, const Fix& b) { return a.time == b.time; }),
               sorted.end());
  return sorted;
}

double middleOf(std::vector<double> values) {
  const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  std::nth_element(values.begin(), middle, values.end());
  return *middle;
}

/// The middle of all, which a stray fix hardly moves.
LocalPoint middleOf(const std::vector<LocalPoint>& points) {
  std::vector<double> east, north;
  for (const LocalPoint& point : points) {
    east.push_back(point.east_m);
    north.push_back(point.north_m);
  }
  return {middleOf(std::move(east)), middleOf(std::move(north))};
}

double seconds(measure::Instant from, measure::Instant to) {
  return std::chrono::duration<double>(to - from).count();
}

void weigh(StandingFixes& fixes, const std::vector<LocalPoint>& points) {
  double sum = 0.0;
  for (const TimedError& error : fixes.errors) sum += 1.0 / (error.u_m * error.u_m);
  for (std::size_t i = 0; i < points.size(); ++i) {
    const double u_m = fixes.errors[i].u_m;
    const double weight = 1.0 / (u_m * u_m) / sum;
    fixes.weights.push_back(weight);
    fixes.mean.east_m += weight * points[i].east_m;
    fixes.mean.north_m += weight * points[i].north_m;
  }
}

StandingPlace placeOf(const StandingFixes& fixes) {
  PerErrorTime variances_m2{};
  for (std::size_t i = 0; i < errorTimeCount; ++i)
    variances_m2[i] = fixes.variance_m2(fixes.times[i].seconds);
  return {fixes.plane.toGlobe(fixes.mean),
          statedDoubt_m(fixes.times, variances_m2),
          fixes.errors.back().u_m,
          static_cast<int>(fixes.errors.size()),
          fixes.dropped,
          seconds(fixes.from, fixes.to)};
}

}  // namespace

double StandingFixes::variance_m2(double errorTime_s) const {
  std::vector<LocalPoint> gradient;
  gradient.reserve(weights.size());
  for (const double weight : weights) gradient.push_back({weight, 0.0});
  return driftVariance(gradient, errors, errorTime_s);
}

std::optional<StandingFixes> standingFixes(std::span<const Fix> fixes) {
  const std::vector<Fix> sorted = inOrder(fixes);
  if (sorted.empty()) return std::nullopt;
  StandingFixes standing{LocalPlane(sorted.front().position), {}, {}, {}, {}, {}, {}, 0};
  std::vector<LocalPoint> all;
  for (const Fix& fix : sorted) all.push_back(standing.plane.toLocal(fix.position));
  const LocalPoint middle = middleOf(all);
  std::vector<LocalPoint> points;
  for (std::size_t i = 0; i < sorted.size(); ++i) {
    const double u_m = accuracyOf(sorted[i]);
    const double off_m = std::hypot(all[i].east_m - middle.east_m, all[i].north_m - middle.north_m);
    // The middle errs as much as the fix does.
    if (off_m * off_m > 2.0 * farthestSquared * u_m * u_m) continue;
    if (points.empty()) standing.from = sorted[i].time;
    standing.to = sorted[i].time;
    points.push_back(all[i]);
    standing.errors.push_back({seconds(standing.from, sorted[i].time), u_m});
  }
  standing.dropped = static_cast<int>(fixes.size() - points.size());
  if (points.empty()) return std::nullopt;
  weigh(standing, points);
  standing.times = likelyErrorTimes(points, standing.errors);
  return standing;
}

std::optional<StandingPlace> averagedStanding(std::span<const Fix> fixes) {
  const auto standing = standingFixes(fixes);
  return standing ? std::optional(placeOf(*standing)) : std::nullopt;
}

StandingPlace averagedVisits(std::vector<Visit> visits) {
  assert(!visits.empty());
  std::stable_sort(visits.begin(), visits.end(),
                   [](const Visit& a, const Visit& b) { return a.time < b.time; });
  StandingFixes all{LocalPlane(visits.front().position),
                    {},
                    {},
                    {},
                    possibleErrorTimes(),
                    visits.front().time,
                    visits.back().time,
                    0};
  std::vector<LocalPoint> points;
  for (const Visit& visit : visits) {
    assert(visit.u_m > 0.0);
    points.push_back(all.plane.toLocal(visit.position));
    all.errors.push_back({seconds(all.from, visit.time), visit.u_m});
  }
  weigh(all, points);
  return placeOf(all);
}

}  // namespace swardwalk::geo
