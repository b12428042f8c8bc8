#include "coverage.h"

#include <fmt/format.h>

#include <algorithm>
#include <boost/math/distributions/students_t.hpp>
#include <cmath>
#include <deque>

#include "common/infill/patch_forecast.h"
#include "common/infill/spread.h"
#include "outlines.h"

namespace swardwalk::infill::test {
namespace {

constexpr double tenYears_d = 3650.0;
const CreepPrior warm = {{1.0, 0.5, 1.8}};

struct Dates {
  double low = 0.0;
  double middle = 0.0;
  double high = 0.0;
};

class Scorer {
 public:
  void add(const Dates& dates, double truth) {
    ++score_.patches;
    if (dates.low <= truth && truth <= dates.high) ++score_.covered;
    widths_.push_back(dates.high - dates.low);
    errors_.push_back(std::abs(dates.middle - truth));
    // 2 over the share outside, 0.2.
    double score = dates.high - dates.low;
    if (truth < dates.low) score += 10.0 * (dates.low - truth);
    if (truth > dates.high) score += 10.0 * (truth - dates.high);
    sum_ += score;
  }
  void unnamed() { ++score_.unnamed; }

  Score score() {
    score_.medianWidth_d = median(widths_);
    score_.medianError_d = median(errors_);
    score_.intervalScore_d = sum_ / score_.patches;
    return score_;
  }

