#pragma once

#include <vector>

#include "common/measure/measured.h"

/// What became of the nitrogen that a green on sand was given. Plain values in and out.
namespace swardwalk::repair {

/// Nitrogen of one feeding; days as in forecasts.
struct NitrogenGiven {
  double day = 0.0;
  double soluble_g_m2 = 0.0;
  double slow_g_m2 = 0.0;  ///< comes free evenly over `slowRelease_d`
};

/// One day's water: what fell, what was watered, and what the grass gave off.
struct WaterDay {
  double day = 0.0;  ///< begins here
  double fallen_mm = 0.0;
  double evaporated_mm = 0.0;
};

struct NitrogenTaken {
  double day = 0.0;
  double amount_g_m2 = 0.0;
};

/// Properties of the rootzone and of slow feeds, each with its sane range.
struct Rootzone {
  double roots_mm = 150.0;    ///< depth to which roots take up
  double holds_share = 0.12;  ///< water held against drainage, of the volume
  double holdsLow_share = 0.07;
  double holdsHigh_share = 0.17;
  double dry_share = 0.045;  ///< water that no root can take
  double slowRelease_d = 56.0;
};

struct NitrogenCase {
  std::vector<NitrogenGiven> given;  ///< any order
  std::vector<WaterDay> water;       ///< by day, without gaps from the first feeding on
  std::vector<NitrogenTaken> taken;  ///< with clippings; any order
  double from = 0.0;                 ///< sums count from here
  double today = 0.0;
  Rootzone rootzone;
};

/// All in g/m2. What is left is what could still feed the grass, at most: roots, thatch and
/// gas take their part, too.
struct NitrogenBalance {
  double given = 0.0;       ///< since `from`
  double taken = 0.0;       ///< since `from`, with clippings; no more than there was
  double washed = 0.0;      ///< since `from`, below the roots
  double unreleased = 0.0;  ///< of slow feeds
  measure::Measured left;   ///< free now; its doubt spans what sands hold
  double drained_mm = 0.0;  ///< since `from`
};

/// Each dressing is followed by itself: what is left of it is its amount less its share of
/// what was clipped, times 1 - `turf::washedDown` of all the water that ran through since.
/// Water runs through when the rootzone is full; it begins full (FAO-56 root zone
/// balance). The doubt is a central 80 % between sands that hold little and much, and a
/// tenth of what is left, because nobody spreads evenly.
NitrogenBalance nitrogenBalance(const NitrogenCase& green);

/// Dry grass in a litre of clippings, g, and nitrogen in dry grass, of 1: bentgrass 60 and
/// 0.04 (Woods, asianturfgrass.com, "Converting clipping volume to dry weight" and "Growth
/// ratio").
inline constexpr double clippingsDry_g_l = 60.0;
inline constexpr double clippingsNitrogenShare = 0.04;

/// Nitrogen taken off with clippings, g/m2. The area must be above 0.
double clippedNitrogen_g_m2(double clippings_l, double area_m2, double dry_g_l,
                            double nitrogenShare);

}  // namespace swardwalk::repair
