#include "common/answers/json_text.h"

#include <array>
#include <boost/json.hpp>
#include <cassert>
#include <charconv>
#include <cmath>

namespace swardwalk::answers {
namespace {

namespace json = boost::json;

void writePlain(double value, std::string& out) {
  assert(std::isfinite(value));
  if (!std::isfinite(value)) {
    out += "null";
    return;
  }
  if (value == 0.0) {
    out += '0';
    return;
  }
  // Fixed notation of the smallest and the largest double fit.
  std::array<char, 1200> digits;
  const auto written =
      std::to_chars(digits.data(), digits.data() + digits.size(), value, std::chars_format::fixed);
  assert(written.ec == std::errc());
  out.append(digits.data(), written.ptr);
}

void write(const json::value& value, std::string& out, int depth);

void writeObject(const json::object& object, std::string& out, int depth) {
  const bool open = depth == 0;
  bool first = true;
  out += '{';
  for (const auto& [key, member] : object) {
    if (!first) out += open ? ",\n " : ", ";
    first = false;
    out += json::serialize(json::string(key));
    out += ": ";
    write(member, out, depth + 1);
  }
  out += '}';
}

void writeArray(const json::array& array, std::string& out, int depth) {
  const bool open = depth == 1 && !array.empty() && array.front().is_object();
  bool first = true;
  out += '[';
  for (const json::value& item : array) {
    if (!first) out += ',';
    if (open) {
      out += "\n  ";
    } else if (!first) {
      out += ' ';
    }
    first = false;
    write(item, out, depth + 1);
  }
  out += ']';
}

void write(const json::value& value, std::string& out, int depth) {
  if (value.is_object()) return writeObject(value.get_object(), out, depth);
  if (value.is_array()) return writeArray(value.get_array(), out, depth);
  if (value.is_double()) return writePlain(value.get_double(), out);
  out += json::serialize(value);
}

}  // namespace

json::value number(double value) {
  if (!std::isfinite(value)) return nullptr;
  return value;
}

json::value number(std::optional<double> value) {
  if (!value) return nullptr;
  return number(*value);
}

json::value valueOf(const std::optional<measure::Measured>& measured) {
  if (!measured) return nullptr;
  return number(measured->value);
}

json::value uncertaintyOf(const std::optional<measure::Measured>& measured) {
  if (!measured) return nullptr;
  return number(measured->u);
}

json::value isoOrNull(std::optional<measure::Date> date) {
  if (!date) return nullptr;
  return json::value(measure::isoDate(*date));
}

json::value textOrNull(std::string_view text) {
  if (text.empty()) return nullptr;
  return json::value(text);
}

std::string writeJson(const json::value& value) {
  std::string out;
  write(value, out, 0);
  out += '\n';
  return out;
}

}  // namespace swardwalk::answers
