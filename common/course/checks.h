#pragma once

#include <boost/json/fwd.hpp>
#include <optional>
#include <span>
#include <string>
#include <string_view>

#include "common/failure.h"

/// What features may say: the forms of single properties and of geometries. Together with
/// rules.cpp this is the one place of the refusals that contract.md lists.
namespace swardwalk::course {

namespace limits {
inline constexpr std::size_t nameCharacters = 120;
inline constexpr std::size_t textCharacters = 4000;
inline constexpr double area_m2 = 1'000'000.0;
/// No amount on a course comes near it; beyond it sums would lose their digits.
inline constexpr double amount = 1e9;
}  // namespace limits

/// What is wrong with something, or nothing.
using Trouble = std::optional<Failure>;

/// `where` is the property; `what` reads on after a colon.
Trouble trouble(std::string_view where, std::string what, std::string todo);

/// Looks at one property's value, which is not null.
using Form = Trouble (*)(std::string_view key, const boost::json::value& value);

Trouble isName(std::string_view key, const boost::json::value& value);
/// A name that may be empty: who, or which device.
Trouble isWho(std::string_view key, const boost::json::value& value);
Trouble isText(std::string_view key, const boost::json::value& value);
Trouble isNumber(std::string_view key, const boost::json::value& value);
Trouble isAmount(std::string_view key, const boost::json::value& value);
Trouble isCount(std::string_view key, const boost::json::value& value);
Trouble isFraction(std::string_view key, const boost::json::value& value);
Trouble isArea(std::string_view key, const boost::json::value& value);
Trouble isFlag(std::string_view key, const boost::json::value& value);
Trouble isDate(std::string_view key, const boost::json::value& value);
Trouble isTime(std::string_view key, const boost::json::value& value);
Trouble isKind(std::string_view key, const boost::json::value& value);
Trouble isZone(std::string_view key, const boost::json::value& value);
Trouble isTapeForm(std::string_view key, const boost::json::value& value);
Trouble isStage(std::string_view key, const boost::json::value& value);
Trouble isChoice(std::string_view key, const boost::json::value& value);
/// Names one by one, or one.
Trouble isNames(std::string_view key, const boost::json::value& value);
Trouble isNameOrNames(std::string_view key, const boost::json::value& value);
/// One species, or a list of {"species", "share_by_weight"}.
Trouble isBlend(std::string_view key, const boost::json::value& value);
Trouble isAnalysis(std::string_view key, const boost::json::value& value);
Trouble isAmountOrRange(std::string_view key, const boost::json::value& value);
Trouble isAmountOrAmounts(std::string_view key, const boost::json::value& value);
Trouble isPacks(std::string_view key, const boost::json::value& value);
Trouble isTapes(std::string_view key, const boost::json::value& value);
/// Visits to a mark: [{"at": time, "longitude": …, "latitude": …, "accuracy_m": …}].
Trouble isVisits(std::string_view key, const boost::json::value& value);
Trouble isSettings(std::string_view key, const boost::json::value& value);
/// Lower-case hexadecimal of 32 bytes: a digest or a key; and of 16: a person.
Trouble isHex32(std::string_view key, const boost::json::value& value);
Trouble isHex16(std::string_view key, const boost::json::value& value);

/// Where a feature may lie; a set of bits.
enum Place : unsigned { nowhere = 1, atPoint = 2, inOutline = 4, alongLine = 8 };

/// RFC 7946, plus rings that are left open. `geometry` may be nullptr: nowhere.
Trouble checkGeometry(const boost::json::value* geometry, unsigned places);

/// No text anywhere in it is longer than the limit.
Trouble checkTexts(std::string_view key, const boost::json::value& value);

/// A property that is there and not null, or nullptr.
const boost::json::value* present(const boost::json::object& properties, std::string_view key);

/// A body's properties, or nullptr.
const boost::json::object* propertiesOf(const boost::json::object& body);
/// A body's geometry, nullptr where it is null or absent.
const boost::json::value* geometryOf(const boost::json::object& body);

/// A property's text; empty where there is none.
std::string_view textOf(const boost::json::object& properties, std::string_view key);
/// A property's number; nothing where there is none.
std::optional<double> numberOf(const boost::json::object& properties, std::string_view key);
std::optional<double> asNumber(const boost::json::value& value);

}  // namespace swardwalk::course
