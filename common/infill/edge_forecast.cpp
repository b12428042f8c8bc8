#include "common/infill/edge_forecast.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <utility>

#include "common/infill/drift.h"
#include "common/infill/spread.h"

namespace swardwalk::infill {
namespace {

constexpr double furthest_d = 3650.0;
constexpr int solvingSteps = 8;

/// Places in the unit square that fill it evenly, one a path: multiples of the powers of
/// the root of x³ = x + 1 (Roberts 2018, "The unreasonable effectiveness of quasirandom
/// sequences"); with the paths' own order they fill the cube.
struct Places {
  std::array<double, edgePaths> placeShare;
  std::array<double, edgePaths> placeZ;
  std::array<double, edgePaths> driftZ;
};

const Places& places() {
  static const Places made = [] {
    constexpr double a = 0.7548776662466927;
    constexpr double b = 0.5698402909980532;
    Places places{};
    for (std::size_t k = 0; k < edgePaths; ++k) {
      const auto share = [k](double step) {
        const double at = 0.5 + step * static_cast<double>(k + 1);
        return std::clamp(at - std::floor(at), 1e-6, 1.0 - 1e-6);
      };
      places.placeShare[k] = share(a);
      places.placeZ[k] = normalQuantile(share(a));
      places.driftZ[k] = normalQuantile(share(b));
    }
    return places;
  }();
  return made;
}

// A place of the edge that was still open, at a share of what is likely.
double placeOf(double mean_mm, double u_mm, double closing_mm, std::size_t k) {
  const double open = u_mm > 0.0 ? (closing_mm - mean_mm) / u_mm : 9.0;
  double z = places().placeZ[k];
  if (open < 3.5) z = normalQuantile(std::max(1e-12, places().placeShare[k] * normalShare(open)));
  return std::min(mean_mm + u_mm * z, closing_mm);
}

}  // namespace

std::vector<double> EdgeForecast::inset_mmByPath(double day) const {
  const double calendar_d = day - lastDay;
  const double growing_d = time ? time->between_d(lastDay, day) : calendar_d;
  const double lost = forgotten(std::abs(calendar_d));
  const double drift = driftAhead(std::abs(calendar_d), passing_u);
  const double lift = driftLift(std::abs(calendar_d));
  std::vector<double> insets;
  insets.reserve(paths.size());
  for (const EdgePath& path : paths) {
    insets.push_back(path.inset_mm +
                     path.creep_mm_d * growing_d *
                         std::exp(path.drift_z * drift + lift - lost * path.passing));
  }
  return insets;
}

std::vector<double> EdgeForecast::insets_mmOn(double day) const {
  std::vector<double> insets = inset_mmByPath(day);
  std::sort(insets.begin(), insets.end());
  return insets;
}

std::vector<double> EdgeForecast::closesDays() const {
  std::vector<double> days;
  days.reserve(paths.size());
  for (const EdgePath& path : paths) {
    const double way_d = std::max(0.0, closingInset_mm - path.inset_mm) / path.creep_mm_d;
    // The way ahead at the rate of now, then with the drift that it leaves time for. The
    // spread of a mean rate changes so slowly with the days that this settles at once.
    double ahead_d = way_d;
    for (int i = 0; i < solvingSteps && std::isfinite(ahead_d); ++i) {
      const double within_d = std::min(ahead_d, 2.0 * furthest_d);
      const double faster = path.drift_z * driftAhead(within_d, passing_u) + driftLift(within_d) -
                            forgotten(within_d) * path.passing;
      const double growing_d = way_d * std::exp(-faster);
      if (!time) {
        ahead_d = growing_d;
        continue;
      }
      const auto day = time->dayAfter(lastDay, growing_d);
      ahead_d = day ? *day - lastDay : std::numeric_limits<double>::infinity();
    }
    days.push_back(ahead_d <= furthest_d ? lastDay + ahead_d
                                         : std::numeric_limits<double>::infinity());
  }
  std::sort(days.begin(), days.end());
  return days;
}

std::optional<EdgeForecast> edgeForecast(const CreepFit& fit, const GapShape& shape,
                                         std::shared_ptr<const GrowingTime> time) {
  if (fit.levels.empty()) return std::nullopt;
  EdgeForecast edge;
  edge.lastDay = fit.lastDay;
  edge.closingInset_mm = 1000.0 * shape.closingInset_m();
  edge.passing_u = fit.passing_u;
  edge.time = std::move(time);
  edge.paths.reserve(edgePaths);
  // Each level stands for the creep half way to its neighbours.
  std::size_t level = 0;
  double upTo = fit.levels.front().weight;
  for (std::size_t k = 0; k < edgePaths; ++k) {
    const double target = (static_cast<double>(k) + 0.5) / static_cast<double>(edgePaths);
    while (level + 1 < fit.levels.size() && upTo < target) upTo += fit.levels[++level].weight;
    const CreepLevel& at = fit.levels[level];
    const CreepLevel& below = fit.levels[level == 0 ? 0 : level - 1];
    const CreepLevel& above = fit.levels[std::min(level + 1, fit.levels.size() - 1)];
    const double part =
        at.weight > 0.0 ? std::clamp((target - (upTo - at.weight)) / at.weight, 0.0, 1.0) : 0.5;
    const double from = std::sqrt(below.creep_mm_d * at.creep_mm_d);
    const double to = std::sqrt(at.creep_mm_d * above.creep_mm_d);
    edge.paths.push_back({placeOf(at.inset_mm, at.inset_u_mm, edge.closingInset_mm, k),
                          from * std::pow(to / from, part), at.passing, places().driftZ[k]});
  }
  return edge;
}

}  // namespace swardwalk::infill
