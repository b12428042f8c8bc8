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

/// Shares at which the equally likely areas are taken.
const std::array<double, likelyValues>& shares() {
  static const std::array<double, likelyValues> all = [] {
    std::array<double, likelyValues> made{};
    for (std::size_t k = 0; k < likelyValues; ++k) made[k] = shareOf(k);
    return made;
  }();
  return all;
}

/// Named stalled: it stands still, or creeps after all.
std::optional<LikelyAreas> stalledAreas(const PatchForecast& forecast, const PatchHistory& history,
                                        double day) {
  const auto shape = GapShape::of(history.curve, forecast.largestArea_m2.value_or(0.0));
  if (!shape || !forecast.area_m2) return std::nullopt;
  const std::vector<double> insets =
      forecast.doubted->insets_mmOn(day - history.puttableAfterTouching_d);
  LikelyAreas areas{};
  for (std::size_t k = 0; k < likelyValues; ++k) {
    const double creeping = shareOf(k) / std::max(1e-9, 1.0 - forecast.standsStill);
    areas[k] = forecast.area_m2->value;
    if (creeping < 1.0) {
      const double inset_m = likelyQuantile(insets, 1.0 - creeping) / 1000.0;
      areas[k] = std::min(areas[k], shape->area_m2(inset_m));
    }
  }
  std::sort(areas.begin(), areas.end());
  return areas;
}

/// Nothing where no size is known.
std::optional<LikelyAreas> areasOn(const PatchOnGreen& patch, double day) {
  const PatchForecast& forecast = *patch.forecast;
  if (forecast.doubted && !forecast.cover) return stalledAreas(forecast, *patch.history, day);
  // What was open that long ago is what is not knit on the day.
  const double knit_d = forecast.edge ? patch.history->puttableAfterTouching_d : 0.0;
  const std::vector<double> open = openAreas_m2(forecast, *patch.history, day - knit_d, shares());
  // Touching is not puttable: turf just laid, seedlings, or said to be closed today.
  const bool touched = forecast.cover || forecast.verdict == Verdict::closed;
  LikelyAreas areas{};
  for (std::size_t k = 0; k < likelyValues; ++k) {
    const bool puttable = !forecast.puttableDays.empty() && forecast.puttableDays[k] <= day;
    if (puttable) continue;
    if (open.empty()) return std::nullopt;
    areas[k] = touched && forecast.area_m2 ? forecast.area_m2->value : open[k];
  }
  std::sort(areas.begin(), areas.end());
  return areas;
}

/// The patches of a green as the draws see them.
struct Drawable {
  std::vector<Areas> areas;
  std::vector<std::size_t> patch;  ///< index of each
  double always_m2 = 0.0;          ///< of patches without a size
  bool known = true;               ///< at least one size, or no patch
};

Drawable drawable(std::span<const PatchOnGreen> patches, double day) {
  Drawable out;
  std::vector<double> seen_m2;
  int sizeless = 0;
  for (std::size_t i = 0; i < patches.size(); ++i) {
    if (patches[i].forecast->verdict == Verdict::feed) continue;
    if (const auto areas = areasOn(patches[i], day)) {
      out.areas.emplace_back(*areas);
      out.patch.push_back(i);
      seen_m2.push_back(patches[i].forecast->area_m2 ? patches[i].forecast->area_m2->value : 0.0);
    } else {
      ++sizeless;
    }
  }
  if (sizeless == 0) return out;
  out.known = !seen_m2.empty();
  if (!out.known) return out;
  const auto middle = seen_m2.begin() + static_cast<std::ptrdiff_t>(seen_m2.size() / 2);
  std::nth_element(seen_m2.begin(), middle, seen_m2.end());
  out.always_m2 = sizeless * *middle;
  return out;
}

/// Bare area of a thin stand on a day, by standard normal z of its count and of its pace.
double thinArea_m2(const ThinStand& thin, double green_m2, double day, double z, double paceZ) {
  const double now = std::clamp(thin.share + z * thin.u, 0.0, 1.0);
  if (now <= 0.0 || now >= 1.0) return now * green_m2;
  const double pace = rangeQuantile(coverPace_d, normalShare(std::clamp(paceZ, -4.0, 4.0)));
  const double then =
      std::log(now / (1.0 - now)) - pace * std::max(0.0, day - knitAfterTouching_d - thin.day);
  return green_m2 / (1.0 + std::exp(-then));
}

/// What one draw came to: is it ready, and each patch's z.
template <class See>
void drawAll(const Drawable& green, double green_m2, double day, std::uint64_t seed,
             const std::optional<ThinStand>& thin, See see) {
  Draw draw(seed);
  const double common = std::sqrt(sharedOnGreen);
  const double own = std::sqrt(1.0 - sharedOnGreen);
  std::vector<double> z(green.areas.size());
  for (int i = 0; i < pairs; ++i) {
    const double shared = draw.normal();
    const double thinZ = thin ? draw.normal() : 0.0;
    for (double& one : z) one = common * shared + own * draw.normal();
    for (const double sign : {1.0, -1.0}) {
      double bare_m2 = green.always_m2;
      if (thin) bare_m2 += thinArea_m2(*thin, green_m2, day, sign * thinZ, -sign * shared);
      for (std::size_t k = 0; k < z.size(); ++k) bare_m2 += green.areas[k].at(sign * z[k]);
      see(bare_m2, sign, z);
    }
  }
}

