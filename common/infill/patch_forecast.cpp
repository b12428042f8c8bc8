#include "common/infill/patch_forecast.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <limits>

#include "common/infill/spread.h"

namespace swardwalk::infill {
namespace {

constexpr double never = std::numeric_limits<double>::infinity();

std::vector<SizeSeen> usableSizes(const PatchHistory& history) {
  std::vector<SizeSeen> sizes;
  sizes.reserve(history.sizes.size());
  for (const SizeSeen& size : history.sizes) {
    if (!std::isfinite(size.day) || !std::isfinite(size.area_m2.value)) continue;
    if (size.area_m2.value < 0.0) continue;
    SizeSeen kept = size;
    if (kept.area_m2.u && !(std::isfinite(*kept.area_m2.u) && *kept.area_m2.u >= 0.0)) {
      kept.area_m2.u.reset();
    }
    sizes.push_back(kept);
  }
  std::stable_sort(sizes.begin(), sizes.end(),
                   [](const SizeSeen& a, const SizeSeen& b) { return a.day < b.day; });
  return sizes;
}

double largestOf(std::span<const SizeSeen> sizes) {
  double largest_m2 = 0.0;
  for (const SizeSeen& size : sizes) largest_m2 = std::max(largest_m2, size.area_m2.value);
  return largest_m2;
}

bool open(const SizeSeen& size, double largest_m2) {
  return largest_m2 > 0.0 && size.area_m2.value >= closedShare * largest_m2;
}

/// The day on which it closed, if it did and was not seen open since.
std::optional<double> closedOn(const PatchHistory& history, std::span<const SizeSeen> sizes,
                               double largest_m2) {
  const bool seenOpen = !sizes.empty() && open(sizes.back(), largest_m2);
  if (history.closedDay && !(seenOpen && sizes.back().day > *history.closedDay)) {
    return history.closedDay;
  }
  if (!sizes.empty() && !seenOpen) return sizes.back().day;
  return std::nullopt;
}

std::optional<double> finite(double day) {
  return std::isfinite(day) ? std::optional(day) : std::nullopt;
}

void setDates(PatchForecast& forecast) {
  forecast.closesDay = finite(likelyQuantile(forecast.closesDays, 0.5));
  forecast.closesEarliestDay = finite(likelyQuantile(forecast.closesDays, 0.1));
  forecast.closesLatestDay = finite(likelyQuantile(forecast.closesDays, 0.9));
  forecast.puttableDay = finite(likelyQuantile(forecast.puttableDays, 0.5));
}

void close(PatchForecast& forecast, const PatchHistory& history, double day) {
  forecast.verdict = Verdict::closed;
  forecast.shareClosed = 1.0;
  forecast.closesDays.assign(likelyValues, day);
  forecast.puttableDays.assign(likelyValues, day + history.puttableAfterTouching_d);
  setDates(forecast);
}

/// What the sizes say about the edge without a prior; nothing where the gap closes.
std::optional<Verdict> notClosing(const CreepFit& fit, std::size_t sizes) {
  if (!fit.free_mm_d) return std::nullopt;
  const bool longEnough = static_cast<int>(sizes) >= stalledSizes && fit.span_d >= stalledSpan_d;
  const double high = longEnough ? fit.freeHigh_mm_d : fit.freeSurely_mm_d;
  if (high < 0.0) return Verdict::growing;
  if (longEnough && fit.freeLow_mm_d <= 0.0 && fit.freeHigh_mm_d >= 0.0) return Verdict::stalled;
  return std::nullopt;
}

/// Seed or edge, whichever is first; both lists go by the same shares.
void addDays(PatchForecast& forecast, double knit_d) {
  const std::vector<double> edge =
      forecast.edge ? forecast.edge->closesDays() : std::vector<double>{};
  for (std::size_t k = 0; k < likelyValues; ++k) {
    double closes = never;
    double puttable = never;
    if (forecast.edge) {
      closes = likelyQuantile(edge, shareOf(k));
      puttable = closes + knit_d;
    }
    if (forecast.cover) {
      closes = std::min(closes, forecast.cover->closesDays[k]);
      puttable = std::min(puttable, forecast.cover->puttableDays[k]);
    }
    forecast.closesDays.push_back(closes);
    forecast.puttableDays.push_back(puttable);
  }
  setDates(forecast);
}

/// Looks at the cover since a sowing came up: what is no longer open of what was.
std::vector<CoverSeen> looksSince(double day, std::span<const SizeSeen> sizes, double from_m2) {
  std::vector<CoverSeen> looks;
  for (const SizeSeen& size : sizes) {
    if (size.day < day || !(from_m2 > 0.0)) continue;
    measure::Measured share{std::clamp(1.0 - size.area_m2.value / from_m2, 0.0, 1.0), {}};
    if (size.area_m2.u) share.u = *size.area_m2.u / from_m2;
    looks.push_back({size.day, share});
  }
  return looks;
}

/// What the cover's own pace says, by the rule of the edge.
std::optional<Verdict> notCovering(std::span<const CoverSeen> looks, const GrowingTime* time) {
  if (looks.size() < static_cast<std::size_t>(stalledSizes)) return std::nullopt;
  if (looks.back().day - looks.front().day < stalledSpan_d) return std::nullopt;
  const auto pace = coverPaceOf(looks, time);
  if (!pace) return std::nullopt;
  if (pace->high < 0.0) return Verdict::growing;
  return pace->low <= 0.0 ? std::optional(Verdict::stalled) : std::nullopt;
}

std::optional<CoverForecast> coverOf(const PatchHistory& history,
                                     const std::vector<CoverSeen>& looks) {
  if (!history.sownDay || !history.sownToPuttable_d) return std::nullopt;
  if (!history.upDay && !history.daysUntilUp) return std::nullopt;
  return coverOfSown({.sownDay = *history.sownDay,
                      .upDay = history.upDay,
                      .daysUntilUp = history.daysUntilUp.value_or(turf::Range{}),
                      .sownToPuttable_d = *history.sownToPuttable_d,
                      .today = history.today,
                      .knit_d = history.puttableAfterTouching_d,
                      .looks = looks});
}

struct Seen {
  std::vector<SizeSeen> sizes;  ///< that are taken
  double largest_m2 = 0.0;
  std::optional<GapShape> shape;
};

Seen seenOf(const PatchHistory& history, std::vector<SizeSeen> sizes) {
  Seen seen;
  seen.largest_m2 = largestOf(sizes);
  seen.shape = GapShape::of(history.curve, seen.largest_m2);
  seen.sizes = std::move(sizes);
  return seen;
}

/// Sets one wild size aside, if there is one.
void setAside(PatchForecast& forecast, const PatchHistory& history, Seen& seen) {
  if (!seen.shape || history.sownDay) return;
  const auto wild = wildSize(*seen.shape, seen.sizes, history.prior, history.time.get());
  if (!wild) return;
  forecast.setAside = seen.sizes[*wild];
  std::vector<SizeSeen> kept = seen.sizes;
  kept.erase(kept.begin() + static_cast<std::ptrdiff_t>(*wild));
  seen = seenOf(history, std::move(kept));
}

void forecastFromEdge(PatchForecast& forecast, const PatchHistory& history, const Seen& seen,
                      std::optional<Verdict>& halted) {
  const CreepFit fit =
      fitCreep(*seen.shape, seen.sizes, history.prior, history.pool, history.time.get());
  halted = notClosing(fit, seen.sizes.size());
  forecast.creep_mm_d = halted ? fit.free_mm_d : fit.creep_mm_d;
  forecast.fromPriorOnly = forecast.creep_mm_d && !fit.free_mm_d;
  forecast.scatter = fit.scatter;
  forecast.told = fit.told;
  forecast.model = fit.free_mm_d ? "edge creep" : "none";
  if (forecast.setAside && fit.free_mm_d) {
    const double day = forecast.setAside->day;
    const double ago_d =
        history.time ? history.time->between_d(day, fit.lastDay) : fit.lastDay - day;
    const double inset_mm = fit.inset_mm - fit.free_mm_d->value * ago_d;
    forecast.expected_m2 = seen.shape->area_m2(inset_mm / 1000.0);
  }
  auto edge = edgeForecast(fit, *seen.shape, history.time);
  if (!edge) return;
  if (!halted) {
    forecast.edge = std::move(edge);
    forecast.model = "edge creep";
  } else if (*halted == Verdict::stalled) {
    forecast.doubted = std::move(edge);
    forecast.standsStill = fit.standsStill;
  }
}

void forecastOpen(PatchForecast& forecast, const PatchHistory& history, const Seen& seen) {
  std::optional<Verdict> halted;
  std::vector<CoverSeen> looks = history.coverSeen;
  const bool inside = !looks.empty() && !history.sownDay;
  if (history.upDay && history.sownDay)
    looks = looksSince(*history.upDay, seen.sizes, seen.largest_m2);
  if (inside) {
    halted = notCovering(looks, history.time.get());
    if (!halted) {
      forecast.cover = coverFromInside(looks, history.time.get(), history.puttableAfterTouching_d);
    }
    forecast.coverFrom_m2 = seen.sizes.empty() ? 0.0 : seen.sizes.back().area_m2.value;
    forecast.model = "cover";
  } else {
    if (seen.shape && !seen.sizes.empty()) forecastFromEdge(forecast, history, seen, halted);
    forecast.cover = coverOf(history, looks);
    if (forecast.cover) {
      forecast.model = "cover";
      forecast.coverFrom_m2 =
          looks.empty() && !seen.sizes.empty() ? seen.sizes.back().area_m2.value : seen.largest_m2;
      if (!looks.empty()) {
        halted = notCovering(looks, history.time.get());
        // Covering from within makes the edge's own pace hard to see.
        if (halted) forecast.cover.reset();
        forecast.edge.reset();
        forecast.doubted.reset();
        forecast.creep_mm_d.reset();
      }
    }
  }

  const bool waiting = history.sownDay && !history.upDay;
  if (forecast.edge || forecast.cover) {
    addDays(forecast, history.puttableAfterTouching_d);
    forecast.verdict = Verdict::closing;
  } else if (halted) {
    forecast.verdict = *halted;
  }
  if (waiting) {
    forecast.verdict = Verdict::waitingForSeed;
    forecast.model = "cover";
  }
}

}  // namespace

std::string_view word(Verdict verdict) {
  switch (verdict) {
    case Verdict::closing:
      return "closing";
    case Verdict::closed:
      return "closed";
    case Verdict::stalled:
      return "stalled";
    case Verdict::growing:
      return "growing";
    case Verdict::waitingForSeed:
      return "waiting for seed";
    case Verdict::feed:
      return "feed";
    case Verdict::cannotSayYet:
      return "cannot say yet";
  }
  return {};
}

PatchForecast forecastPatch(const PatchHistory& history) {
  PatchForecast forecast;
  Seen seen = seenOf(history, usableSizes(history));
  setAside(forecast, history, seen);
  const std::vector<SizeSeen>& sizes = seen.sizes;
  forecast.chapter = history.chapter;
  forecast.sightings = history.sightings;
  if (!sizes.empty()) {
    forecast.area_m2 = sizes.back().area_m2;
    forecast.largestArea_m2 = seen.largest_m2;
    forecast.sightingSpan_d = sizes.back().day - sizes.front().day;
    if (seen.largest_m2 > 0.0) {
      forecast.shareClosed = 1.0 - sizes.back().area_m2.value / seen.largest_m2;
    }
  }
  if (const auto day = closedOn(history, sizes, seen.largest_m2)) {
    close(forecast, history, *day);
    return forecast;
  }
  if (history.kind == turf::Kind::hungry) {
    forecast.verdict = Verdict::feed;
    return forecast;
  }
  if (history.turfedDay && (sizes.empty() || sizes.back().day <= *history.turfedDay)) {
    forecast.cover = coverOfTurf(*history.turfedDay);
    forecast.coverFrom_m2 = sizes.empty() ? 0.0 : sizes.back().area_m2.value;
    forecast.verdict = Verdict::closing;
    forecast.model = "cover";
    addDays(forecast, history.puttableAfterTouching_d);
    return forecast;
  }
  forecastOpen(forecast, history, seen);
  return forecast;
}

std::optional<double> probabilityPuttable(const PatchForecast& forecast, double day) {
  if (forecast.puttableDays.empty() || std::isnan(day)) return std::nullopt;
  return likelyShare(forecast.puttableDays, day);
}

}  // namespace swardwalk::infill
