#include "common/repair/nitrogen_balance.h"

#include <algorithm>
#include <cmath>

#include "common/turf/water.h"

namespace swardwalk::repair {
namespace {

/// Half of a central 80 % in standard uncertainties (normal distribution).
constexpr double eightyPercent = 1.2815515655446004;

/// How evenly a feed is spread and how well its rate is kept, of the amount (common
/// practice, no source).
constexpr double spreading_u_share = 0.1;

/// What came free on one day, and what ran through since.
struct Dressing {
  double day = 0.0;
  double amount_g_m2 = 0.0;  ///< less what was clipped of it, as if before it washed
  double drained_mm = 0.0;

  double left(const Rootzone& rootzone, double holds_share) const {
    return amount_g_m2 * (1.0 - turf::washedDown(drained_mm, rootzone.roots_mm, holds_share));
  }
};

std::vector<Dressing> dressingsOf(const NitrogenCase& green) {
  std::vector<Dressing> dressings;
  for (const NitrogenGiven& given : green.given) {
    if (given.soluble_g_m2 > 0.0) dressings.push_back({given.day, given.soluble_g_m2, 0.0});
    if (!(given.slow_g_m2 > 0.0)) continue;
    const int days = std::max(1, static_cast<int>(std::lround(green.rootzone.slowRelease_d)));
    for (int i = 0; i < days; ++i) {
      const double day = given.day + i;
      if (day <= green.today) dressings.push_back({day, given.slow_g_m2 / days, 0.0});
    }
  }
  std::stable_sort(dressings.begin(), dressings.end(),
                   [](const Dressing& a, const Dressing& b) { return a.day < b.day; });
  return dressings;
}

class Ledger {
 public:
  Ledger(const NitrogenCase& green, double holds_share)
      : green_(green), holds_share_(holds_share), dressings_(dressingsOf(green)) {}

  NitrogenBalance run() {
    const Rootzone& zone = green_.rootzone;
    const double most_mm = std::max(0.0, holds_share_ - zone.dry_share) * zone.roots_mm;
    double held_mm = most_mm;
    for (const WaterDay& water : green_.water) {
      if (water.day > green_.today) break;
      held_mm += water.fallen_mm - water.evaporated_mm;
      const double drained_mm = std::max(0.0, held_mm - most_mm);
      held_mm = std::clamp(held_mm, 0.0, most_mm);
      drain(water.day, drained_mm);
      take(water.day);
    }
    for (const NitrogenGiven& given : green_.given) {
      if (given.day >= green_.from && given.day <= green_.today) {
        balance_.given += given.soluble_g_m2 + given.slow_g_m2;
      }
    }
    double free = 0.0;
    for (const Dressing& dressing : dressings_) free += dressing.left(zone, holds_share_);
    balance_.left = {free, std::nullopt};
    balance_.unreleased = unreleased();
    return balance_;
  }

 private:
  void drain(double day, double drained_mm) {
    if (day >= green_.from) balance_.drained_mm += drained_mm;
    for (Dressing& dressing : dressings_) {
      // Rain of the day of a feeding is taken to fall after it.
      if (dressing.day >= day + 1.0) break;
      const double before = dressing.left(green_.rootzone, holds_share_);
      dressing.drained_mm += drained_mm;
      if (day >= green_.from) {
        balance_.washed += before - dressing.left(green_.rootzone, holds_share_);
      }
    }
  }

  /// Clippings of the day, from every dressing by what is left of it.
  void take(double day) {
    double wanted = 0.0;
    for (const NitrogenTaken& taken : green_.taken) {
      if (taken.day >= day && taken.day < day + 1.0) wanted += taken.amount_g_m2;
    }
    if (!(wanted > 0.0)) return;
    double free = 0.0;
    for (const Dressing& dressing : dressings_) {
      if (dressing.day < day + 1.0) free += dressing.left(green_.rootzone, holds_share_);
    }
    if (!(free > 0.0)) return;
    const double share = std::min(1.0, wanted / free);
    for (Dressing& dressing : dressings_) {
      if (dressing.day < day + 1.0) dressing.amount_g_m2 *= 1.0 - share;
    }
    if (day >= green_.from) balance_.taken += share * free;
  }

  double unreleased() const {
    double rest = 0.0;
    for (const NitrogenGiven& given : green_.given) {
      const double share =
          std::clamp((green_.today - given.day) / green_.rootzone.slowRelease_d, 0.0, 1.0);
      rest += given.slow_g_m2 * (1.0 - share);
    }
    return rest;
  }

  const NitrogenCase& green_;
  double holds_share_;
  std::vector<Dressing> dressings_;
  NitrogenBalance balance_;
};

}  // namespace

NitrogenBalance nitrogenBalance(const NitrogenCase& green) {
  NitrogenBalance balance = Ledger(green, green.rootzone.holds_share).run();
  const double little = Ledger(green, green.rootzone.holdsLow_share).run().left.value;
  const double much = Ledger(green, green.rootzone.holdsHigh_share).run().left.value;
  balance.left.u = std::hypot(std::abs(much - little) / (2.0 * eightyPercent),
                              spreading_u_share * balance.left.value);
  return balance;
}

double clippedNitrogen_g_m2(double clippings_l, double area_m2, double dry_g_l,
                            double nitrogenShare) {
  return clippings_l / area_m2 * dry_g_l * nitrogenShare;
}

}  // namespace swardwalk::repair
