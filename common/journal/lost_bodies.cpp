#include "common/journal/lost_bodies.h"

#include <fmt/core.h>

#include <charconv>

namespace swardwalk::journal {

namespace {

constexpr std::string_view askedMark = " asked";

std::optional<LostBody> parseLine(std::string_view line) {
  constexpr std::size_t digits = 64;
  LostBody lost;
  lost.asked = line.ends_with(askedMark);
  if (lost.asked) line.remove_suffix(askedMark.size());
  if (line.size() < 2 * digits + 3) return std::nullopt;
  const auto origin = parseHex<32>(line.substr(0, digits));
  const auto digest = parseHex<32>(line.substr(line.size() - digits));
  const char* const end = line.data() + line.size() - digits - 1;
  const auto number = std::from_chars(line.data() + digits + 1, end, lost.point.number);
  if (!origin || !digest || number.ec != std::errc() || number.ptr != end) return std::nullopt;
  lost.point.origin = *origin;
  lost.point.digest = *digest;
  return lost;
}

}  // namespace

std::string writeLostBodies(std::span<const LostBody> lost) {
  std::string note;
  for (const LostBody& body : lost)
    note += fmt::format("{} {} {}{}\n", hex(body.point.origin), body.point.number,
                        hex(body.point.digest), body.asked ? askedMark : "");
  return note;
}

std::vector<LostBody> parseLostBodies(std::string_view note) {
  std::vector<LostBody> lost;
  while (!note.empty()) {
    const std::size_t end = std::min(note.find('\n'), note.size());
    if (auto body = parseLine(note.substr(0, end))) lost.push_back(*body);
    note.remove_prefix(std::min(end + 1, note.size()));
  }
  return lost;
}

std::vector<LostBody> lostBodies(const Journal& journal) {
  return parseLostBodies(journal.note(lostBodiesNote).value_or(""));
}

}  // namespace swardwalk::journal
