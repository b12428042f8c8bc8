#pragma once

#include <optional>
#include <string>
#include <vector>

#include "common/course/state.h"
#include "common/infill/patch_forecast.h"
#include "common/measure/measured.h"
#include "common/measure/write.h"

/// What people ask, answered once for every screen, sheet and file: numbers as plain
/// values and the same as ready text. No page formats a number, rounds or adds.
namespace swardwalk::answers {

/// How a patch is drawn: the fill of its symbol.
enum class Look { open, closing, sownWaiting, up, closed };

/// How much an answer wants a person's eye.
enum class Weight { calm, good, watch, stop };

struct PatchProgress {
  std::string patch;
  std::string label;     ///< "N7", in lists and on plans
  std::string heading;   ///< "North 7"
  std::string green;     ///< empty where unknown
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
  std::string why;               ///< one or two sentences

  // Ready to show.
  Look look = Look::open;
  bool late = false;             ///< not puttable on opening day, by its median
  Weight weight = Weight::calm;
  std::string answer;            ///< "Closes 20 May, five days late"
  measure::Written area;         ///< empty figure where there is none
  std::string seenText;          ///< "11 April"
};

struct GreenProgress {
  std::string green;
  double area_m2 = 0.0;
  measure::Measured bare_m2;
  measure::Measured bareShare;
  std::optional<measure::Date> openingDay;
  std::optional<double> probabilityReady;
  int openPatches = 0;

  // Ready to show.
  int latePatches = 0;
  Weight weight = Weight::calm;
  std::string answer;            ///< "Not on course", "In doubt", "Likely", "On course"
  std::string chance;            ///< "41 %", empty where unknown
  std::string chanceOf;          ///< "chance of being ready on 15 May"
  measure::Written areaText;
  measure::Written bareText;     ///< m²
  std::string bareShareText;     ///< "2.24 ± 0.16 % bare"
  std::string speciesText;       ///< "creeping bentgrass"
};

struct Progress {
  measure::Date on;
  std::vector<PatchProgress> patches;  ///< by green, then patch
  std::vector<GreenProgress> greens;   ///< by name
  bool incomplete = false;
  std::string headline;                ///< the most urgent thing, one sentence
  Weight headlineWeight = Weight::calm;
};

/// `state` must be read up to the end of `on` in the course's time zone.
Progress progress(const course::CourseState& state, measure::Date on,
                  measure::UnitSystem units);

/// The answer as contract.md writes it.
std::string progressJson(const Progress& progress, const measure::Zone& zone);
std::string progressText(const Progress& progress);
std::string progressCsv(const Progress& progress, const measure::Zone& zone);

}  // namespace swardwalk::answers
