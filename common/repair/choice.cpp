#include "common/repair/choice.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "common/infill/spread.h"

namespace swardwalk::repair {
namespace {

using Because = Advice::Because;

struct Named {
  Choice choice;
  std::string_view word;
};

constexpr std::array<Named, 7> choices = {
    Named{Choice::leave, "leave"},
    Named{Choice::overseed, "overseed"},
    Named{Choice::fillAndSow, "fill and sow"},
    Named{Choice::turf, "turf"},
    Named{Choice::feed, "feed"},
    Named{Choice::mendTheCauseFirst, "mend the cause first"},
    Named{Choice::lookAgain, "look again"},
};

// Probabilities nearer than this are the same; below `hopeless` none is worth waiting for.
constexpr double sameProbability = 0.005;
constexpr double hopeless = 0.05;

bool isHole(const Case& patch) {
  if (patch.deepest_mm > 0.0) return patch.deepest_mm >= fillFrom_mm;
  return patch.kind == turf::Kind::dug || patch.kind == turf::Kind::washed;
}

Option leaving(const Case& patch) {
  Option option{.choice = Choice::leave,
                .possible = true,
                .whyNot = {},
                .closesDay = patch.left.closesDay,
                .puttableDay = patch.left.puttableDay,
                .probabilityReady = {}};
  if (patch.openingDay) {
    option.probabilityReady = infill::probabilityPuttable(patch.left, *patch.openingDay);
  }
  return option;
}

std::optional<double> earlier(std::optional<double> a, std::optional<double> b) {
  if (!a) return b;
  return b ? std::min(*a, *b) : a;
}

// What new cover from today comes to, the edge creeping on beside it.
void setDates(Option& option, const Case& patch, const turf::Range& puttable_d, double closes_d) {
  option.closesDay = earlier(patch.left.closesDay, patch.today + closes_d);
  option.puttableDay = earlier(patch.left.puttableDay, patch.today + puttable_d.best);
  if (!patch.openingDay) return;
  const double days = *patch.openingDay - patch.today;
  const auto alone = infill::probabilityPuttable(patch.left, *patch.openingDay);
  option.probabilityReady = std::max(alone.value_or(0.0), infill::rangeShare(puttable_d, days));
}

Option seeding(const Case& patch, Choice choice) {
  Option option;
  option.choice = choice;
  if (!patch.seedForZone) {
    option.whyNot = patch.noSeedReason.empty() ? "no seed lot of a grass that may grow here"
                                               : patch.noSeedReason;
  } else if (!patch.sownToPuttable_d || !infill::usable(*patch.sownToPuttable_d)) {
    option.whyNot = "too cold for this seed to come up, or nothing is known of its grass";
  } else if (choice == Choice::overseed && isHole(patch)) {
    option.whyNot = patch.deepest_mm > 0.0
                        ? fmt::format("a hole {:.0f} mm deep is filled first", patch.deepest_mm)
                        : "a hole is filled first";
  } else if (choice == Choice::fillAndSow && !isHole(patch)) {
    option.whyNot = "no hole to fill";
  }
  option.possible = option.whyNot.empty();
  if (!option.possible) return option;
  const turf::Range& puttable_d = *patch.sownToPuttable_d;
  const double up_d = patch.daysUntilUp ? patch.daysUntilUp->best : 0.0;
  setDates(option, patch, puttable_d,
           std::max(up_d, puttable_d.best - infill::knitAfterTouching_d));
  return option;
}

Option turfing(const Case& patch) {
  Option option;
  option.choice = Choice::turf;
  option.possible = patch.turfForZone;
  if (!option.possible) {
    option.whyNot = "no turf of a grass that may grow here";
    return option;
  }
  setDates(option, patch, infill::turfedToPuttable_d, 0.0);
  return option;
}

double chance(const Option& option) { return option.probabilityReady.value_or(0.0); }

Because makesIt(Choice choice) {
  switch (choice) {
    case Choice::leave:
      return Because::makesItAlone;
    case Choice::turf:
      return Because::turfMakesIt;
    default:
      return Because::seedMakesIt;
  }
}

// `ways` by rising work. None of them makes the day.
const Option& mostLikely(const std::vector<Option>& ways) {
  const Option* best = nullptr;
  double most = 0.0;
  for (const Option& way : ways) {
    if (way.possible) most = std::max(most, chance(way));
  }
  for (const Option& way : ways) {
    if (!way.possible || chance(way) < most - sameProbability) continue;
    if (!best || most < hopeless) best = &way;
  }
  return *best;
}

void choose(Advice& advice, Choice choice, Because because) {
  advice.choice = choice;
  advice.because = because;
}

// Leave, seed or turf a bare place whose size is known.
void chooseByDate(Advice& advice, const Case& patch) {
  const std::vector<Option>& ways = advice.options;
  const bool anyWork =
      std::any_of(ways.begin() + 1, ways.end(), [](const Option& way) { return way.possible; });
  if (patch.openingDay) {
    for (const Option& way : ways) {
      if (way.possible && chance(way) >= patch.wantedProbability) {
        return choose(advice, way.choice, makesIt(way.choice));
      }
    }
    return choose(advice, mostLikely(ways).choice,
                  anyWork ? Because::bestOfNone : Because::nothingFits);
  }
  if (ways.front().closesDay && *ways.front().closesDay <= patch.today + patience_d) {
    return choose(advice, Choice::leave, Because::makesItAlone);
  }
  for (const Option& way : ways) {
    if (way.choice == Choice::leave || !way.possible) continue;
    return choose(advice, way.choice, makesIt(way.choice));
  }
  choose(advice, Choice::leave, Because::nothingFits);
}

Advice adviseHungry(const Case& patch) {
  Advice advice;
  advice.options.push_back(leaving(patch));
  Option feed;
  feed.choice = Choice::feed;
  feed.possible = patch.feedKnown;
  if (!feed.possible) feed.whyNot = "no feed is recorded";
  advice.options.push_back(feed);
  choose(advice, Choice::feed, Because::hungry);
  return advice;
}

}  // namespace

std::string_view word(Choice choice) {
  for (const Named& named : choices) {
    if (named.choice == choice) return named.word;
  }
  return {};
}

std::optional<Choice> choiceNamed(std::string_view word) {
  for (const Named& named : choices) {
    if (named.word == word) return named.choice;
  }
  return std::nullopt;
}

Advice advise(const Case& patch) {
  if (patch.kind == turf::Kind::hungry) return adviseHungry(patch);
  Advice advice;
  advice.options = {leaving(patch), seeding(patch, Choice::overseed),
                    seeding(patch, Choice::fillAndSow), turfing(patch)};
  const auto only = [&advice](Choice choice, Because because) {
    Option option;
    option.choice = choice;
    advice.options.push_back(option);
    choose(advice, choice, because);
  };
  const bool comingUp = patch.sowing == SowingState::waiting || patch.sowing == SowingState::due;
  if (comingUp) {
    choose(advice, Choice::leave, Because::waitingForSeed);
  } else if (patch.timesWashed >= washesForCause && patch.sowing != SowingState::up) {
    only(Choice::mendTheCauseFirst, Because::washedTwice);
  } else if (!patch.left.area_m2) {
    only(Choice::lookAgain, Because::noSize);
  } else if (patch.daysSinceSeen > oldSighting_d) {
    only(Choice::lookAgain, Because::oldSighting);
  } else {
    chooseByDate(advice, patch);
  }
  return advice;
}

}  // namespace swardwalk::repair
