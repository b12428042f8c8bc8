#include "common/infill/cover_fit.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "common/infill/sigmoid_fit.h"
#include "common/infill/spread.h"

namespace swardwalk::infill {
namespace {

constexpr std::array steepness = {0.6, 0.8, 1.0, 1.25, 1.6};
constexpr double longestPast_d = 1000.0;
const double toCovered = std::log(coveredShare / (1.0 - coveredShare));

double logistic(double at) { return 1.0 / (1.0 + std::exp(-at)); }

double uOf(const CoverSeen& look) {
  return std::hypot(look.share.u.value_or(assumedCover_u), unevenCover);
}

double growing_d(const GrowingTime* time, double from, double to) {
  return time ? time->between_d(from, to) : to - from;
}

struct Weighed {
  double day = 0.0;
  double log = 0.0;
};

/// Equally likely days from weighed ones.
std::vector<double> equallyLikely(std::vector<Weighed> days) {
  std::sort(days.begin(), days.end(),
            [](const Weighed& a, const Weighed& b) { return a.day < b.day; });
  double most = -std::numeric_limits<double>::infinity();
  for (const Weighed& one : days) most = std::max(most, one.log);
  double all = 0.0;
  for (Weighed& one : days) {
    one.log = std::exp(one.log - most);
    all += one.log;
  }
  std::vector<double> likely;
  likely.reserve(likelyValues);
  std::size_t at = 0;
  double upTo = days.front().log;
  for (std::size_t k = 0; k < likelyValues; ++k) {
    while (at + 1 < days.size() && upTo < shareOf(k) * all) upTo += days[++at].log;
    likely.push_back(days[at].day);
  }
  return likely;
}

}  // namespace

std::optional<CoverPace> coverPaceOf(std::span<const CoverSeen> looks, const GrowingTime* time) {
  constexpr std::size_t fewest = 3;
  if (looks.size() < fewest) return std::nullopt;
  std::vector<WeightedPoint> points;
  const double last = looks.back().day;
  for (const CoverSeen& look : looks) {
    points.push_back({-growing_d(time, look.day, last), look.share.value, uOf(look)});
  }
  if (!(points.back().x - points.front().x > 0.5)) return std::nullopt;
  const double now = std::clamp(looks.back().share.value, 0.02, 0.98);
  const Sigmoid start{1.0, -std::log(now / (1.0 - now)), 0.05, 1.0};
  const auto fit = fitSigmoid(points, start, {});
  if (!fit) return std::nullopt;
  constexpr double belief = 4.0;
  const double freedom = belief + fit->freedom;
  const double u = std::sqrt((belief + fit->chiSquared) / freedom) * fit->u.rate;
  const double reach = studentQuantile(0.9, freedom) * u;
  return CoverPace{fit->curve.rate, fit->curve.rate - reach, fit->curve.rate + reach};
}

std::vector<double> closesAfterSowing(std::span<const double> priorDays, double startDay,
                                      std::span<const CoverSeen> looks) {
  std::vector<Weighed> days;
  for (std::size_t k = 0; k < priorDays.size(); ++k) {
    // Slower than any prior day is possible, too: the last ones stretch.
    for (const double slower : {1.0, 1.5, 2.5}) {
      if (slower > 1.0 && k + 4 < priorDays.size()) continue;
      const double day = startDay + slower * std::max(1.0, priorDays[k] - startDay);
      if (!looks.empty() && day < looks.back().day) continue;
      for (const double steep : steepness) {
        const double pace = steep * 2.0 * toCovered / (day - startDay);
        double log = slower > 1.0 ? -1.0 : 0.0;
        for (const CoverSeen& look : looks) {
          const double expected = logistic(toCovered + pace * (look.day - day));
          const double off = (look.share.value - expected) / uOf(look);
          log -= 0.5 * off * off;
        }
        days.push_back({day, log});
      }
    }
  }
  if (days.empty()) {
    // Open for longer than any prior has it: as long again from now.
    const double day = looks.back().day;
    for (const double more : {0.25, 0.5, 1.0, 2.0}) {
      days.push_back({day + more * std::max(1.0, day - startDay), 0.0});
    }
  }
  return equallyLikely(std::move(days));
}

std::vector<double> closesFromInside(std::span<const CoverSeen> looks, const GrowingTime* time) {
  constexpr int paces = 33;
  constexpr int places = 25;
  constexpr double furthestZ = 3.2;
  const CoverSeen& last = looks.back();
  const double u = uOf(last);
  std::vector<Weighed> days;
  days.reserve(paces * places);
  for (int i = 0; i < paces; ++i) {
    const double z = furthestZ * (2.0 * i / (paces - 1) - 1.0);
    const double pace = rangeQuantile(coverPace_d, normalShare(z));
    for (int j = 0; j < places; ++j) {
      const double off = 3.0 * (2.0 * j / (places - 1) - 1.0);
      const double now = last.share.value + off * u;
      if (now <= 0.005 || now >= coveredShare) continue;
      const double place = std::log(now / (1.0 - now));
      double log = -0.5 * z * z;
      for (const CoverSeen& look : looks) {
        const double past = -growing_d(time, look.day, last.day);
        if (past < -longestPast_d) continue;
        const double missed = (look.share.value - logistic(place + pace * past)) / uOf(look);
        log -= 0.5 * missed * missed;
      }
      const double ahead = (toCovered - place) / pace;
      double day = last.day + ahead;
      if (time) {
        day = time->dayAfter(last.day, ahead).value_or(std::numeric_limits<double>::infinity());
      }
      days.push_back({day, log});
    }
  }
  if (days.empty()) return std::vector<double>(likelyValues, last.day);
  return equallyLikely(std::move(days));
}

}  // namespace swardwalk::infill
