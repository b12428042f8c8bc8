#include "common/course/json.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <boost/json.hpp>
#include <boost/json/basic_parser_impl.hpp>
#include <charconv>
#include <cmath>
#include <optional>

namespace swardwalk::course {

namespace json = boost::json;

namespace {

/// Builds values from the parser's events, and reads doubles from their own digits.
struct Builder {
  static constexpr std::size_t max_object_size = json::object::max_size();
  static constexpr std::size_t max_array_size = json::array::max_size();
  static constexpr std::size_t max_key_size = json::string::max_size();
  static constexpr std::size_t max_string_size = json::string::max_size();

  json::value_stack stack;
  std::string digits;

  using Error = json::error_code;
  using Text = json::string_view;

  bool on_document_begin(Error&) { return true; }
  bool on_document_end(Error&) { return true; }
  bool on_object_begin(Error&) { return true; }
  bool on_array_begin(Error&) { return true; }
  bool on_comment_part(Text, Error&) { return true; }
  bool on_comment(Text, Error&) { return true; }
  bool on_object_end(std::size_t size, Error&) {
    stack.push_object(size);
    return true;
  }
  bool on_array_end(std::size_t size, Error&) {
    stack.push_array(size);
    return true;
  }
  bool on_key_part(Text text, std::size_t, Error&) {
    stack.push_chars(text);
    return true;
  }
  bool on_key(Text text, std::size_t, Error&) {
    stack.push_key(text);
    return true;
  }
  bool on_string_part(Text text, std::size_t, Error&) {
    stack.push_chars(text);
    return true;
  }
  bool on_string(Text text, std::size_t, Error&) {
    stack.push_string(text);
    return true;
  }
  bool on_bool(bool value, Error&) {
    stack.push_bool(value);
    return true;
  }
  bool on_null(Error&) {
    stack.push_null();
    return true;
  }
  bool on_number_part(Text text, Error&) {
    digits.append(text.data(), text.size());
    return true;
  }
  bool on_int64(std::int64_t value, Text, Error&) {
    digits.clear();
    stack.push_int64(value);
    return true;
  }
  bool on_uint64(std::uint64_t value, Text, Error&) {
    digits.clear();
    stack.push_uint64(value);
    return true;
  }
  bool on_double(double value, Text text, Error& error) {
    const char* begin = text.data();
    const char* end = begin + text.size();
    if (!digits.empty()) {
      digits.append(text.data(), text.size());
      begin = digits.data();
      end = begin + digits.size();
    }
    const auto [stop, status] = std::from_chars(begin, end, value);
    // Out of range is too large or too close to zero; the parser's own reading tells.
    if (status != std::errc{} && !(std::abs(value) < 1.0)) {
      error = json::error::exponent_overflow;
      return false;
    }
    digits.clear();
    stack.push_double(value);
    return true;
  }
};

/// Must it be escaped in a JSON string?
bool isSpecial(char letter) {
  return static_cast<unsigned char>(letter) < 0x20 || letter == '"' || letter == '\\';
}

void appendEscaped(std::string& out, char letter) {
  switch (letter) {
    case '"':
      out += "\\\"";
      break;
    case '\\':
      out += "\\\\";
      break;
    case '\n':
      out += "\\n";
      break;
    case '\t':
      out += "\\t";
      break;
    case '\r':
      out += "\\r";
      break;
    default:
      fmt::format_to(std::back_inserter(out), "\\u{:04x}", static_cast<int>(letter));
  }
}

void appendText(std::string& out, std::string_view text) {
  out += '"';
  auto from = text.begin();
  while (true) {
    const auto special = std::find_if(from, text.end(), isSpecial);
    out.append(from, special);
    if (special == text.end()) break;
    appendEscaped(out, *special);
    from = special + 1;
  }
  out += '"';
}

void appendDouble(std::string& out, double value) {
  std::array<char, 40> buffer;
  char* const begin = buffer.data();
  char* const end = begin + buffer.size();
  const double bound = 18446744073709551616.0;  // 2^64
  std::to_chars_result result{};
  if (value == std::trunc(value) && std::abs(value) < bound) {
    // 5.0 and 5 are one number, and are written as one.
    if (value < 0.0 && value >= -bound / 2.0) {
      result = std::to_chars(begin, end, static_cast<std::int64_t>(value));
    } else if (value >= 0.0) {
      result = std::to_chars(begin, end, static_cast<std::uint64_t>(value));
    } else {
      result = std::to_chars(begin, end, value);
    }
  } else {
    result = std::to_chars(begin, end, value);
  }
  out.append(begin, result.ptr);
}

/// Recursion is bounded by `limits::jsonDepth`, which the reader keeps.
void append(std::string& out, const json::value& value, bool sorted) {
  switch (value.kind()) {
    case json::kind::null:
      out += "null";
      break;
    case json::kind::bool_:
      out += value.get_bool() ? "true" : "false";
      break;
    case json::kind::int64:
      fmt::format_to(std::back_inserter(out), "{}", value.get_int64());
      break;
    case json::kind::uint64:
      fmt::format_to(std::back_inserter(out), "{}", value.get_uint64());
      break;
    case json::kind::double_:
      appendDouble(out, value.get_double());
      break;
    case json::kind::string:
      appendText(out, {value.get_string().data(), value.get_string().size()});
      break;
    case json::kind::array: {
      out += '[';
      bool first = true;
      for (const json::value& element : value.get_array()) {
        if (!first) out += ',';
        first = false;
        append(out, element, sorted);
      }
      out += ']';
      break;
    }
    case json::kind::object: {
      std::vector<const json::key_value_pair*> members;
      members.reserve(value.get_object().size());
      for (const json::key_value_pair& member : value.get_object()) members.push_back(&member);
      if (sorted) {
        std::sort(members.begin(), members.end(),
                  [](const auto* a, const auto* b) { return a->key() < b->key(); });
      }
      out += '{';
      bool first = true;
      for (const json::key_value_pair* member : members) {
        if (!first) out += ',';
        first = false;
        appendText(out, {member->key().data(), member->key().size()});
        out += ':';
        append(out, member->value(), sorted);
      }
      out += '}';
      break;
    }
  }
}

std::string lineAndColumn(std::string_view text, std::size_t at) {
  const std::string_view before = text.substr(0, at);
  const auto line = std::count(before.begin(), before.end(), '\n') + 1;
  const std::size_t feed = before.rfind('\n');
  const std::size_t column = feed == std::string_view::npos ? at + 1 : at - feed;
  return fmt::format("line {}, column {}", line, column);
}

json::parse_options parseOptions() {
  json::parse_options options;
  options.max_depth = limits::jsonDepth;
  return options;
}

}  // namespace

struct JsonReader::Inner {
  // Most bodies fit here, so that reading a journal needs few allocations.
  std::array<unsigned char, 16 * 1024> buffer;
  json::monotonic_resource memory{buffer.data(), buffer.size()};
  json::basic_parser<Builder> parser{parseOptions()};
  std::optional<json::value> value;
};

JsonReader::JsonReader() : inner_(std::make_unique<Inner>()) {}
JsonReader::~JsonReader() = default;

Result<const json::value*> JsonReader::read(std::string_view text) {
  inner_->value.reset();
  inner_->memory.release();
  inner_->parser.reset();
  Builder& builder = inner_->parser.handler();
  builder.digits.clear();
  builder.stack.reset(&inner_->memory);
  json::error_code error;
  const std::size_t used = inner_->parser.write_some(false, text.data(), text.size(), error);
  if (!error && used < text.size()) error = json::error::extra_data;
  if (!error) {
    inner_->value.emplace(builder.stack.release());
    return &*inner_->value;
  }
  builder.stack.reset();
  const std::string where = lineAndColumn(text, std::min(used, text.size()));
  if (error == json::error::exponent_overflow) {
    return fail(FailureKind::invalid, where, "a number is larger than can be computed with",
                "write a smaller number");
  }
  if (error == json::error::too_deep) {
    return fail(FailureKind::invalid, where,
                fmt::format("lists lie more than {} deep in each other", limits::jsonDepth),
                "make it flatter");
  }
  if (error == json::error::incomplete) {
    return fail(FailureKind::invalid, where, "the JSON text ends too early",
                "copy the whole file again");
  }
  return fail(FailureKind::invalid, where, fmt::format("not JSON ({})", error.message()),
              "correct the text there");
}

std::string writeJson(const json::value& value) {
  std::string out;
  append(out, value, false);
  return out;
}

std::string writeJson(const json::object& object) {
  std::string out = "{";
  for (const json::key_value_pair& member : object) {
    if (out.size() > 1) out += ',';
    appendText(out, {member.key().data(), member.key().size()});
    out += ':';
    append(out, member.value(), false);
  }
  out += '}';
  return out;
}

std::string canonicalJson(const json::value& value) {
  std::string out;
  append(out, value, true);
  return out;
}

}  // namespace swardwalk::course
