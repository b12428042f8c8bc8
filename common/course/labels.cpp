#include <fmt/format.h>

#include <algorithm>
#include <charconv>

#include "common/course/recorder.h"

namespace swardwalk::course {

namespace {

/// Bytes of the first `count` characters of UTF-8 text.
std::size_t bytesOf(std::string_view text, std::size_t count) {
  std::size_t at = 0;
  while (count > 0 && at < text.size()) {
    ++at;
    while (at < text.size() && (static_cast<unsigned char>(text[at]) & 0xC0) == 0x80) ++at;
    --count;
  }
  return at;
}

/// The first letters of the green that no other green begins with; the whole name where
/// another one goes on from it.
std::string prefixOf(const CourseState& state, std::string_view green) {
  for (std::size_t count = 1;; ++count) {
    const std::string_view prefix = green.substr(0, bytesOf(green, count));
    const bool shared =
        std::any_of(state.greens.begin(), state.greens.end(), [&](const Green& other) {
          return other.name != green && std::string_view(other.name).starts_with(prefix);
        });
    if (shared && prefix.size() < green.size()) continue;
    std::string own(prefix);
    // Behind a digit the patch's number would read as one with the green's.
    if (!own.empty() && own.back() >= '0' && own.back() <= '9') own += '-';
    return own;
  }
}

/// The number in a label of this prefix; nothing where it is another's label.
std::optional<std::uint64_t> numberIn(std::string_view label, std::string_view prefix) {
  if (!label.starts_with(prefix)) return std::nullopt;
  label.remove_prefix(prefix.size());
  std::uint64_t number = 0;
  const auto [stop, error] = std::from_chars(label.data(), label.data() + label.size(), number);
  if (error != std::errc{} || number > 1'000'000'000) return std::nullopt;
  return number;
}

}  // namespace

std::string nextLabel(const CourseState& state, std::string_view green,
                      std::string_view deviceLetter) {
  const std::string prefix = prefixOf(state, green);
  std::uint64_t last = 0;
  for (const Patch& patch : state.patches) {
    last = std::max(last, numberIn(patch.label, prefix).value_or(0));
    for (const Sighting& sighting : patch.sightings)
      last = std::max(last, numberIn(sighting.label, prefix).value_or(0));
  }
  return fmt::format("{}{}{}", prefix, last + 1, deviceLetter);
}

}  // namespace swardwalk::course
