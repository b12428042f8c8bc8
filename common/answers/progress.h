#pragma once

#include <array>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "common/answers/same_patch.h"
#include "common/course/state.h"
#include "common/infill/patch_forecast.h"
#include "common/measure/measured.h"
#include "common/measure/write.h"
#include "common/repair/choice.h"

/// What people ask, answered once for every screen, sheet and file: numbers as plain
/// values and the same as ready text. No page formats a number, rounds or adds.
namespace swardwalk::answers {

/// How a patch is drawn: the fill of its symbol.
enum class Look { open, closing, sownWaiting, up, closed };

/// How much an answer wants a person's eye.
enum class Weight { calm, good, watch, stop };

struct PatchStory;
class KeptWork;

/// Kinds in the order in which pages count them.
inline constexpr std::array allKinds{turf::Kind::bare, turf::Kind::hungry, turf::Kind::dug,
                                     turf::Kind::washed};

struct PatchProgress {
  std::string patch;
  std::string label;    ///< "N7", in lists and on plans
  std::string heading;  ///< "North 7"
  std::string green;    ///< empty where unknown
  turf::Kind kind = turf::Kind::bare;
  int chapter = 1;
  int sightings = 0;
  std::optional<measure::Instant> lastSeen;
  std::optional<measure::Measured> area_m2;
  std::string model;
  std::optional<measure::Measured> edgeCreep_mm_d;
  std::optional<double> shareClosed;
  std::optional<measure::Date> closesOn;
  std::optional<measure::Date> closesEarliest;
  std::optional<measure::Date> closesLatest;
  std::optional<measure::Date> puttableOn;
  infill::Verdict verdict = infill::Verdict::cannotSayYet;
  std::string why;  ///< one or two sentences
  course::Zone zone = course::Zone::green;
  repair::SowingState sowing = repair::SowingState::none;
  std::optional<int> daysLate;  ///< puttable after opening day, by its median
  std::optional<measure::Date> openingDay;
  infill::PatchForecast forecast;
  std::shared_ptr<const PatchStory> story;  ///< what the forecast was made from

  // Ready to show.
  Look look = Look::open;
  bool late = false;  ///< not puttable on opening day, by its median
  Weight weight = Weight::calm;
  std::string answer;      ///< "Closes 20 May, five days late"
  std::string brief;       ///< the same for a narrow list: "Late, closes 20 May"
  std::string note;        ///< second line: "Seed washed out 9 April", or empty
  measure::Written area;   ///< empty figure where there is none
  std::string closedText;  ///< "41 % closed", empty where nothing closed yet
  std::string seenText;    ///< "11 April"
  std::string kindText;    ///< "washed, 11 April"
};

/// A patch to look at next, with the reason.
struct LookNext {
  std::string patch;
  std::string label;
  std::string heading;
  std::string why;  ///< "one sighting so far"
};

struct GreenProgress {
  std::string green;
  double area_m2 = 0.0;
  measure::Measured bare_m2;
  measure::Measured bareShare;
  std::optional<measure::Date> openingDay;
  std::optional<double> probabilityReady;
  int openPatches = 0;
  bool looked = true;  ///< somebody walked it: a sighting, a frame or a round is recorded
  std::optional<measure::Measured> thinShare;  ///< bare besides the patches, by thrown frames
  int frames = 0;                              ///< that it was counted in
  /// Whose next measurement would move the chance most, at most three.
  std::vector<LookNext> lookNext;

  // Ready to show.
  int latePatches = 0;
  int patchesWithoutSize = 0;  ///< open ones that `bare_m2` cannot count
  std::array<int, allKinds.size()> openByKind{};
  Weight weight = Weight::calm;
  std::string answer;    ///< "Not on course", "In doubt", "Likely", "On course"
  std::string chance;    ///< "41 %", empty where unknown
  std::string chanceOf;  ///< "chance of being ready on 15 May"
  measure::Written areaText;
  measure::Written bareText;          ///< m²
  measure::Written bareShareFigures;  ///< %
  std::string bareShareText;          ///< "2.24 ± 0.16 % bare"
  std::string speciesText;            ///< "creeping bentgrass"
  std::string summary;                ///< "512 m², 1.2 % bare"
  std::string readyText;              ///< "Ready on 15 May: 83 %", empty where unknown
  std::string openText;               ///< "11 open patches"
  std::string lateText;               ///< "five late", "none late"
  Weight lateWeight = Weight::calm;
  std::string sownText;  ///< "3 lost, 1 waiting", empty where nothing is sown
  Weight sownWeight = Weight::calm;
  std::string closedText;    ///< "2 closed: Hollow 1 and 11", empty where none
  std::string lookNextText;  ///< "North 7 (one sighting so far) and North 9 (…)", or empty
  std::string thinText;      ///< "thin stand: 30 ± 6 % bare in ten frames", or empty
};

/// Rain of one day, for the bars of the last days.
struct RainDay {
  measure::Date on;
  double amount_mm = 0.0;
  measure::Written text;
};

struct Progress {
  measure::Date on;
  std::vector<PatchProgress> patches;  ///< by green, then patch
  std::vector<GreenProgress> greens;   ///< by name
  bool incomplete = false;
  std::string headline;       ///< the most urgent thing, one sentence
  std::string headlineGreen;  ///< the green it is about, or empty
  Weight headlineWeight = Weight::calm;
  std::string courseName;
  std::optional<measure::Date> openingDay;
  std::string dateText;       ///< "Monday 12 April 2027"
  std::string openingText;    ///< "33 days to opening day, 15 May", or empty
  std::vector<RainDay> rain;  ///< the last 14 days, oldest first; empty without records
  measure::Written rainText;  ///< their sum
  /// Open patches that two crews may have made of one (X4); people decide.
  std::vector<SamePair> samePatches;
  std::vector<std::string> notes;  ///< what a reader must know: settings not used, lacks
};

/// `state` must be read up to the end of `on` in the course's time zone. A day counts as
/// reached at its end: what is puttable on opening day is in time.
///
/// A green's bare area is the union of its open bare, dug and washed patches inside its
/// outline, each weighted by what was measured of it against its shape (a share of living
/// plants inside, an area that was given), so that overlaps count once; a patch without a
/// shape counts by its area. Its uncertainty takes the patches as independent, and grows
/// with the days since a patch was last measured. A green that nobody looked at has no chance
/// of being ready: nobody knows. Frames thrown at random in the fortnight up to the last one
/// give a thin stand's share, with the scatter between frames as its uncertainty.
///
/// `kept` holds what was worked out for the last answer and takes what is for this one; the
/// answer is, bit for bit, the one made without.
Progress progress(const course::CourseState& state, measure::Date on, measure::UnitSystem units,
                  KeptWork& kept);
Progress progress(const course::CourseState& state, measure::Date on, measure::UnitSystem units);

/// The open patches, ready to be asked whether one that was seen is one of them.
PatchFinder openPatches(const course::CourseState& state, const Progress& progress,
                        measure::UnitSystem units);

/// The answer as contract.md writes it.
std::string progressJson(const Progress& progress, const measure::Zone& zone);
std::string progressText(const Progress& progress);
std::string progressCsv(const Progress& progress, const measure::Zone& zone);

}  // namespace swardwalk::answers
