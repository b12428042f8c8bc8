#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>

#include "common/infill/patch_forecast.h"
#include "common/infill/spread.h"

namespace swardwalk::infill {
namespace {

constexpr int curvePoints = 41;
constexpr double longestCurve_d = 365.0;
constexpr std::array drawn = {0.1, 0.5, 0.9};

std::optional<GapShape> shapeOf(const PatchForecast& forecast, const PatchHistory& history) {
  return GapShape::of(history.curve, forecast.largestArea_m2.value_or(0.0));
}

/// A line through what was seen, for a patch that does not close.
std::vector<CurvePoint> lineOf(const PatchForecast& forecast, const PatchHistory& history,
                               const GapShape& shape, double from, double last, double to) {
  std::vector<CurvePoint> curve;
  const double slope = forecast.creep_mm_d->value;
  const double u = forecast.creep_mm_d->u.value_or(0.0);
  const double middle = 0.5 * (from + last);
  const double end_mm = 1000.0 * shape.inset_m(forecast.area_m2->value);
  const auto between = [&](double a, double b) {
    return history.time ? history.time->between_d(a, b) : b - a;
  };
  for (int i = 0; i < curvePoints; ++i) {
    const double day = from + (to - from) * i / (curvePoints - 1);
    const double on_mm = end_mm + slope * between(last, day);
    const double off_mm = z80 * u * std::abs(between(middle, day));
    curve.push_back({day, shape.area_m2(on_mm / 1000.0), shape.area_m2((on_mm + off_mm) / 1000.0),
                     shape.area_m2((on_mm - off_mm) / 1000.0)});
  }
  return curve;
}

}  // namespace

std::vector<double> openAreas_m2(const PatchForecast& forecast, const PatchHistory& history,
                                 double day, std::span<const double> shares) {
  if (forecast.verdict == Verdict::feed) return {};
  std::vector<double> open(shares.size(), 0.0);
  if (forecast.verdict == Verdict::closed) return open;
  if (!forecast.area_m2) return {};
  std::fill(open.begin(), open.end(), forecast.area_m2->value);
  const auto shape = shapeOf(forecast, history);
  if (!shape) return open;
  if (forecast.edge) {
    const std::vector<double> insets = forecast.edge->insets_mmOn(day);
    for (std::size_t i = 0; i < shares.size(); ++i) {
      open[i] = shape->area_m2(likelyQuantile(insets, 1.0 - shares[i]) / 1000.0);
    }
  }
  if (forecast.cover) {
    for (std::size_t i = 0; i < shares.size(); ++i) {
      const double closes = likelyQuantile(forecast.cover->closesDays, shares[i]);
      const double covering_m2 = forecast.coverFrom_m2 * forecast.cover->openShare(day, closes);
      // Sown places close by seed or edge, whichever is further.
      open[i] = forecast.edge ? std::min(open[i], covering_m2) : covering_m2;
    }
  }
  return open;
}

std::optional<double> openArea_m2(const PatchForecast& forecast, const PatchHistory& history,
                                  double day, double share) {
  assert(share > 0.0 && share < 1.0);
  const std::vector<double> open = openAreas_m2(forecast, history, day, std::array{share});
  return open.empty() ? std::nullopt : std::optional(open.front());
}

std::vector<CurvePoint> closingCurve(const PatchForecast& forecast, const PatchHistory& history) {
  const auto shape = shapeOf(forecast, history);
  if (!shape || !forecast.area_m2) return {};
  double from = history.today;
  double last = -1e300;
  for (const SizeSeen& size : history.sizes) {
    if (!std::isfinite(size.day)) continue;
    from = std::min(from, size.day);
    last = std::max(last, size.day);
  }
  if (!forecast.edge && !forecast.cover) {
    const bool seen = forecast.creep_mm_d && forecast.verdict != Verdict::waitingForSeed;
    if (!seen || forecast.verdict == Verdict::closed) return {};
    return lineOf(forecast, history, *shape, from, last, std::max(last, history.today) + 14.0);
  }
  double to = forecast.closesLatestDay.value_or(forecast.closesDay.value_or(history.today) + 90.0);
  to = std::min(std::max(to, history.today + 14.0), history.today + longestCurve_d);
  std::vector<CurvePoint> curve;
  for (int i = 0; i < curvePoints; ++i) {
    const double day = from + (to - from) * i / (curvePoints - 1);
    const std::vector<double> open = openAreas_m2(forecast, history, day, drawn);
    if (open.empty()) return {};
    curve.push_back({day, open[1], open[0], open[2]});
  }
  return curve;
}

}  // namespace swardwalk::infill
