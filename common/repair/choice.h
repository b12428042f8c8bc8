#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "common/infill/patch_forecast.h"
#include "common/repair/amounts.h"

namespace swardwalk::repair {

enum class Choice { leave, overseed, fillAndSow, turf, feed, mendTheCauseFirst, lookAgain };

/// As the plan writes it: "fill and sow".
std::string_view word(Choice choice);
std::optional<Choice> choiceNamed(std::string_view word);

enum class SowingState { none, waiting, due, up, overdue, washedOut };

/// As the plan writes it: "washed out"; empty for `none`.
std::string_view word(SowingState state);

/// What a sowing's state depends on; days as in the forecast.
struct Sowing {
  std::optional<double> sownDay;
  std::optional<double> upDay;
  std::optional<double> washedDay;         ///< a wash was seen, or rain over the zone's limit
  std::optional<turf::Range> daysUntilUp;  ///< absent: too cold, or species unknown
  double today = 0.0;
};

/// Up once it was seen up; washed out by a wash on the day of sowing or later that came
/// before; else waiting until the low end of its days, due up to the high end, overdue
/// after. What was sown in the cold waits.
SowingState sowingState(const Sowing& sowing);

/// What can be done with a patch, and what it would come to.
struct Option {
  Choice choice = Choice::leave;
  bool possible = true;
  std::string whyNot;  ///< where it is not possible
  std::optional<double> closesDay;
  std::optional<double> puttableDay;
  std::optional<double> probabilityReady;
};

/// What the recommendation depends on.
struct Case {
  turf::Kind kind = turf::Kind::bare;
  infill::PatchForecast left;  ///< its forecast if left alone
  std::optional<double> openingDay;
  double today = 0.0;
  double wantedProbability = 0.8;
  double deepest_mm = 0.0;  ///< 0: not known or flat
  SowingState sowing = SowingState::none;
  int timesWashed = 0;  ///< chapters that began with a wash
  double daysSinceSeen = 0.0;
  bool seedForZone = false;  ///< a lot that may grow here is known
  bool turfForZone = false;
  bool fillKnown = false;  ///< asks for no fill: the plan warns where none is recorded
  bool feedKnown = false;
  std::string noSeedReason;
  std::optional<turf::Range> sownToPuttable_d;  ///< absent: too cold, or species unknown
  std::optional<turf::Range> daysUntilUp;
};

/// From this depth a hole is filled before it is sown; a thinner one is topped up by the
/// next dressing (common practice, no source). A dug or washed place of unknown depth
/// counts as a hole.
inline constexpr double fillFrom_mm = 10.0;

/// A sighting older than this is no ground to send a cart out on.
inline constexpr double oldSighting_d = 14.0;

/// A place that washed out this often needs its cause mended, not more seed.
inline constexpr int washesForCause = 2;

/// Without an opening day a patch that touches within this is left alone.
inline constexpr double patience_d = 60.0;

/// All options in a fixed order and the one to take: the least material and work that
/// makes opening day with the wanted probability. `because` names what decided.
struct Advice {
  Choice choice = Choice::lookAgain;
  std::vector<Option> options;
  enum class Because {
    hungry,
    noSize,
    oldSighting,
    washedTwice,
    waitingForSeed,
    makesItAlone,
    seedMakesIt,
    turfMakesIt,
    bestOfNone,
    nothingFits
  } because = Because::noSize;
};

/// In this order: hungry places are fed; what is sown and waiting or due is left to come
/// up; a place washed out `washesForCause` times whose seed is not up has its cause mended;
/// a patch without a size, or not seen for more than `oldSighting_d`, is looked at again;
/// then the first of leave, overseed or fill and sow, turf that makes opening day with
/// the wanted probability. Where none does, the most likely one; the lesser work among
/// equals, but the greater where all are hopeless (below 5 %). Without an opening day:
/// leave what touches within `patience_d`, else seed, else turf.
/// Options listed: leave, overseed, fill and sow, turf for a bare place, each with what
/// stands against it; leave and feed for a hungry one; then mend the cause first and look
/// again where they are chosen. A person sows or turfs today; the edge creeps on beside.
Advice advise(const Case& patchCase);

}  // namespace swardwalk::repair
