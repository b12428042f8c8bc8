#include "common/infill/patch_forecast.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <limits>

#include "common/infill/spread.h"

namespace swardwalk::infill {
namespace {

constexpr double never = std::numeric_limits<double>::infinity();
constexpr int curvePoints = 41;
constexpr double longestCurve_d = 365.0;

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
  for (std::size_t k = 0; k < likelyValues; ++k) {
    double closes = never;
    double puttable = never;
    if (forecast.edge) {
      closes = forecast.edge->closesDay(shareOf(k)).value_or(never);
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

double openBy(const PatchForecast& forecast, const GapShape& shape, double day, double share) {
  double open_m2 = forecast.area_m2->value;
  if (forecast.edge) {
    open_m2 = shape.area_m2(forecast.edge->inset_mmOn(day, 1.0 - share) / 1000.0);
  }
  if (forecast.cover) {
    const double closes = likelyQuantile(forecast.cover->closesDays, share);
    open_m2 *= forecast.cover->openShare(day, closes);
  }
  return open_m2;
}

/// A line through what was seen, for a patch that does not close.
void drawFit(PatchForecast& forecast, const CreepFit& fit, const GapShape& shape, double from,
             double to) {
  const double slope = forecast.creep_mm_d->value;
  const double u = *forecast.creep_mm_d->u;
  for (int i = 0; i < curvePoints; ++i) {
    const double day = from + (to - from) * i / (curvePoints - 1);
    const double on_mm = fit.inset_mm + slope * (day - fit.day);
    const double off_mm = z80 * std::hypot(fit.inset_u_mm, u * (day - fit.day));
    forecast.curve.push_back({day, shape.area_m2(on_mm / 1000.0),
                              shape.area_m2((on_mm + off_mm) / 1000.0),
                              shape.area_m2((on_mm - off_mm) / 1000.0)});
  }
}

void drawForecast(PatchForecast& forecast, const GapShape& shape, double from, double today) {
  double to = forecast.closesLatestDay.value_or(forecast.closesDay.value_or(today) + 90.0);
  to = std::min(std::max(to, today + 14.0), today + longestCurve_d);
  for (int i = 0; i < curvePoints; ++i) {
    const double day = from + (to - from) * i / (curvePoints - 1);
    forecast.curve.push_back({day, openBy(forecast, shape, day, 0.5),
                              openBy(forecast, shape, day, 0.1),
                              openBy(forecast, shape, day, 0.9)});
  }
}

std::optional<CoverForecast> coverOf(const PatchHistory& history) {
  if (!history.sownDay || !history.sownToPuttable_d) return std::nullopt;
  if (!history.upDay && !history.daysUntilUp) return std::nullopt;
  return coverOfSown({.sownDay = *history.sownDay,
                      .upDay = history.upDay,
                      .daysUntilUp = history.daysUntilUp.value_or(turf::Range{}),
                      .sownToPuttable_d = *history.sownToPuttable_d,
                      .today = history.today,
                      .knit_d = history.puttableAfterTouching_d});
}

void forecastOpen(PatchForecast& forecast, const PatchHistory& history,
                  std::span<const SizeSeen> sizes, double largest_m2) {
  const auto shape = GapShape::of(history.curve, largest_m2);
  std::optional<CreepFit> fit;
  std::optional<Verdict> halted;
  if (shape && !sizes.empty()) {
    fit = fitCreep(*shape, sizes, history.prior);
    halted = notClosing(*fit, sizes.size());
    forecast.creep_mm_d = halted ? fit->free_mm_d : fit->creep_mm_d;
    forecast.fromPriorOnly = forecast.creep_mm_d && !fit->free_mm_d;
    if (!halted) forecast.edge = edgeForecast(*fit, *shape);
  }
  forecast.cover = coverOf(history);

  const bool waiting = history.sownDay && !history.upDay;
  if (forecast.edge || forecast.cover) {
    addDays(forecast, history.puttableAfterTouching_d);
    forecast.verdict = Verdict::closing;
  } else if (halted) {
    forecast.verdict = *halted;
  }
  forecast.model = forecast.cover ? "cover" : fit && fit->free_mm_d ? "edge creep" : "none";
  if (forecast.edge && !forecast.cover) forecast.model = "edge creep";
  if (waiting) {
    forecast.verdict = Verdict::waitingForSeed;
    forecast.model = "cover";
  }

  if (!shape || sizes.empty()) return;
  const double from = sizes.front().day;
  if (forecast.edge || forecast.cover) {
    drawForecast(forecast, *shape, from, history.today);
  } else if (halted && !waiting) {
    drawFit(forecast, *fit, *shape, from, std::max(sizes.back().day, history.today) + 14.0);
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
  const std::vector<SizeSeen> sizes = usableSizes(history);
  const double largest_m2 = largestOf(sizes);
  PatchForecast forecast;
  forecast.chapter = history.chapter;
  forecast.sightings = history.sightings;
  if (!sizes.empty()) {
    forecast.area_m2 = sizes.back().area_m2;
    forecast.largestArea_m2 = largest_m2;
    forecast.sightingSpan_d = sizes.back().day - sizes.front().day;
    if (largest_m2 > 0.0) {
      forecast.shareClosed = 1.0 - sizes.back().area_m2.value / largest_m2;
    }
  }
  if (const auto day = closedOn(history, sizes, largest_m2)) {
    close(forecast, history, *day);
    return forecast;
  }
  if (history.kind == turf::Kind::hungry) {
    forecast.verdict = Verdict::feed;
    return forecast;
  }
  if (history.turfedDay && (sizes.empty() || sizes.back().day <= *history.turfedDay)) {
    forecast.cover = coverOfTurf(*history.turfedDay);
    forecast.verdict = Verdict::closing;
    forecast.model = "cover";
    addDays(forecast, history.puttableAfterTouching_d);
    return forecast;
  }
  forecastOpen(forecast, history, sizes, largest_m2);
  return forecast;
}

std::optional<double> probabilityPuttable(const PatchForecast& forecast, double day) {
  if (forecast.puttableDays.empty() || std::isnan(day)) return std::nullopt;
  return likelyShare(forecast.puttableDays, day);
}

std::optional<double> openArea_m2(const PatchForecast& forecast, const PatchHistory& history,
                                  double day, double share) {
  assert(share > 0.0 && share < 1.0);
  if (forecast.verdict == Verdict::feed) return std::nullopt;
  if (forecast.verdict == Verdict::closed) return 0.0;
  if (!forecast.area_m2) return std::nullopt;
  const auto shape = GapShape::of(history.curve, forecast.largestArea_m2.value_or(0.0));
  if (!shape || (!forecast.edge && !forecast.cover)) return forecast.area_m2->value;
  return openBy(forecast, *shape, day, share);
}

}  // namespace swardwalk::infill
