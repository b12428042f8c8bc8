#pragma once

#include <boost/json/fwd.hpp>
#include <span>
#include <string_view>

#include "common/course/checks.h"

/// What each type of record must and may say.
namespace swardwalk::course {

enum class Need { optional, needed };

struct Field {
  std::string_view key;
  Form form = nullptr;
  Need need = Need::optional;
};

struct Rule {
  unsigned places = nowhere;
  std::span<const Field> fields;
  /// What single properties can't show; called when each of them is well formed.
  Trouble (*together)(const boost::json::object& properties,
                      const boost::json::value* geometry) = nullptr;
};

extern const Rule courseRule, greenRule, surroundRule, markRule, sightingRule, frameRule,
    closedRule, repairRule, cameUpRule, choiceRule, waterRule, temperatureRule, mowingRule,
    feedingRule, seedLotRule, feedRule, fillRule, turfRule, roundRule, joinRule, withdrawRule,
    acceptRule, eraseRule, personRule, photoRule;

/// The first thing that is wrong with a body, in the order of the rule.
Trouble checkRule(const Rule& rule, const boost::json::object& body);

}  // namespace swardwalk::course