 private:
  static double median(std::vector<double>& values) {
    const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
    std::nth_element(values.begin(), middle, values.end());
    return *middle;
  }
  Score score_;
  std::vector<double> widths_;
  std::vector<double> errors_;
  double sum_ = 0.0;
};

/// What the model says, also of those that it then calls stalled.
Dates datesOf(const PatchForecast& forecast, double last) {
  std::vector<double> days;
  if (forecast.edge) days = forecast.edge->closesDays();
  if (forecast.doubted) days = forecast.doubted->closesDays();
  const auto at = [&](double share) {
    return std::min(likelyQuantile(days, share), last + tenYears_d);
  };
  return {at(0.1), at(0.5), at(0.9)};
}

/// Half the width last seen over the ends of the prior.
Dates priorAlone(const SimulatedPatch& patch) {
  const MeasuredSize& last = patch.looks.back();
  const double left_mm = 500.0 * std::min(last.length_m, last.width_m);
  return {last.day + left_mm / 1.8, last.day + left_mm, last.day + left_mm / 0.5};
}

/// Ordinary least squares of area over day; the day at which the line is at 0, with
/// Fieller's interval (1954).
Dates lineThroughAreas(const SimulatedPatch& patch) {
  const auto n = static_cast<double>(patch.looks.size());
  double meanDay = 0.0;
  double meanArea = 0.0;
  for (const auto& look : patch.looks) {
    meanDay += look.day / n;
    meanArea += look.area_m2 / n;
  }
  double squares = 0.0;
  double products = 0.0;
  for (const auto& look : patch.looks) {
    squares += (look.day - meanDay) * (look.day - meanDay);
    products += (look.day - meanDay) * (look.area_m2 - meanArea);
  }
  const double slope = products / squares;
  double residuals = 0.0;
  for (const auto& look : patch.looks) {
    const double off = look.area_m2 - meanArea - slope * (look.day - meanDay);
    residuals += off * off;
  }
  const double variance = residuals / (n - 2.0);
  const double last = patch.looks.back().day;
  const double t = boost::math::quantile(boost::math::students_t(n - 2.0), 0.9);
  const auto within = [&](double day) { return std::clamp(day, last, last + tenYears_d); };
  const double reach = t * std::sqrt(variance / squares);
  const double middle = slope < 0.0 ? within(meanDay - meanArea / slope) : last + tenYears_d;
  // Roots of (area at x)^2 = t^2 var(area at x).
  const double a = slope * slope - reach * reach;
  const double b = 2.0 * slope * meanArea;
  const double c = meanArea * meanArea - t * t * variance / n;
  if (!(a > 0.0) || slope >= 0.0) return {last, middle, last + tenYears_d};
  const double root = std::sqrt(std::max(0.0, b * b - 4.0 * a * c));
  return {within(meanDay + (-b - root) / (2.0 * a)), middle,
          within(meanDay + (-b + root) / (2.0 * a))};
}

struct Scorers {
  Scorer model;
  Scorer pooled;
  Scorer prior;
  Scorer line;
};

PatchHistory historyOf(const SimulatedPatch& patch, std::deque<geo::InsetCurve>& curves) {
  PatchHistory history;
  for (const MeasuredSize& look : patch.looks) {
    history.sizes.push_back({look.day, {look.area_m2, look.area_u_m2}});
  }
  history.prior = warm;
  history.today = patch.looks.back().day;
  if (patch.strip) {
    // As the answers do: the outline of the largest look.
    const auto largest =
        std::max_element(patch.looks.begin(), patch.looks.end(),
                         [](const auto& a, const auto& b) { return a.area_m2 < b.area_m2; });
    curves.emplace_back(rectangle(largest->length_m, largest->width_m));
    history.curve = &curves.back();
  }
  return history;
}

void add(Scorer& scorer, const PatchForecast& forecast, const SimulatedPatch& patch) {
  if (!forecast.closesDay) scorer.unnamed();
  // Called growing by its sizes: no interval at all.
  if (!forecast.edge && !forecast.doubted) return;
  scorer.add(datesOf(forecast, patch.looks.back().day), patch.closesDay);
}

}  // namespace

std::map<int, Scores> scoresOf(const Truth& truth, int greens, std::uint64_t seed) {
  std::map<int, Scorers> scorers;
  for (int g = 0; g < greens; ++g) {
    const SimulatedGreen green = simulate(truth, seed + static_cast<std::uint64_t>(g));
    std::deque<geo::InsetCurve> curves;
    std::vector<PatchHistory> histories;
    std::vector<CreepTold> told;
    for (const SimulatedPatch& patch : green.patches) {
      const int looks = static_cast<int>(patch.looks.size());
      histories.push_back(historyOf(patch, curves));
      const PatchForecast forecast = forecastPatch(histories.back());
      told.push_back(forecast.told.value_or(CreepTold{}));
      Scorers& scorer = scorers[looks];
      add(scorer.model, forecast, patch);
      scorer.prior.add(priorAlone(patch), patch.closesDay);
      if (looks >= 3) scorer.line.add(lineThroughAreas(patch), patch.closesDay);
    }
    const GreenPool pool(logCreepOf(warm.creep_mm_d), told);
    for (std::size_t i = 0; i < histories.size(); ++i) {
      histories[i].pool = pool.without(i);
      add(scorers[static_cast<int>(green.patches[i].looks.size())].pooled,
          forecastPatch(histories[i]), green.patches[i]);
    }
  }
  std::map<int, Scores> scores;
  for (auto& [looks, scorer] : scorers) {
    scores[looks] = {scorer.model.score(), scorer.pooled.score(), scorer.prior.score(), {}};
    if (looks >= 3) scores[looks].line = scorer.line.score();
  }
  return scores;
}

std::string tableHead() {
  return "| forecast | sightings | covered | no date | width, d | error, d | score, d |\n"
         "| --- | --- | --- | --- | --- | --- | --- |\n";
}

std::string tableLine(const std::string& name, int looks, const Score& score) {
  return fmt::format("| {} | {} | {:.1f} % | {:.1f} % | {:.0f} | {:.0f} | {:.0f} |\n", name, looks,
                     100.0 * score.coverage(), 100.0 * score.unnamed / score.patches,
                     score.medianWidth_d, score.medianError_d, score.intervalScore_d);
}

}  // namespace swardwalk::infill::test
