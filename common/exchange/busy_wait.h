#pragma once

#include <chrono>
#include <optional>
#include <string_view>

namespace swardwalk::exchange {

/// How long who asks waits for a shed that says that it is busy; PROTOCOL.md, "Answers that
/// are errors". One for each question. Use from one thread.
class BusyWait {
 public:
  struct Limits {
    std::chrono::milliseconds first{2'000};       ///< where the shed does not say; then doubled
    std::chrono::milliseconds longest{60'000};    ///< one wait, before what chance adds
    std::chrono::milliseconds together{120'000};  ///< all waits of one question
  };

  BusyWait() = default;
  explicit BusyWait(const Limits& limits) : limits_(limits), own_(limits.first) {}

  /// The next wait, by what the shed said in Retry-After (whole seconds; anything else counts
  /// as nothing), with up to half as much again at random, so that those who were sent away
  /// together do not come back together. Nothing where it would be too long altogether.
  std::optional<std::chrono::milliseconds> next(std::string_view retryAfter);

 private:
  Limits limits_;
  std::chrono::milliseconds own_ = limits_.first;
  std::chrono::milliseconds waited_{0};
};

}  // namespace swardwalk::exchange
