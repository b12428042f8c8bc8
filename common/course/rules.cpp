#include "common/course/rules.h"

#include <fmt/format.h>

#include <boost/json.hpp>

#include "common/measure/instant.h"

namespace swardwalk::course {

namespace json = boost::json;

namespace {

constexpr Need needed = Need::needed;

Trouble inOrder(const json::object& properties, std::string_view from, std::string_view to) {
  const auto begin = measure::parseInstant(textOf(properties, from));
  const auto end = measure::parseInstant(textOf(properties, to));
  if (begin && end && *end < *begin)
    return trouble(to, fmt::format("earlier than {}", from), "correct one of the two");
  return std::nullopt;
}

/// `keys` are all there, or none is.
Trouble allOrNone(const json::object& properties, std::initializer_list<std::string_view> keys) {
  std::string_view there;
  std::string_view missing;
  for (const std::string_view key : keys) {
    (present(properties, key) != nullptr ? there : missing) = key;
  }
  if (there.empty() || missing.empty()) return std::nullopt;
  return trouble(missing, fmt::format("missing beside {}", there),
                 fmt::format("give {} together, or none of them", fmt::join(keys, ", ")));
}

Trouble oneNeeded(const json::object& properties, std::string_view a, std::string_view b) {
  if (present(properties, a) != nullptr || present(properties, b) != nullptr) return std::nullopt;
  return trouble(a, "missing", fmt::format("give {} or {}", a, b));
}

Trouble notMore(const json::object& properties, std::string_view part, std::string_view whole) {
  const auto few = numberOf(properties, part);
  const auto all = numberOf(properties, whole);
  if (!few || !all) return std::nullopt;
  if (*all == 0.0) return trouble(whole, "no squares at all", "count the frame's squares");
  if (*few > *all) return trouble(part, fmt::format("more than {}", whole), "count again");
  return std::nullopt;
}

Trouble sightingTogether(const json::object& properties, const json::value* geometry) {
  const json::value* tapes = present(properties, "tapes");
  if (geometry == nullptr && (tapes == nullptr || tapes->get_array().empty()))
    return trouble("geometry", "a sighting without a place", "give a Polygon, a Point, or tapes");
  if (auto wrong = allOrNone(properties, {"length_m", "width_m"})) return wrong;
  if (auto wrong = allOrNone(properties, {"length_paces", "width_paces", "pace_m"})) return wrong;
  if (auto wrong = allOrNone(properties, {"squares_bare", "squares", "frame_m2"})) return wrong;
  if (auto wrong = notMore(properties, "squares_bare", "squares")) return wrong;
  const double length_m = numberOf(properties, "length_m").value_or(0.0);
  const double width_m = numberOf(properties, "width_m").value_or(0.0);
  if (length_m * width_m > limits::area_m2)
    return trouble("length_m", "with width_m it makes over 1,000,000 m2", "check both numbers");
  return std::nullopt;
}

Trouble frameTogether(const json::object& properties, const json::value*) {
  return notMore(properties, "squares_bare", "squares");
}

Trouble repairTogether(const json::object& properties, const json::value*) {
  return oneNeeded(properties, "patch", "green");
}

Trouble waterTogether(const json::object& properties, const json::value*) {
  if (present(properties, "on") != nullptr) return std::nullopt;
  if (auto wrong = allOrNone(properties, {"from", "to"})) return wrong;
  if (auto wrong = oneNeeded(properties, "on", "from")) return wrong;
  return inOrder(properties, "from", "to");
}

Trouble temperatureTogether(const json::object& properties, const json::value*) {
  if (*numberOf(properties, "min_c") > *numberOf(properties, "max_c"))
    return trouble("min_c", "above max_c", "correct one of the two");
  return std::nullopt;
}

Trouble feedingTogether(const json::object& properties, const json::value*) {
  return oneNeeded(properties, "product_kg", "rate_g_m2");
}

Trouble roundTogether(const json::object& properties, const json::value*) {
  return present(properties, "ended") == nullptr ? std::nullopt
                                                 : inOrder(properties, "started", "ended");
}

Trouble joinTogether(const json::object& properties, const json::value*) {
  if (textOf(properties, "patch") == textOf(properties, "same_as"))
    return trouble("same_as", "the patch itself", "name the other patch");
  return std::nullopt;
}

constexpr Field courseFields[] = {
    {"name", isName, needed},
    {"time_zone", isName},
    {"opening_day", isDate},
    {"bare_share_limit", isFraction},
    {"wanted_probability", isFraction},
    {"stage", isStage},
    {"cart_limit_kg", isAmount},
    {"settings", isSettings},
};
constexpr Field greenFields[] = {
    {"name", isName, needed},         {"species", isNames}, {"opening_day", isDate},
    {"bare_share_limit", isFraction}, {"stage", isStage},
};
constexpr Field surroundFields[] = {
    {"green", isName, needed},
    {"zone", isZone, needed},
    {"species", isNames},
    {"slope_percent", isNumber},
};
constexpr Field markFields[] = {
    {"name", isName, needed}, {"accuracy_m", isAmount}, {"visits", isVisits}};
constexpr Field sightingFields[] = {
    {"patch", isName, needed},
    {"label", isName},
    {"kind", isKind, needed},
    {"seen", isTime, needed},
    {"green", isName},
    {"area_m2", isArea},
    {"area_u_m2", isAmount},
    {"length_m", isAmount},
    {"width_m", isAmount},
    {"shape", isTapeForm},
    {"length_paces", isAmount},
    {"width_paces", isAmount},
    {"pace_m", isAmount},
    {"pace_u_m", isAmount},
    {"squares_bare", isCount},
    {"squares", isCount},
    {"frame_m2", isArea},
    {"edge_u_m", isAmount},
    {"corners_u_m", isAmountOrAmounts},
    {"tapes", isTapes},
    {"accuracy_m", isAmount},
    {"depth_mm", isAmountOrAmounts},
    {"bare_share", isFraction},
    {"bare_share_u", isFraction},
    {"sand_lying_mm", isAmount},
    {"author", isWho},
    {"device", isWho},
    {"note", isText},
};
constexpr Field frameFields[] = {
    {"green", isName, needed},
    {"seen", isTime, needed},
    {"squares_bare", isCount, needed},
    {"squares", isCount, needed},
};
constexpr Field closedFields[] = {
    {"patch", isName, needed}, {"seen", isTime, needed}, {"author", isWho}, {"note", isText}};
constexpr Field repairFields[] = {
    {"patch", isName}, {"green", isName},    {"done", isTime, needed}, {"raked_back", isFlag},
    {"fill", isName},  {"fill_l", isAmount}, {"seed_lot", isName},     {"seed_g", isAmount},
    {"feed", isName},  {"feed_g", isAmount}, {"turf", isName},         {"turf_m2", isArea},
    {"author", isWho}, {"note", isText},
};
constexpr Field cameUpFields[] = {
    {"patch", isName, needed}, {"seen", isTime, needed}, {"share", isFraction}};
constexpr Field choiceFields[] = {{"patch", isName, needed},
                                  {"choice", isChoice, needed},
                                  {"why", isText},
                                  {"who", isName},
                                  {"author", isWho}};
constexpr Field waterFields[] = {{"on", isDate},
                                 {"from", isTime},
                                 {"to", isTime},
                                 {"mm", isAmount, needed},
                                 {"peak_mm_h", isAmount}};
constexpr Field temperatureFields[] = {
    {"on", isDate, needed}, {"min_c", isNumber, needed}, {"max_c", isNumber, needed}};
constexpr Field mowingFields[] = {
    {"green", isName, needed}, {"done", isTime, needed},    {"height_mm", isAmount},
    {"passes", isCount},       {"direction_deg", isNumber}, {"clippings_l", isAmount},
    {"wet", isFlag},
};
constexpr Field feedingFields[] = {
    {"green", isName, needed}, {"done", isTime, needed}, {"feed", isName, needed},
    {"product_kg", isAmount},  {"rate_g_m2", isAmount},
};
constexpr Field seedLotFields[] = {
    {"name", isName, needed},
    {"species", isBlend, needed},
    {"purity", isFraction, needed},
    {"germination", isFraction, needed},
    {"tested", isDate},
    {"seeds_per_g", isAmountOrRange},
    {"packs_kg", isPacks},
    {"bulk", isFlag},
    {"stock_kg", isAmount},
    {"counted", isTime},
};
constexpr Field feedFields[] = {
    {"name", isName, needed},   {"analysis", isAnalysis},        {"label_rate_g_m2", isAmount},
    {"ceiling_g_m2", isAmount}, {"soluble_n_share", isFraction}, {"packs_kg", isPacks},
    {"bulk", isFlag},           {"stock_kg", isAmount},          {"counted", isTime},
};
constexpr Field fillFields[] = {
    {"name", isName, needed},   {"bulk_density_kg_l", isAmount, needed},
    {"settles_by", isFraction}, {"packs_kg", isPacks},
    {"bulk", isFlag},           {"stock_kg", isAmount},
    {"counted", isTime},
};
constexpr Field turfFields[] = {
    {"name", isName, needed},   {"species", isNameOrNames, needed},
    {"thickness_mm", isAmount}, {"piece_m2", isArea},
    {"stock_m2", isArea},       {"counted", isTime},
};
constexpr Field roundFields[] = {
    {"green", isName, needed}, {"started", isTime, needed}, {"ended", isTime},
    {"author", isWho},         {"device", isWho},           {"note", isText},
};
constexpr Field joinFields[] = {
    {"patch", isName, needed}, {"same_as", isName, needed}, {"author", isWho}, {"note", isText}};
constexpr Field photoFields[] = {
    {"patch", isName, needed}, {"seen", isTime, needed}, {"photo", isHex32, needed},
    {"small", isHex32},        {"author", isWho},        {"device", isWho},
    {"note", isText},
};
constexpr Field withdrawFields[] = {
    {"record", isHex32, needed}, {"why", isText}, {"author", isWho}};
constexpr Field acceptFields[] = {{"origin", isHex32, needed}, {"author", isWho}};
constexpr Field personFields[] = {{"id", isHex16, needed}, {"name", isName, needed}};

}  // namespace

const Rule courseRule{nowhere | atPoint, courseFields};
const Rule greenRule{inOutline, greenFields};
const Rule surroundRule{inOutline, surroundFields};
const Rule markRule{atPoint, markFields};
const Rule sightingRule{inOutline | atPoint | nowhere, sightingFields, sightingTogether};
const Rule frameRule{nowhere | atPoint, frameFields, frameTogether};
const Rule closedRule{nowhere, closedFields};
const Rule repairRule{nowhere, repairFields, repairTogether};
const Rule cameUpRule{nowhere, cameUpFields};
const Rule choiceRule{nowhere, choiceFields};
const Rule waterRule{nowhere | atPoint, waterFields, waterTogether};
const Rule temperatureRule{nowhere, temperatureFields, temperatureTogether};
const Rule mowingRule{nowhere, mowingFields};
const Rule feedingRule{nowhere, feedingFields, feedingTogether};
const Rule seedLotRule{nowhere, seedLotFields};
const Rule feedRule{nowhere, feedFields};
const Rule fillRule{nowhere, fillFields};
const Rule turfRule{nowhere, turfFields};
const Rule roundRule{nowhere | alongLine, roundFields, roundTogether};
const Rule joinRule{nowhere, joinFields, joinTogether};
const Rule photoRule{nowhere, photoFields};
const Rule withdrawRule{nowhere, withdrawFields};
const Rule acceptRule{nowhere, acceptFields};
const Rule eraseRule{nowhere, withdrawFields};
const Rule personRule{nowhere, personFields};

Trouble checkRule(const Rule& rule, const json::object& body) {
  const json::object* properties = propertiesOf(body);
  if (properties == nullptr) return trouble("properties", "missing", "give an object");
  for (const Field& field : rule.fields) {
    const json::value* value = present(*properties, field.key);
    if (value != nullptr) {
      if (auto wrong = field.form(field.key, *value)) return wrong;
    } else if (field.need == needed) {
      return trouble(field.key, "missing", "give it");
    }
  }
  const json::value* geometry = geometryOf(body);
  if (auto wrong = checkGeometry(geometry, rule.places)) return wrong;
  for (const json::key_value_pair& property : *properties) {
    if (auto wrong = checkTexts(property.key(), property.value())) return wrong;
  }
  return rule.together == nullptr ? std::nullopt : rule.together(*properties, geometry);
}

}  // namespace swardwalk::course
