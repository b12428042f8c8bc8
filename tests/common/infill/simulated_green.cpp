#include "simulated_green.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace swardwalk::infill::test {
namespace {

constexpr int longest_d = 3000;

/// The green's weather as a factor on every creep, one a week.
std::vector<double> weeks(const Truth& truth, Chance& chance) {
  std::vector<double> factors;
  double weather =
      truth.weekSpread / std::sqrt(1.0 - truth.weekMemory * truth.weekMemory) * chance.normal();
  const double phase = chance.between(0.0, 2.0 * std::numbers::pi);
  for (int week = 0; week <= longest_d / 7; ++week) {
    weather = truth.weekMemory * weather + truth.weekSpread * chance.normal();
    factors.push_back(std::exp(weather + truth.season * std::sin(week / 5.0 + phase)));
  }
  return factors;
}

}  // namespace

double Chance::share() {
  // xorshift64* (Vigna 2016).
  state_ ^= state_ >> 12;
  state_ ^= state_ << 25;
  state_ ^= state_ >> 27;
  return (static_cast<double>((state_ * 2685821657736338717ULL) >> 11) + 0.5) * 0x1.0p-53;
}

double Chance::between(double low, double high) { return low + (high - low) * share(); }

double Chance::normal() {
  const double size = std::sqrt(-2.0 * std::log(share()));
  return size * std::cos(2.0 * std::numbers::pi * share());
}

SimulatedGreen simulate(const Truth& truth, std::uint64_t seed) {
  Chance chance(seed);
  const std::vector<double> weather = weeks(truth, chance);
  const double green = std::exp(chance.between(-truth.greenSpread, truth.greenSpread));
  SimulatedGreen made;
  const int lastDay = 7 * *std::max_element(truth.looks.begin(), truth.looks.end());
  while (made.patches.size() < truth.looks.size()) {
    const int looks = truth.looks[made.patches.size()];
    const int bornDay = lastDay - 7 * (looks - 1);
    SimulatedPatch patch;
    patch.strip = chance.between(0.0, 1.0) < 0.4;
    patch.width_m = 2.0 * std::exp(chance.between(std::log(0.05), std::log(0.30)));
    patch.length_m = patch.strip ? patch.width_m * chance.between(2.0, 12.0) : patch.width_m;
    const double creep_mm_d =
        truth.usualCreep_mm_d * green * std::exp(truth.patchSpread * chance.normal());
    // How far the edge is on each day, by the day.
    std::vector<double> crept_m(static_cast<std::size_t>(bornDay) + 1, 0.0);
    for (int day = bornDay; day < longest_d; ++day) {
      crept_m.push_back(crept_m.back() +
                        0.001 * creep_mm_d * weather[static_cast<std::size_t>(day / 7)]);
    }
    const auto closed = std::lower_bound(crept_m.begin(), crept_m.end(), 0.5 * patch.width_m);
    if (closed == crept_m.end()) continue;
    const auto after = static_cast<std::size_t>(closed - crept_m.begin());
    patch.closesDay = static_cast<double>(after) - (crept_m[after] - 0.5 * patch.width_m) /
                                                       (crept_m[after] - crept_m[after - 1]);

    double largest_m2 = 0.0;
    double day = bornDay;
    bool open = true;
    for (int look = 1; look <= looks; ++look) {
      if (look > 1) day = bornDay + 7.0 * (look - 1) + std::floor(chance.between(-1.0, 2.0));
      if (look == looks) day = lastDay;
      const double crept = crept_m[static_cast<std::size_t>(day)];
      // Two edges across and two along; a disc is measured across twice.
      const double edges = truth.edge_u_m * std::sqrt(2.0);
      const double form = patch.strip ? 1.0 : std::numbers::pi / 4.0;
      const double width = patch.width_m - 2.0 * crept;
      const double length = std::max(0.0, patch.length_m - 2.0 * crept + edges * chance.normal());
      const double across = std::max(0.0, width + edges * chance.normal());
      const double seen_m2 = form * length * across;
      const double u_m2 = truth.saidOverTrue_u * form * edges * std::hypot(length, across);
      largest_m2 = std::max(largest_m2, seen_m2);
      open = open && seen_m2 > 0.06 * largest_m2 && width > 0.0;
      patch.looks.push_back({day, seen_m2, u_m2, length, across});
    }
    open = open && patch.looks.back().area_m2 > 0.06 * largest_m2 && patch.closesDay > day;
    if (open) made.patches.push_back(patch);
  }
  return made;
}

}  // namespace swardwalk::infill::test