/// How much of what is uncertain on `day` a look today would tell, 0..1.
double toldToday(const PatchOnGreen& patch, double day, double today) {
  constexpr double half = 0.5;
  const PatchForecast& forecast = *patch.forecast;
  if (!forecast.edge || forecast.cover) return half;
  const auto now = forecast.edge->inset_mmByPath(today);
  const auto then = forecast.edge->inset_mmByPath(day);
  const auto count = static_cast<double>(now.size());
  double meanNow = 0.0;
  double meanThen = 0.0;
  for (std::size_t k = 0; k < now.size(); ++k) {
    meanNow += now[k] / count;
    meanThen += then[k] / count;
  }
  double nowNow = 0.0;
  double thenThen = 0.0;
  double both = 0.0;
  for (std::size_t k = 0; k < now.size(); ++k) {
    nowNow += (now[k] - meanNow) * (now[k] - meanNow) / count;
    thenThen += (then[k] - meanThen) * (then[k] - meanThen) / count;
    both += (now[k] - meanNow) * (then[k] - meanThen) / count;
  }
  if (!(thenThen > 0.0) || !(nowNow > 0.0)) return 0.0;
  return std::abs(both) / std::sqrt(thenThen * (nowNow + lookEdge_u_mm * lookEdge_u_mm));
}

bool usableGreen(double green_m2, double limit, double day) {
  return green_m2 > 0.0 && std::isfinite(limit) && std::isfinite(day);
}

}  // namespace

std::optional<double> probabilityReady(std::span<const PatchOnGreen> patches, double green_m2,
                                       double limit, double day, std::uint64_t seed,
                                       const std::optional<ThinStand>& thin) {
  if (!usableGreen(green_m2, limit, day)) return std::nullopt;
  const Drawable green = drawable(patches, day);
  if (!green.known) return std::nullopt;
  const double bearable_m2 = limit * green_m2;
  int ready = 0;
  drawAll(green, green_m2, day, seed, thin,
          [&](double bare_m2, double, const std::vector<double>&) {
            ready += bare_m2 < bearable_m2 ? 1 : 0;
          });
  return static_cast<double>(ready) / (2 * pairs);
}

std::vector<NextLook> nextLooks(std::span<const PatchOnGreen> patches, double green_m2,
                                double limit, double day, double today, std::uint64_t seed,
                                std::size_t most) {
  constexpr double least = 0.005;
  constexpr std::size_t quarters = 4;
  constexpr double quarterZ = 0.6744897501960817;
  std::vector<NextLook> looks;
  if (!usableGreen(green_m2, limit, day)) return looks;
  const Drawable green = drawable(patches, day);
  std::vector<std::array<int, quarters>> draws(green.areas.size());
  std::vector<std::array<int, quarters>> readies(green.areas.size());
  int ready = 0;
  drawAll(green, green_m2, day, seed, std::nullopt,
          [&](double bare_m2, double sign, const std::vector<double>& z) {
            const int isReady = bare_m2 < limit * green_m2 ? 1 : 0;
            ready += isReady;
            for (std::size_t k = 0; k < z.size(); ++k) {
              const double at = sign * z[k];
              const std::size_t quarter =
                  at < 0.0 ? (at < -quarterZ ? 0 : 1) : (at < quarterZ ? 2 : 3);
              ++draws[k][quarter];
              readies[k][quarter] += isReady;
            }
          });
  const double probability = static_cast<double>(ready) / (2 * pairs);
  std::vector<bool> sized(patches.size(), false);
  for (std::size_t k = 0; k < green.areas.size(); ++k) {
    sized[green.patch[k]] = true;
    if (patches[green.patch[k]].forecast->verdict == Verdict::closed) continue;
    double moves = 0.0;
    for (std::size_t q = 0; q < quarters; ++q) {
      if (draws[k][q] == 0) continue;
      const double there = static_cast<double>(readies[k][q]) / draws[k][q];
      moves += std::abs(there - probability) * draws[k][q] / (2 * pairs);
    }
    moves *= toldToday(patches[green.patch[k]], day, today);
    if (moves >= least) looks.push_back({green.patch[k], moves});
  }
  for (std::size_t i = 0; i < patches.size(); ++i) {
    const bool counts = patches[i].forecast->verdict != Verdict::feed;
    if (!sized[i] && counts) looks.push_back({i, 1.0});
  }
  std::stable_sort(looks.begin(), looks.end(),
                   [](const NextLook& a, const NextLook& b) { return a.moves > b.moves; });
  if (looks.size() > most) looks.resize(most);
  return looks;
}

}  // namespace swardwalk::infill
