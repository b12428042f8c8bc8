#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "common/geo/inset_curve.h"
#include "common/measure/measured.h"
#include "common/turf/kind.h"
#include "common/turf/species.h"

/// How grass closes a patch. Plain values in and out: days are counted from any epoch,
/// the same for all inputs of a call (fractions allowed).
namespace swardwalk::infill {

struct SizeSeen {
  double day = 0.0;
  measure::Measured area_m2;
};

enum class Verdict { closing, closed, stalled, growing, waitingForSeed, feed, cannotSayYet };
std::string_view word(Verdict verdict);

/// What is known before the first sighting: edge creep as the middle and the ends of
/// the central 80 %.
struct CreepPrior {
  turf::Range creep_mm_d;
};

/// Everything about one patch that its forecast depends on. Sightings are those of the
/// current chapter, by time; earlier chapters only count in `chapter`.
struct PatchHistory {
  turf::Kind kind = turf::Kind::bare;
  int chapter = 1;
  std::vector<SizeSeen> sizes;              ///< of this chapter
  int sightings = 0;                        ///< of all, with or without a size
  std::optional<double> closedDay;          ///< somebody said that it is closed
  std::optional<double> sownDay;            ///< last sowing of this chapter
  std::optional<double> upDay;              ///< it was seen up
  std::optional<turf::Range> daysUntilUp;   ///< from sowing, at the temperature of now
  std::optional<turf::Range> sownToPuttable_d;
  std::optional<double> turfedDay;
  const geo::InsetCurve* curve = nullptr;   ///< of the largest outline of this chapter; else an ellipse
  std::optional<CreepPrior> prior;          ///< absent: no species known
  double today = 0.0;
  double puttableAfterTouching_d = 14.0;    ///< knit and at height (see PUTTABLE in DEVELOPERS.md)
};

struct PatchForecast {
  Verdict verdict = Verdict::cannotSayYet;
  std::string model;  ///< "edge creep", "cover", or "none"
  int chapter = 1;
  int sightings = 0;
  std::optional<measure::Measured> area_m2;          ///< last seen
  std::optional<double> largestArea_m2;              ///< of the chapter
  std::optional<measure::Measured> creep_mm_d;
  std::optional<double> shareClosed;                 ///< 0..1 of the largest area
  std::optional<double> closesDay;                   ///< median
  std::optional<double> closesEarliestDay;           ///< central 80 %
  std::optional<double> closesLatestDay;
  std::optional<double> puttableDay;
  bool fromPriorOnly = false;
  double sightingSpan_d = 0.0;
  /// Left to itself: the curve to draw, day and area, with the 80 % band.
  struct CurvePoint { double day; double area_m2; double low_m2; double high_m2; };
  std::vector<CurvePoint> curve;
};

PatchForecast forecastPatch(const PatchHistory& history);

/// Chance that this patch is puttable on `day`: 0..1; nothing where nothing can be said.
std::optional<double> probabilityPuttable(const PatchForecast& forecast, double day);

/// Area that is expected to be open on `day`, quantile `share` of the forecast's creep
/// distribution (0.5 is the median; larger is slower creep, more open area).
std::optional<double> openArea_m2(const PatchForecast& forecast, const PatchHistory& history,
                                  double day, double share);

}  // namespace swardwalk::infill
