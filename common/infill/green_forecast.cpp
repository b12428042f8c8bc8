#include "common/infill/green_forecast.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

#include "common/infill/spread.h"

namespace swardwalk::infill {
namespace {

// Taken in pairs of opposite sign: half the normals to make, and less noise.
constexpr int pairs = 2000;

/// SplitMix64 (Steele, Lea & Flood 2014): small, and the same on every machine, which
/// std::normal_distribution is not.
class Draw {
 public:
  explicit Draw(std::uint64_t seed) : state_(seed) {}

  /// Standard normal, by inversion.
  double normal() {
    // 53 bits, in the middle of their steps, so never 0 or 1.
    const double share = (static_cast<double>(next() >> 11) + 0.5) * 0x1.0p-53;
    return normalQuantile(share);
  }

 private:
  std::uint64_t next() {
    state_ += 0x9E3779B97F4A7C15ULL;
    std::uint64_t z = state_;
    z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9ULL;
    z = (z ^ (z >> 27)) * 0x94D049BB133111EBULL;
    return z ^ (z >> 31);
  }

  std::uint64_t state_;
};

/// Equally likely areas that are not yet puttable on the day, ascending.
using LikelyAreas = std::array<double, likelyValues>;

/// The same by standard normal z in even steps, so that a draw is one look-up.
class Areas {
 public:
  explicit Areas(const LikelyAreas& likely) {
    for (std::size_t i = 0; i < steps; ++i) {
      const double z = -furthest + static_cast<double>(i) / perUnit;
      byZ_[i] = likelyQuantile(likely, normalShare(z));
    }
  }

  double at(double z) const {
    const double place = std::clamp((z + furthest) * perUnit, 0.0, static_cast<double>(steps - 1));
    const auto below = std::min(static_cast<std::size_t>(place), steps - 2);
    return byZ_[below] + (place - static_cast<double>(below)) * (byZ_[below + 1] - byZ_[below]);
  }

 private:
  // The outermost of the equally likely values stands at 2.42.
  static constexpr double furthest = 2.5;
  static constexpr double perUnit = 40.0;
  static constexpr std::size_t steps = 201;
  std::array<double, steps> byZ_{};
};

/// Nothing where no size is known.
std::optional<LikelyAreas> areasOn(const PatchOnGreen& patch, double day) {
  const PatchForecast& forecast = *patch.forecast;
  LikelyAreas areas{};
  for (std::size_t k = 0; k < likelyValues; ++k) {
    const bool puttable = !forecast.puttableDays.empty() && forecast.puttableDays[k] <= day;
    if (puttable) continue;
    // What was open that long ago is what is not knit on the day.
    const double knit_d = forecast.edge ? patch.history->puttableAfterTouching_d : 0.0;
    auto open = openArea_m2(forecast, *patch.history, day - knit_d, shareOf(k));
    if (!open) return std::nullopt;
    // Touching is not puttable: turf just laid, seedlings, or said to be closed today.
    const bool touched = forecast.cover || forecast.verdict == Verdict::closed;
    if (touched && forecast.area_m2) open = forecast.area_m2->value;
    areas[k] = *open;
  }
  std::sort(areas.begin(), areas.end());
  return areas;
}

}  // namespace

std::optional<double> probabilityReady(std::span<const PatchOnGreen> patches, double green_m2,
                                       double limit, double day, std::uint64_t seed) {
  if (!(green_m2 > 0.0) || !std::isfinite(limit) || !std::isfinite(day)) return std::nullopt;
  std::vector<Areas> known;
  std::vector<double> seen_m2;
  int sizeless = 0;
  for (const PatchOnGreen& patch : patches) {
    if (patch.forecast->verdict == Verdict::feed) continue;
    if (const auto areas = areasOn(patch, day)) {
      known.emplace_back(*areas);
      seen_m2.push_back(patch.forecast->area_m2 ? patch.forecast->area_m2->value : 0.0);
    } else {
      ++sizeless;
    }
  }
  double always_m2 = 0.0;
  if (sizeless > 0) {
    if (seen_m2.empty()) return std::nullopt;
    const auto middle = seen_m2.begin() + static_cast<std::ptrdiff_t>(seen_m2.size() / 2);
    std::nth_element(seen_m2.begin(), middle, seen_m2.end());
    always_m2 = sizeless * *middle;
  }

  Draw draw(seed);
  const double common = std::sqrt(sharedOnGreen);
  const double own = std::sqrt(1.0 - sharedOnGreen);
  const double bearable_m2 = limit * green_m2;
  int ready = 0;
  for (int i = 0; i < pairs; ++i) {
    const double green = draw.normal();
    double bare_m2 = always_m2;
    double opposite_m2 = always_m2;
    for (const Areas& areas : known) {
      const double z = common * green + own * draw.normal();
      bare_m2 += areas.at(z);
      opposite_m2 += areas.at(-z);
    }
    if (bare_m2 < bearable_m2) ++ready;
    if (opposite_m2 < bearable_m2) ++ready;
  }
  return static_cast<double>(ready) / (2 * pairs);
}

}  // namespace swardwalk::infill
