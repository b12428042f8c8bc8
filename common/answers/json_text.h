#pragma once

#include <boost/json/fwd.hpp>
#include <optional>
#include <string>

#include "common/measure/instant.h"
#include "common/measure/measured.h"

/// JSON as the answers write it.
namespace swardwalk::answers {

/// A number, null where it is none: no answer is ever NaN or infinite.
boost::json::value number(double value);
boost::json::value number(std::optional<double> value);
boost::json::value valueOf(const std::optional<measure::Measured>& measured);
boost::json::value uncertaintyOf(const std::optional<measure::Measured>& measured);
boost::json::value isoOrNull(std::optional<measure::Date> date);
/// Null for an empty text.
boost::json::value textOrNull(std::string_view text);

/// Writes an answer so that people can read it, too: the top object's members a line
/// each, lists of objects an item a line; numbers plain, shortest that reads back the
/// same, never with an exponent; ends with a line feed.
std::string writeJson(const boost::json::value& value);

}  // namespace swardwalk::answers
