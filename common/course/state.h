#pragma once

#include <string>
#include <vector>

#include "common/course/features.h"
#include "common/failure.h"
#include "common/journal/journal.h"
#include "common/measure/instant.h"

namespace swardwalk::course {

/// One patch with everything that happened to it, each list by time.
struct Patch {
  std::string id;     ///< identity across files and devices; the smallest of joined ones
  std::string label;  ///< what people read; of the last sighting that gives one
  std::string green;  ///< entered, else by position; empty where neither is known
  Zone zone = Zone::green;
  turf::Kind kind = turf::Kind::bare;  ///< of the last sighting
  std::vector<std::string> joined;     ///< other identities that were joined to it
  std::vector<Sighting> sightings;
  std::vector<Closed> closed;
  std::vector<Repair> repairs;
  std::vector<CameUp> cameUp;
  std::vector<Choice> choices;
  std::vector<Photo> photos;
  std::vector<Join> joins;  ///< the decisions that made it one, in the order of edits
};

/// A record that makes no sense (J6): kept, passed on, left out of the state.
struct Unusable {
  Source source;
  std::string type;
  std::string reason;
};

/// Records of a type or version that this build does not know (J5).
struct MadeByNewer {
  std::string type;
  int version = 0;
  std::uint64_t records = 0;
};

/// What the records say, up to a moment. A plain value: safe to share once made.
struct CourseState {
  CourseInfo course;
  std::vector<Green> greens;  ///< sorted by name, as are the materials
  std::vector<Surround> surrounds;
  std::vector<Mark> marks;
  std::vector<Patch> patches;  ///< sorted by green, then label, then id
  std::vector<Frame> frames;
  std::vector<Repair> greenRepairs;  ///< repairs of a whole green
  std::vector<Water> rain;
  std::vector<Water> watering;
  std::vector<Temperature> temperatures;  ///< by day; the later record of a day wins
  std::vector<Mowing> mowings;
  std::vector<Feeding> feedings;
  std::vector<Round> rounds;
  std::vector<turf::SeedLot> seedLots;
  std::vector<turf::Feed> feeds;
  std::vector<turf::Fill> fills;
  std::vector<turf::Turf> turfs;
  std::vector<StockCount> stockCounts;  ///< of the materials that state a stock
  std::vector<Unusable> unusable;
  std::vector<MadeByNewer> madeByNewer;
  /// Records are here that this build does not know: answers may lack something.
  bool incomplete = false;

  const Green* green(std::string_view name) const;
  const Patch* patch(std::string_view id) const;
};

/// Reads the folded state; events after `until` are left out, things with a name are
/// always there. Pass the end of the day that counts as today.
Result<CourseState> readState(const journal::Journal& journal, measure::Instant until);

/// The zone that the course's records state; UTC where none or an unknown one.
measure::Zone zoneOf(const CourseState& state);
/// The same without reading the whole state: days begin and end by it.
Result<measure::Zone> courseZone(const journal::Journal& journal);

/// Area of a sighting by whichever measure it has, with `bare_share` taken into
/// account; nothing where it has no size.
std::optional<measure::Measured> areaOf(const Sighting& sighting);

/// `areaOf` gives something.
bool hasArea(const Sighting& sighting);

/// Its shape on the ground where one is known or can be drawn: the outline, else the
/// tape's form about the point (its direction is not known: east), else nothing.
geo::GlobeShape shapeOf(const Sighting& sighting);

/// Where it is: the point, else the outline's middle, else nothing.
std::optional<geo::Position> placeOf(const Sighting& sighting);

}  // namespace swardwalk::course
