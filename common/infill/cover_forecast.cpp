#include "common/infill/cover_forecast.h"

#include <algorithm>
#include <cmath>

#include "common/infill/spread.h"

namespace swardwalk::infill {

double CoverForecast::openShare(double day, double closesDay) const {
  if (day >= closesDay) return 0.0;
  if (day <= startDay) return 1.0;
  const double part = (day - startDay) / (closesDay - startDay);
  // From 5 % at 0 to 95 % at 0.9, so that the last stretch is nearly green.
  const double cover = 1.0 / (1.0 + std::exp(-2.0 * std::log(19.0) * (part - 0.45) / 0.9));
  return 1.0 - cover;
}

std::optional<CoverForecast> coverOfSown(const SownPatch& sown) {
  if (!usable(sown.sownToPuttable_d)) return std::nullopt;
  double growing_d = 0.0;
  CoverForecast cover;
  if (sown.upDay) {
    cover.startDay = *sown.upDay;
  } else {
    if (!usable(sown.daysUntilUp)) return std::nullopt;
    if (sown.today - sown.sownDay > sown.daysUntilUp.high) return std::nullopt;
    cover.startDay = std::max(sown.today, sown.sownDay + sown.daysUntilUp.best);
    growing_d = std::max(0.0, sown.sownToPuttable_d.low - sown.daysUntilUp.best);
  }
  for (std::size_t k = 0; k < likelyValues; ++k) {
    double puttable = sown.sownDay + rangeQuantile(sown.sownToPuttable_d, shareOf(k));
    if (!sown.upDay) puttable = std::max(puttable, sown.today + growing_d);
    cover.puttableDays.push_back(puttable);
    cover.closesDays.push_back(std::max(cover.startDay, puttable - sown.knit_d));
  }
  if (sown.upDay && !sown.looks.empty()) {
    cover.closesDays = closesAfterSowing(cover.closesDays, cover.startDay, sown.looks);
    for (std::size_t k = 0; k < likelyValues; ++k) {
      cover.puttableDays[k] = cover.closesDays[k] + sown.knit_d;
    }
  }
  return cover;
}

std::optional<CoverForecast> coverFromInside(const std::vector<CoverSeen>& looks,
                                             const GrowingTime* time, double knit_d) {
  const auto least = std::max_element(looks.begin(), looks.end(), [](const auto& a, const auto& b) {
    return a.share.value < b.share.value;
  });
  if (least == looks.end() || least->share.value < coverThatTells) return std::nullopt;
  CoverForecast cover;
  cover.startDay = looks.back().day;
  cover.closesDays = closesFromInside(looks, time);
  for (const double day : cover.closesDays) cover.puttableDays.push_back(day + knit_d);
  return cover;
}

CoverForecast coverOfTurf(double turfedDay) {
  CoverForecast cover;
  cover.startDay = turfedDay;
  cover.closesDays.assign(likelyValues, turfedDay);
  for (std::size_t k = 0; k < likelyValues; ++k) {
    cover.puttableDays.push_back(turfedDay + rangeQuantile(turfedToPuttable_d, shareOf(k)));
  }
  return cover;
}

}  // namespace swardwalk::infill
