#include "common/journal/record.h"

#include <fmt/core.h>

#include <algorithm>

#include "common/journal/utf8.h"

namespace swardwalk::journal {

namespace {

int digitOf(char c) {
  if (c >= '0' && c <= '9') return c - '0';
  if (c >= 'a' && c <= 'f') return c - 'a' + 10;
  return -1;
}

bool inRange(std::int64_t value) { return value >= -limits::integer && value <= limits::integer; }

std::optional<std::string> brokenText(const Record& record) {
  const Draft& content = record.content;
  if (content.type.empty() || content.type.size() > limits::typeBytes ||
      !std::all_of(content.type.begin(), content.type.end(),
                   [](char c) { return (c >= 'a' && c <= 'z') || c == '_'; }))
    return fmt::format("its type is not 1 to {} letters a to z or _", limits::typeBytes);
  if (content.subject.size() > limits::subjectBytes)
    return fmt::format("its subject is longer than {} bytes", limits::subjectBytes);
  if (!isUtf8(content.subject) || std::any_of(content.subject.begin(), content.subject.end(),
                                              [](char c) { return c >= 0 && c < ' '; }))
    return "its subject is not UTF-8 without control characters";
  if (record.erased) {
    if (!content.body.empty()) return "it is erased and has a body";
    return std::nullopt;
  }
  if (content.body.empty()) return "its body is empty";
  if (content.body.size() > limits::bodyBytes)
    return fmt::format("its body is longer than {} bytes", limits::bodyBytes);
  if (content.body.find('\n') != std::string::npos || !isUtf8(content.body))
    return "its body is not UTF-8 without a line feed";
  return std::nullopt;
}

}  // namespace

std::optional<std::string> brokenLimit(const Record& record) {
  constexpr auto most = static_cast<std::uint64_t>(limits::integer);
  if (record.number > most || record.counter > most) return "its number or counter is too high";
  if (!inRange(record.content.wall_ms) || !inRange(record.content.clockOffset_ms))
    return "its clock is out of range";
  return brokenText(record);
}

std::string hex(const std::uint8_t* bytes, std::size_t size) {
  constexpr char digits[] = "0123456789abcdef";
  std::string text(size * 2, '0');
  for (std::size_t i = 0; i < size; ++i) {
    text[2 * i] = digits[bytes[i] >> 4];
    text[2 * i + 1] = digits[bytes[i] & 15];
  }
  return text;
}

bool parseHex(std::string_view text, std::uint8_t* bytes, std::size_t size) {
  if (text.size() != size * 2) return false;
  for (std::size_t i = 0; i < size; ++i) {
    const int high = digitOf(text[2 * i]);
    const int low = digitOf(text[2 * i + 1]);
    if (high < 0 || low < 0) return false;
    bytes[i] = static_cast<std::uint8_t>(high * 16 + low);
  }
  return true;
}

}  // namespace swardwalk::journal
