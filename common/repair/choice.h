#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "common/infill/patch_forecast.h"
#include "common/repair/amounts.h"

namespace swardwalk::repair {

enum class Choice { leave, overseed, fillAndSow, turf, feed, mendTheCauseFirst, lookAgain };
std::string_view word(Choice choice);
std::optional<Choice> choiceNamed(std::string_view word);

enum class SowingState { none, waiting, due, up, overdue, washedOut };
std::string_view word(SowingState state);  ///< empty for `none`

/// What a sowing's state depends on; days as in the forecast.
struct Sowing {
  std::optional<double> sownDay;
  std::optional<double> upDay;
  std::optional<double> washedDay;          ///< a wash was seen, or rain over the zone's limit
  std::optional<turf::Range> daysUntilUp;   ///< absent: too cold, or species unknown
  double today = 0.0;
};
SowingState sowingState(const Sowing& sowing);

/// What can be done with a patch, and what it would come to.
struct Option {
  Choice choice = Choice::leave;
  bool possible = true;
  std::string whyNot;                        ///< where it is not possible
  std::optional<double> closesDay;
  std::optional<double> puttableDay;
  std::optional<double> probabilityReady;
};

/// What the recommendation depends on.
struct Case {
  turf::Kind kind = turf::Kind::bare;
  infill::PatchForecast left;               ///< its forecast if left alone
  std::optional<double> openingDay;
  double today = 0.0;
  double wantedProbability = 0.8;
  double deepest_mm = 0.0;                  ///< 0: not known or flat
  SowingState sowing = SowingState::none;
  int timesWashed = 0;                      ///< chapters that began with a wash
  double daysSinceSeen = 0.0;
  bool seedForZone = false;                 ///< a lot that may grow here is known
  bool turfForZone = false;
  bool fillKnown = false;
  bool feedKnown = false;
  std::string noSeedReason;
  std::optional<turf::Range> sownToPuttable_d;
  std::optional<turf::Range> daysUntilUp;
};

/// All options in a fixed order and the one to take: the least material and work that
/// makes opening day with the wanted probability. `decided` names what decided.
struct Advice {
  Choice choice = Choice::lookAgain;
  std::vector<Option> options;
  enum class Because {
    hungry, noSize, oldSighting, washedTwice, waitingForSeed, makesItAlone, seedMakesIt,
    turfMakesIt, bestOfNone, nothingFits
  } because = Because::noSize;
};
Advice advise(const Case& patchCase);

}  // namespace swardwalk::repair
