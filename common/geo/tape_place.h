#pragma once

#include <span>
#include <string>
#include <vector>

#include "common/failure.h"
#include "common/geo/place_doubt.h"
#include "common/geo/position.h"

namespace swardwalk::geo {

/// How well a mark is known whose accuracy nobody gave, each axis: it "can be found again
/// to a few centimetres" (common practice, no source).
inline constexpr double defaultMark_u_m = 0.03;

/// Standard uncertainty of a distance by tape over turf, from a mark to the middle of a
/// patch: 20 mm for the two ends and, independent of it, 0.2 % for sag, slope and pull
/// (common practice, no source; 20 m with 1.5 m of rise read 0.28 % too long).
double tape_u_m(double distance_m);

/// One reading of a tape.
struct TapeToMark {
  std::string name;  ///< of the mark, for words
  LocalPoint mark;
  double mark_u_m = defaultMark_u_m;  ///< each axis
  double distance_m = 0.0;            ///< level
};

/// A place that the readings agree on.
struct TapePlace {
  LocalPoint place;
  PlaceDoubt doubt;
  double chiSquare = 0.0;  ///< of the misses
  int spareReadings = 0;   ///< readings beyond the two that a place needs
  double worstMiss_m = 0.0;
  std::size_t worstReading = 0;
};

/// Where the tapes meet: weighted least squares, (J'WJ)^-1 its covariance (J the unit
/// vectors from mark to place, W one over the variance of the tape plus the mark's).
///
/// Gives one place, or both where the readings fit two (two tapes always do); the better
/// one first. Fails with `invalid`, in words that name the marks, where
/// - there are fewer than two readings, or a number makes no sense;
/// - the marks are one spot, or three and more lie on one line;
/// - the tapes are too short to meet, or the chance of misses so large is under 1 in
///   1,000: a reading is wrong, or was taken to another mark;
/// - the place lies so near the line of the marks that the tapes cross too flatly: both
///   mirrored places lie within eight uncertainties of each other.
Result<std::vector<TapePlace>> placesByTape(std::span<const TapeToMark> readings);

/// Which of two mirrored places a rough one settles: that which makes it at least a
/// hundred times as likely as the other does; nothing where it can't tell, or fits neither
/// (1 in 1,000). One place alone is settled unless the rough one contradicts it.
const TapePlace* settledBy(std::span<const TapePlace> places, LocalPoint rough,
                           const PlaceDoubt& roughDoubt);

}  // namespace swardwalk::geo
