#pragma once

#include <memory>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "common/geo/inset_curve.h"
#include "common/infill/cover_forecast.h"
#include "common/infill/creep_fit.h"
#include "common/infill/edge_forecast.h"
#include "common/measure/measured.h"
#include "common/turf/kind.h"
#include "common/turf/species.h"

/// How grass closes a patch. Plain values in and out: days are counted from any epoch,
/// the same for all inputs of a call (fractions allowed).
namespace swardwalk::infill {

enum class Verdict { closing, closed, stalled, growing, waitingForSeed, feed, cannotSayYet };

/// As the answers write it: "waiting for seed".
std::string_view word(Verdict verdict);

/// A patch counts as closed once its last size is under this share of its largest.
inline constexpr double closedShare = 0.05;

/// Stalled needs this many sizes over this long (contract.md).
inline constexpr int stalledSizes = 3;
inline constexpr double stalledSpan_d = 14.0;

/// Everything about one patch that its forecast depends on. Sightings are those of the
/// current chapter, in any order; earlier chapters only count in `chapter`. Sizes that
/// are no numbers or negative are left out.
struct PatchHistory {
  turf::Kind kind = turf::Kind::bare;
  int chapter = 1;
  std::vector<SizeSeen> sizes;             ///< of this chapter
  int sightings = 0;                       ///< of all, with or without a size
  std::optional<double> closedDay;         ///< somebody said that it is closed
  std::optional<double> sownDay;           ///< last sowing of this chapter, unless washed out
  std::optional<double> upDay;             ///< it was seen up
  std::optional<turf::Range> daysUntilUp;  ///< from sowing, at the temperature of now
  std::optional<turf::Range> sownToPuttable_d;
  std::optional<double> turfedDay;
  std::vector<CoverSeen> coverSeen;        ///< living plants inside an outline that does not shrink
  const geo::InsetCurve* curve = nullptr;  ///< of the largest outline of this chapter; else a disc
  std::optional<CreepPrior> prior;         ///< absent: no species known, or too cold
  CreepPool pool;                          ///< what the green's other patches tell
  std::shared_ptr<const GrowingTime> time;  ///< null: calendar days
  double today = 0.0;
  double puttableAfterTouching_d = knitAfterTouching_d;  ///< knit and at height
};

struct PatchForecast {
  Verdict verdict = Verdict::cannotSayYet;
  std::string model = "none";  ///< "edge creep", "cover", or "none"
  int chapter = 1;
  int sightings = 0;
  std::optional<measure::Measured> area_m2;  ///< last seen
  std::optional<double> largestArea_m2;      ///< of the chapter, less what was set aside
  std::optional<measure::Measured> creep_mm_d;
  std::optional<double> shareClosed;        ///< 0..1 of the largest area
  std::optional<double> closesDay;          ///< median; the day itself for a closed one
  std::optional<double> closesEarliestDay;  ///< central 80 %
  std::optional<double> closesLatestDay;    ///< absent beyond ten years
  std::optional<double> puttableDay;        ///< median
  bool fromPriorOnly = false;               ///< no two sizes half a day apart yet
  double sightingSpan_d = 0.0;              ///< from the first size to the last
  double scatter = 1.0;                     ///< of the sizes about the fit, in stated uncertainties
  std::optional<SizeSeen> setAside;         ///< the one that does not fit the others
  std::optional<double> expected_m2;        ///< what the others say of its day
  std::optional<CreepTold> told;            ///< for the other patches of the green
  std::vector<double> closesDays;    ///< equally likely, ascending; infinite: not in ten years
  std::vector<double> puttableDays;  ///< likewise

  // What the dates were read from.
  std::optional<EdgeForecast> edge;    ///< the gap closes from its edge
  std::optional<CoverForecast> cover;  ///< it was sown or turfed, or has plants inside
  double coverFrom_m2 = 0.0;           ///< what was open when the cover began
  /// Named stalled, but it may creep after all: how it then would, and the chance that it
  /// stands still.
  std::optional<EdgeForecast> doubted;
  double standsStill = 0.0;
};

/// The forecast of one patch. A sown patch closes by its seed or from its edge, whichever
/// is first; one with living plants inside closes as cover. One wild size is set aside.
/// Stalled and growing ones get no date: stalled, with 14 days and three sizes,
/// where the central 80 % of the creep fitted without prior contains 0; growing where it
/// lies below 0, with fewer sizes or days only where its 95 % does (two tape readings a
/// day apart differ by more than grass moves); the same by the pace of the cover for those
/// that close as cover. Hungry ones are fed.
PatchForecast forecastPatch(const PatchHistory& history);

/// Chance that this patch is puttable on `day`: 0..1; nothing where nothing can be said
/// (stalled, growing, hungry, or not enough known).
std::optional<double> probabilityPuttable(const PatchForecast& forecast, double day);

/// Area that is expected to be open on `day`, quantile `share` (0 < share < 1) of the
/// forecast (0.5 is the median; larger is slower creep, more open area). As last seen
/// where nothing can be said; nothing where no size was seen, or for a hungry patch.
/// `history` is the one that the forecast was made from.
/// Empty in `openAreas_m2` where this is nothing.
std::optional<double> openArea_m2(const PatchForecast& forecast, const PatchHistory& history,
                                  double day, double share);

/// The same for many shares at once, ascending shares.
std::vector<double> openAreas_m2(const PatchForecast& forecast, const PatchHistory& history,
                                 double day, std::span<const double> shares);

/// A point of the curve to draw.
struct CurvePoint {
  double day = 0.0;
  double area_m2 = 0.0;
  double low_m2 = 0.0;
  double high_m2 = 0.0;
};

/// From the first size on: day and area left to itself, with the 80 % band; a line through
/// what was seen for a patch that does not close. Empty where there is nothing to draw.
std::vector<CurvePoint> closingCurve(const PatchForecast& forecast, const PatchHistory& history);

}  // namespace swardwalk::infill
