#pragma once

#include <vector>

#include "common/course/features.h"
#include "common/failure.h"
#include "common/geo/local_plane.h"
#include "common/geo/tape_place.h"

namespace swardwalk::course {

/// Where a sighting lies by its tape readings, on the plane at the first mark.
struct TapedPlaces {
  geo::LocalPlane plane;
  std::vector<geo::TapePlace> places;  ///< one, or the two sides of the marks' line
};

/// Every place that the readings fit (see `geo::placesByTape`). Fails in words where a
/// mark is not known or the tapes can't tell a place.
Result<TapedPlaces> placesByTapes(const std::vector<TapeReading>& tapes,
                                  const std::vector<Mark>& marks);

/// The one of them that is meant: the sighting's point settles it where it says which
/// side, else the green that holds exactly one; `green` may be nullptr. Fails in words
/// where neither does, or the point contradicts the tapes.
Result<geo::TapePlace> settledPlace(const TapedPlaces& taped, const Sighting& sighting,
                                    const Green* green);

/// Gives the sighting the place that its tapes tell and how well they do, where they do; a
/// sighting without tapes, or with an outline of its own, stays as it is.
void placeByTapes(Sighting& sighting, const std::vector<Mark>& marks, const Green* green);

}  // namespace swardwalk::course
