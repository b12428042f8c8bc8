#pragma once

#include <optional>
#include <vector>

#include "common/infill/cover_fit.h"
#include "common/turf/species.h"

namespace swardwalk::infill {

/// Turf laid today is knit after 14 to 21 days (common practice, no source).
inline constexpr turf::Range turfedToPuttable_d = {17.5, 14.0, 21.0};

/// From touching to puttable, knit and at height (common practice, no source).
inline constexpr double knitAfterTouching_d = 14.0;

/// A sown or turfed place covers from within. Lists are equally likely days, ascending.
/// Plain value; safe to share between threads.
struct CoverForecast {
  double startDay = 0.0;  ///< from here cover grows: it is up, or the turf lies
  std::vector<double> closesDays;
  std::vector<double> puttableDays;

  /// Share that is still open on a day, 1..0, if it closes on `closesDay`: logistic cover,
  /// 5 % at the start and 95 % a tenth of the way before it closes.
  double openShare(double day, double closesDay) const;
};

/// What a sowing's cover depends on; days from any epoch.
struct SownPatch {
  double sownDay = 0.0;
  std::optional<double> upDay;
  turf::Range daysUntilUp;
  turf::Range sownToPuttable_d;
  double today = 0.0;
  double knit_d = knitAfterTouching_d;
  std::vector<CoverSeen> looks{};  ///< since it is up, by day
};

/// Puttable as long after sowing as the range says, but what is not up by today still has
/// all its growing to do; touching `knit_d` earlier, no earlier than it is up. What was
/// seen of its cover since weighs those days. Nothing for a sowing that is overdue (nobody
/// knows whether it comes) or ranges without sense.
std::optional<CoverForecast> coverOfSown(const SownPatch& sown);

CoverForecast coverOfTurf(double turfedDay);

/// Living plants inside an outline that does not shrink cover it from within. `looks` by
/// day, not empty; `time` null: calendar days. Nothing below `coverThatTells`.
std::optional<CoverForecast> coverFromInside(const std::vector<CoverSeen>& looks,
                                             const GrowingTime* time, double knit_d);

}  // namespace swardwalk::infill
