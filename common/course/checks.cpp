#include "common/course/checks.h"

#include <fmt/format.h>

#include <array>
#include <boost/json.hpp>
#include <cmath>

#include "common/journal/record.h"
#include "common/measure/instant.h"
#include "common/turf/kind.h"

namespace swardwalk::course {

namespace json = boost::json;

namespace {

std::size_t characters(std::string_view text) {
  std::size_t count = 0;
  for (const char byte : text) count += (static_cast<unsigned char>(byte) & 0xC0) != 0x80 ? 1 : 0;
  return count;
}

bool isBlank(std::string_view text) {
  return text.find_first_not_of(" \t\r\n") == std::string_view::npos;
}

std::optional<std::string_view> asText(const json::value& value) {
  const json::string* text = value.if_string();
  if (text == nullptr) return std::nullopt;
  return std::string_view(text->data(), text->size());
}

Trouble textOfAtMost(std::string_view key, const json::value& value, std::size_t most) {
  const auto text = asText(value);
  if (!text) return trouble(key, "not a text", "write it in quotation marks");
  if (characters(*text) > most)
    return trouble(key, fmt::format("longer than {} characters", most), "shorten it");
  return std::nullopt;
}

Trouble numberBetween(std::string_view key, const json::value& value, double low, double high,
                      const char* tooLow, const char* tooHigh, const char* todo) {
  const auto number = asNumber(value);
  if (!number) return trouble(key, "not a number", "write a number without quotation marks");
  if (*number < low) return trouble(key, tooLow, todo);
  if (!(*number <= high)) return trouble(key, tooHigh, todo);
  return std::nullopt;
}

Trouble oneOf(std::string_view key, const json::value& value,
              std::span<const std::string_view> words) {
  const auto text = asText(value);
  const std::string todo = fmt::format("write one of: {}", fmt::join(words, ", "));
  if (!text) return trouble(key, "not a text", todo);
  for (const std::string_view word : words) {
    if (*text == word) return std::nullopt;
  }
  return trouble(key, fmt::format("\"{}\" is not known", text->substr(0, 60)), todo);
}

std::string element(std::string_view key, std::size_t index) {
  return fmt::format("{}, entry {}", key, index + 1);
}

Trouble each(std::string_view key, const json::value& value, Form form, const char* notAList) {
  const json::array* list = value.if_array();
  if (list == nullptr) return trouble(key, "not a list", notAList);
  for (std::size_t i = 0; i < list->size(); ++i) {
    if (form(key, (*list)[i])) return form(element(key, i), (*list)[i]);
  }
  return std::nullopt;
}

Trouble hexOf(std::string_view key, const json::value& value, std::size_t bytes) {
  const auto text = asText(value);
  std::array<std::uint8_t, 32> space;
  if (!text || !journal::parseHex(*text, space.data(), bytes)) {
    return trouble(key, fmt::format("not {} hexadecimal digits in small letters", 2 * bytes),
                   "copy it again");
  }
  return std::nullopt;
}

Trouble isPackSize(std::string_view key, const json::value& value) {
  if (auto wrong = isAmount(key, value)) return wrong;
  if (*asNumber(value) == 0.0) return trouble(key, "a pack of nothing", "give the pack's weight");
  return std::nullopt;
}

}  // namespace

Trouble trouble(std::string_view where, std::string what, std::string todo) {
  return Failure{FailureKind::invalid, std::string(where), std::move(what), std::move(todo)};
}

const json::value* present(const json::object& properties, std::string_view key) {
  const json::value* value = properties.if_contains(key);
  return value == nullptr || value->is_null() ? nullptr : value;
}

const json::object* propertiesOf(const json::object& body) {
  const json::value* properties = present(body, "properties");
  return properties == nullptr ? nullptr : properties->if_object();
}

const json::value* geometryOf(const json::object& body) { return present(body, "geometry"); }

std::string_view textOf(const json::object& properties, std::string_view key) {
  const json::value* value = present(properties, key);
  return value == nullptr ? std::string_view() : asText(*value).value_or(std::string_view());
}

std::optional<double> asNumber(const json::value& value) {
  switch (value.kind()) {
    case json::kind::int64:
      return static_cast<double>(value.get_int64());
    case json::kind::uint64:
      return static_cast<double>(value.get_uint64());
    case json::kind::double_:
      return value.get_double();
    default:
      return std::nullopt;
  }
}

std::optional<double> numberOf(const json::object& properties, std::string_view key) {
  const json::value* value = present(properties, key);
  return value == nullptr ? std::nullopt : asNumber(*value);
}

Trouble isName(std::string_view key, const json::value& value) {
  if (auto wrong = textOfAtMost(key, value, limits::nameCharacters)) return wrong;
  // The text lives in the value; what asText gives lives only as long as a whole expression.
  const std::string_view name = *asText(value);
  if (isBlank(name)) return trouble(key, "an empty name", "write a name, or leave it out");
  // A name becomes the record's subject, and its envelope allows none there.
  for (const char byte : name) {
    if (byte >= 0 && byte < 0x20) return trouble(key, "a control character in a name", "remove it");
  }
  return std::nullopt;
}

Trouble isWho(std::string_view key, const json::value& value) {
  return textOfAtMost(key, value, limits::nameCharacters);
}

Trouble isText(std::string_view key, const json::value& value) {
  return textOfAtMost(key, value, limits::textCharacters);
}

Trouble isNumber(std::string_view key, const json::value& value) {
  return numberBetween(key, value, -limits::amount, limits::amount, "too small", "too large",
                       "check the number and its unit");
}

Trouble isAmount(std::string_view key, const json::value& value) {
  return numberBetween(key, value, 0.0, limits::amount, "less than 0", "too large",
                       "check the number and its unit");
}

Trouble isCount(std::string_view key, const json::value& value) {
  if (auto wrong = isAmount(key, value)) return wrong;
  const double number = *asNumber(value);
  if (number != std::trunc(number)) return trouble(key, "not a whole number", "count again");
  return std::nullopt;
}

Trouble isFraction(std::string_view key, const json::value& value) {
  return numberBetween(key, value, 0.0, 1.0, "less than 0", "more than 1",
                       "write a share between 0 and 1 (12 % is 0.12)");
}

Trouble isArea(std::string_view key, const json::value& value) {
  return numberBetween(key, value, 0.0, limits::area_m2, "less than 0", "over 1,000,000 m2",
                       "check the number: areas are square metres");
}

Trouble isFlag(std::string_view key, const json::value& value) {
  if (!value.is_bool())
    return trouble(key, "neither true nor false", "write true, or leave it out");
  return std::nullopt;
}

Trouble isDate(std::string_view key, const json::value& value) {
  const auto text = asText(value);
  if (!text) return trouble(key, "not a date", "write it like \"2027-04-12\"");
  if (const auto date = measure::parseDate(*text); !date)
    return trouble(key, date.error().what, date.error().todo);
  return std::nullopt;
}

Trouble isTime(std::string_view key, const json::value& value) {
  const auto text = asText(value);
  if (!text) return trouble(key, "not a time", "write it like \"2027-04-12T06:40:00+01:00\"");
  if (const auto time = measure::parseInstant(*text); !time)
    return trouble(key, time.error().what, time.error().todo);
  return std::nullopt;
}

Trouble isKind(std::string_view key, const json::value& value) {
  static constexpr std::array<std::string_view, 4> words{"bare", "hungry", "dug", "washed"};
  return oneOf(key, value, words);
}

Trouble isZone(std::string_view key, const json::value& value) {
  static constexpr std::array<std::string_view, 3> words{"collar", "apron", "bank"};
  return oneOf(key, value, words);
}

Trouble isTapeForm(std::string_view key, const json::value& value) {
  static constexpr std::array<std::string_view, 3> words{"ellipse", "rectangle", "triangle"};
  return oneOf(key, value, words);
}

Trouble isStage(std::string_view key, const json::value& value) {
  static constexpr std::array<std::string_view, 2> words{"grow-in", "mature"};
  return oneOf(key, value, words);
}

Trouble isChoice(std::string_view key, const json::value& value) {
  static constexpr std::array<std::string_view, 7> words{
      "leave", "overseed", "fill and sow", "turf", "feed", "mend the cause first", "look again"};
  return oneOf(key, value, words);
}

Trouble isNames(std::string_view key, const json::value& value) {
  return each(key, value, isName, "write a list of names in square brackets");
}

Trouble isNameOrNames(std::string_view key, const json::value& value) {
  if (!value.is_array()) return isName(key, value);
  if (value.get_array().empty()) return trouble(key, "an empty list", "name at least one");
  return isNames(key, value);
}

Trouble isBlend(std::string_view key, const json::value& value) {
  const json::array* list = value.if_array();
  if (list == nullptr) return isName(key, value);
  if (list->empty()) return trouble(key, "an empty list", "name at least one species");
  double shares = 0.0;
  bool numbered = false;
  for (std::size_t i = 0; i < list->size(); ++i) {
    const std::string where = element(key, i);
    const json::object* part = (*list)[i].if_object();
    const json::value* species = part == nullptr ? nullptr : present(*part, "species");
    const json::value* byWeight = part == nullptr ? nullptr : present(*part, "share_by_weight");
    const json::value* byNumber = part == nullptr ? nullptr : present(*part, "share_by_number");
    if (species == nullptr || (byWeight == nullptr && byNumber == nullptr))
      return trouble(where, "species or share_by_weight is missing", "give both");
    if (i == 0) numbered = byNumber != nullptr;
    if ((byWeight != nullptr && byNumber != nullptr) || numbered != (byNumber != nullptr)) {
      return trouble(where, "shares by weight and by number in one blend",
                     "give all shares by weight or all by number of seeds");
    }
    if (auto wrong = isName(where + ", species", *species)) return wrong;
    const json::value& share = numbered ? *byNumber : *byWeight;
    const char* name = numbered ? ", share_by_number" : ", share_by_weight";
    if (auto wrong = isFraction(where + name, share)) return wrong;
    shares += *asNumber(share);
  }
  // Shares rounded to whole per cent add up to a little more than 1.
  if (shares > 1.05) return trouble(key, "the shares add up to more than 1", "correct the shares");
  return std::nullopt;
}

Trouble isAnalysis(std::string_view key, const json::value& value) {
  const json::array* list = value.if_array();
  if (list == nullptr || list->size() != 3)
    return trouble(key, "not three numbers", "write [N, P2O5, K2O] in per cent");
  if (auto wrong = each(key, value, isAmount, "")) return wrong;
  double sum = 0.0;
  for (const json::value& part : *list) sum += *asNumber(part);
  if (sum > 100.0)
    return trouble(key, "more than 100 % together", "copy the analysis from the bag");
  return std::nullopt;
}

Trouble isAmountOrRange(std::string_view key, const json::value& value) {
  const json::array* list = value.if_array();
  if (list == nullptr) return isAmount(key, value);
  if (list->size() != 2) return trouble(key, "not two numbers", "write one number or [low, high]");
  if (auto wrong = each(key, value, isAmount, "")) return wrong;
  if (*asNumber((*list)[0]) > *asNumber((*list)[1]))
    return trouble(key, "the low end lies above the high end", "write [low, high]");
  return std::nullopt;
}

Trouble isAmountOrAmounts(std::string_view key, const json::value& value) {
  return value.is_array() ? each(key, value, isAmount, "") : isAmount(key, value);
}

Trouble isPacks(std::string_view key, const json::value& value) {
  return value.is_array() ? each(key, value, isPackSize, "") : isPackSize(key, value);
}

Trouble isTapes(std::string_view key, const json::value& value) {
  const json::array* list = value.if_array();
  if (list == nullptr)
    return trouble(key, "not a list", "write [{\"mark\": …, \"distance_m\": …}]");
  for (std::size_t i = 0; i < list->size(); ++i) {
    const std::string where = element(key, i);
    const json::object* reading = (*list)[i].if_object();
    const json::value* mark = reading == nullptr ? nullptr : present(*reading, "mark");
    const json::value* distance = reading == nullptr ? nullptr : present(*reading, "distance_m");
    if (mark == nullptr || distance == nullptr)
      return trouble(where, "mark or distance_m is missing", "give both");
    if (auto wrong = isName(where + ", mark", *mark)) return wrong;
    if (auto wrong = isAmount(where + ", distance_m", *distance)) return wrong;
  }
  return std::nullopt;
}

Trouble isVisits(std::string_view key, const json::value& value) {
  const json::array* list = value.if_array();
  if (list == nullptr) return trouble(key, "not a list", "write [{\"at\": …, …}]");
  for (std::size_t i = 0; i < list->size(); ++i) {
    const std::string where = element(key, i);
    const json::object* visit = (*list)[i].if_object();
    if (visit == nullptr) return trouble(where, "not an object", "write {\"at\": …, …}");
    for (const char* each : {"at", "longitude", "latitude", "accuracy_m"}) {
      if (present(*visit, each) == nullptr)
        return trouble(where, fmt::format("{} is missing", each), "give it");
    }
    if (auto wrong = isTime(where + ", at", visit->at("at"))) return wrong;
    if (auto wrong = isAmount(where + ", accuracy_m", visit->at("accuracy_m"))) return wrong;
    const json::value place{{"type", "Point"},
                            {"coordinates", {visit->at("longitude"), visit->at("latitude")}}};
    if (auto wrong = checkGeometry(&place, atPoint)) return wrong;
  }
  return std::nullopt;
}

Trouble isSettings(std::string_view key, const json::value& value) {
  const json::object* settings = value.if_object();
  if (settings == nullptr) return trouble(key, "not an object", "write {\"setting\": number, …}");
  for (const json::key_value_pair& setting : *settings) {
    const std::string where = fmt::format("{}, {}", key, std::string_view(setting.key()));
    if (auto wrong = isNumber(where, setting.value())) return wrong;
  }
  return std::nullopt;
}

Trouble isHex32(std::string_view key, const json::value& value) { return hexOf(key, value, 32); }
Trouble isHex16(std::string_view key, const json::value& value) { return hexOf(key, value, 16); }

Trouble checkTexts(std::string_view key, const json::value& value) {
  if (value.is_string()) return isText(key, value);
  if (const json::array* list = value.if_array()) {
    for (const json::value& part : *list) {
      if (auto wrong = checkTexts(key, part)) return wrong;
    }
  } else if (const json::object* object = value.if_object()) {
    for (const json::key_value_pair& member : *object) {
      if (auto wrong = checkTexts(key, member.value())) return wrong;
    }
  }
  return std::nullopt;
}

}  // namespace swardwalk::course
