#include "common/exchange/busy_wait.h"

#include <algorithm>
#include <charconv>
#include <random>

namespace swardwalk::exchange {

namespace {

using std::chrono::milliseconds;

/// Zero where it is none.
milliseconds secondsOf(std::string_view text) {
  std::uint32_t seconds = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), seconds);
  if (error != std::errc() || end != text.data() + text.size()) seconds = 0;
  return std::chrono::seconds(seconds);
}

milliseconds atRandomUpTo(milliseconds most) {
  std::random_device source;
  return milliseconds(std::uniform_int_distribution<std::int64_t>(0, most.count())(source));
}

}  // namespace

std::optional<milliseconds> BusyWait::next(std::string_view retryAfter) {
  const milliseconds said = secondsOf(retryAfter);
  const milliseconds least = std::min(said.count() > 0 ? said : own_, limits_.longest);
  own_ = std::min(own_ * 2, limits_.longest);
  const milliseconds wait = least + atRandomUpTo(least / 2);
  if (waited_ + wait > limits_.together) return std::nullopt;
  waited_ += wait;
  return wait;
}

}  // namespace swardwalk::exchange
