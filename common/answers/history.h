#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "common/answers/calendar.h"
#include "common/answers/growth.h"
#include "common/answers/kept_work.h"
#include "common/answers/settings.h"
#include "common/course/state.h"
#include "common/infill/patch_forecast.h"
#include "common/repair/choice.h"

namespace swardwalk::answers {

/// A stretch of a patch's life over which one closing curve holds.
struct Chapter {
  enum class Begins { first, washed, dug, otherKind, sownAgain, reopened };
  Begins begins = Begins::first;
  std::size_t firstSighting = 0;  ///< index; may be one past the last
  double day = 0.0;
};

/// What took the seed away before it came up.
struct Wash {
  double day = 0.0;
  std::optional<double> rain_mm;    ///< on that day, where rain decided
  std::optional<double> peak_mm_h;  ///< where the peak decided
  bool seen = false;                ///< a person saw the wash
};

/// What the records show to have changed since a patch was first measured.
struct Changes {
  std::optional<double> fedDay;
  std::optional<double> cutFrom_mm;  ///< height of cut before, with `cutTo_mm`
  std::optional<double> cutTo_mm;
  std::optional<double> warmer_c;  ///< now against the time of its sightings; below 0: colder
};

/// Everything that answers need to know of one patch, in plain values: the inputs of its
/// forecast and what they were made from. Immutable once made; shared between answers.
struct PatchStory {
  std::string patch;
  course::Zone zone = course::Zone::green;
  std::vector<std::string> zoneSpecies;  ///< grasses that may grow there, as entered
  bool slope = false;                    ///< rain runs off there (`onSlope`)
  double surfaceStretch = 1.0;           ///< true surface by ground area, of its last size
  std::vector<Chapter> chapters;         ///< at least one, unless never seen
  std::shared_ptr<const geo::InsetCurve> curve;
  journal::Digest form{};        ///< of what the curve was made from
  infill::PatchHistory history;  ///< its curve is the one above
  journal::Digest inputs{};      ///< of the history, with what the others on the green tell
  std::optional<double> mean_c;  ///< of the last 14 days with records
  std::string priorSpecies;      ///< whose edge creep is the prior
  bool tooCold = false;          ///< for that grass to creep, now
  double coldest_c = 0.0;        ///< below which it does not
  Changes changes;
  repair::Sowing sowing;  ///< of the last sowing, washed out or not
  repair::SowingState sowingState = repair::SowingState::none;
  std::optional<Wash> wash;
  std::string sownLot;
  int timesWashed = 0;           ///< chapters that began with a wash
  std::optional<double> fedDay;  ///< patch or whole green
  std::optional<double> rakedBackDay;
  std::optional<double> filledDay;
  std::vector<double> depths_mm;  ///< of the last sighting that has any, unless mended since
  std::optional<double> depthDay;
  std::optional<measure::Measured> firstArea_m2;  ///< of the chapter
  std::optional<measure::Measured> lastArea_m2;
  double firstSizeDay = 0.0;
  double lastSizeDay = 0.0;
  std::optional<double> firstSeenDay;
  std::optional<double> lastSeenDay;
};

/// From records to the inputs of a forecast.
///
/// A new chapter begins with
/// - a sighting as washed or dug whose area is larger than the last one beyond doubt: by
///   more than twice the standard uncertainty of the difference (an unknown uncertainty
///   counts as 10 % of the area for this decision alone);
/// - a sighting as washed or dug after one of another kind, and one that changes between
///   hungry and not, because then another thing is measured;
/// - a sowing of what was already sown in this chapter; the last size before it is then
///   the first of the new chapter;
/// - any sighting after somebody said that the patch was closed.
///
/// Days are those of `Calendar`. Nothing throws.
std::shared_ptr<PatchStory> storyOf(const course::CourseState& state, const course::Patch& patch,
                                    const Calendar& calendar, const Settings& settings,
                                    Seasons& seasons, KeptWork& kept);

/// It was fed after it was last seen, and too recently for the feed to show.
bool fedSinceSeen(const PatchStory& story, const Calendar& calendar, const Settings& settings);

/// A sighting's area with the course's own edge uncertainty where the sighting has the
/// default one.
std::optional<measure::Measured> areaOf(const course::Sighting& sighting, const Settings& settings);

}  // namespace swardwalk::answers
