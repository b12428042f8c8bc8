#include "walk_simulator.h"

#include <chrono>
#include <cmath>
#include <numbers>
#include <random>

namespace swardwalk::geo {
namespace {

constexpr double latitude_deg = 51.5;
constexpr double longitude_deg = -0.12;

/// One axis of an error that fades exponentially.
class Drift {
 public:
  Drift(double u, std::mt19937_64& random) : u_(u), random_(random) {
    now_ = u_ * normal_(random_);
  }

  /// The error, after it has faded for `share` of its scale since the last time.
  double after(double share) {
    const double kept = std::exp(-share);
    now_ = kept * now_ + u_ * std::sqrt(1.0 - kept * kept) * normal_(random_);
    return now_;
  }

 private:
  double u_;
  std::mt19937_64& random_;
  std::normal_distribution<double> normal_;
  double now_ = 0.0;
};

/// Metres to degrees by the radii of curvature of WGS84: plenty within some metres.
Position onGlobe(double east_m, double north_m) {
  const double phi = latitude_deg * std::numbers::pi / 180.0;
  const double e2 = 0.00669437999014;
  const double w2 = 1.0 - e2 * std::sin(phi) * std::sin(phi);
  const double prime = 6378137.0 / std::sqrt(w2);
  const double meridian = prime * (1.0 - e2) / w2;
  return {latitude_deg + north_m / meridian * 180.0 / std::numbers::pi,
          longitude_deg + east_m / (prime * std::cos(phi)) * 180.0 / std::numbers::pi};
}

/// Once round a polygon, counter-clockwise.
SimulatedWalk along(const std::vector<LocalPoint>& corners) {
  std::vector<double> reached{0.0};  // way to each corner, and home again
  for (std::size_t i = 0; i < corners.size(); ++i) {
    const LocalPoint& next = corners[(i + 1) % corners.size()];
    reached.push_back(reached.back() + std::hypot(next.east_m - corners[i].east_m,
                                                  next.north_m - corners[i].north_m));
  }
  SimulatedWalk walk;
  walk.length_m = reached.back();
  walk.edge = [corners, reached](double share) {
    const double way = share * reached.back();
    std::size_t i = 0;
    while (i + 1 < corners.size() && reached[i + 1] <= way) ++i;
    const double part = (way - reached[i]) / (reached[i + 1] - reached[i]);
    const LocalPoint& next = corners[(i + 1) % corners.size()];
    return LocalPoint{corners[i].east_m + part * (next.east_m - corners[i].east_m),
                      corners[i].north_m + part * (next.north_m - corners[i].north_m)};
  };
  return walk;
}

}  // namespace

std::vector<Fix> simulate(const SimulatedWalk& walk, std::uint64_t seed) {
  std::mt19937_64 random(seed);
  Drift east(walk.receiver_u_m, random);
  Drift north(walk.receiver_u_m, random);
  Drift footEast(walk.walker_u_m, random);
  Drift footNorth(walk.walker_u_m, random);
  const double start = std::uniform_real_distribution<double>(0.0, 1.0)(random);
  const measure::Instant begin{std::chrono::seconds{1807509600}};
  std::vector<Fix> fixes;
  const double step_m = walk.speed_m_s * walk.every_s;
  for (int i = 0; i * step_m < walk.length_m + walk.overrun_m; ++i) {
    const double share = start + i * step_m / walk.length_m;
    const LocalPoint truth = walk.edge(share - std::floor(share));
    const double time = walk.every_s / walk.errorTime_s;
    const double foot = step_m / walk.walkerLength_m;
    Fix fix;
    fix.time = begin + std::chrono::milliseconds{std::lround(1000.0 * i * walk.every_s)};
    fix.position = onGlobe(truth.east_m + east.after(time) + footEast.after(foot),
                           truth.north_m + north.after(time) + footNorth.after(foot));
    fix.accuracy_m = walk.receiver_u_m;
    fixes.push_back(fix);
  }
  return fixes;
}

SimulatedWalk circle(double radius_m) {
  SimulatedWalk walk;
  walk.length_m = 2.0 * std::numbers::pi * radius_m;
  walk.edge = [radius_m](double share) {
    const double angle = 2.0 * std::numbers::pi * share;
    return LocalPoint{radius_m * std::cos(angle), radius_m * std::sin(angle)};
  };
  return walk;
}

SimulatedWalk rectangle(double length_m, double width_m) {
  return along({{0.0, 0.0}, {length_m, 0.0}, {length_m, width_m}, {0.0, width_m}});
}

double drawnByRatio(double low, double high, std::uint64_t seed) {
  std::mt19937_64 random(seed);
  return low * std::exp(std::log(high / low) * std::uniform_real_distribution<double>()(random));
}

SimulatedWalk drawnWalk(PatchForm form, double area_m2, double receiver_u_m, TimeDraw draw,
                        std::uint64_t seed) {
  SimulatedWalk walk;
  if (form == PatchForm::circle) {
    walk = circle(std::sqrt(area_m2 / std::numbers::pi));
  } else if (form == PatchForm::scar) {
    const double width_m = std::sqrt(area_m2 / 8.0);
    walk = rectangle(8.0 * width_m, width_m);
  } else {
    const double arm_m = std::sqrt(area_m2 / 3.0);
    walk = along({{0.0, 0.0},
                  {2.0 * arm_m, 0.0},
                  {2.0 * arm_m, arm_m},
                  {arm_m, arm_m},
                  {arm_m, 2.0 * arm_m},
                  {0.0, 2.0 * arm_m}});
  }
  std::mt19937_64 random(seed);
  const auto between = [&random](double low, double high) {
    return std::uniform_real_distribution<double>(low, high)(random);
  };
  walk.receiver_u_m = receiver_u_m;
  walk.speed_m_s = between(0.6, 1.2);
  walk.overrun_m = between(-0.5, 1.0);
  walk.errorTime_s = draw == TimeDraw::evenly ? between(30.0, 900.0)
                                              : std::exp(between(std::log(30.0), std::log(900.0)));
  return walk;
}

}  // namespace swardwalk::geo
