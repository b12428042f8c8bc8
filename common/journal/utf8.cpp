#include "common/journal/utf8.h"

#include <cstdint>
#include <cstring>

namespace swardwalk::journal {

namespace {

/// How many bytes the sequence at `at` has, or 0 where it is malformed.
std::size_t sequenceAt(std::string_view text, std::size_t at) {
  const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[at + i]); };
  const unsigned first = byte(0);
  std::size_t size = 0;
  std::uint32_t code = 0;
  if (first >= 0xC2 && first <= 0xDF) {
    size = 2;
    code = first & 0x1F;
  } else if (first >= 0xE0 && first <= 0xEF) {
    size = 3;
    code = first & 0x0F;
  } else if (first >= 0xF0 && first <= 0xF4) {
    size = 4;
    code = first & 0x07;
  } else {
    return 0;
  }
  if (text.size() - at < size) return 0;
  for (std::size_t i = 1; i < size; ++i) {
    if ((byte(i) & 0xC0) != 0x80) return 0;
    code = (code << 6) | (byte(i) & 0x3F);
  }
  if (size == 3 && (code < 0x800 || (code >= 0xD800 && code <= 0xDFFF))) return 0;
  if (size == 4 && (code < 0x10000 || code > 0x10FFFF)) return 0;
  return size;
}

}  // namespace

bool isUtf8(std::string_view text) {
  std::size_t at = 0;
  while (at < text.size()) {
    // Nearly everything is ASCII: eight bytes at a time.
    std::uint64_t eight = 0;
    while (text.size() - at >= 8) {
      std::memcpy(&eight, text.data() + at, 8);
      if ((eight & 0x8080808080808080U) != 0) break;
      at += 8;
    }
    if (at == text.size()) return true;
    if (static_cast<unsigned char>(text[at]) < 0x80) {
      ++at;
      continue;
    }
    const std::size_t size = sequenceAt(text, at);
    if (size == 0) return false;
    at += size;
  }
  return true;
}

}  // namespace swardwalk::journal
