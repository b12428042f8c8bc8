#pragma once

#include <cstdint>
#include <optional>

#include "common/measure/instant.h"

namespace swardwalk::mobile {

/// The tablet's clock: the machine's, or one that stands still for tests, pictures and
/// simulated walks. Use from one thread.
class Clock {
 public:
  /// The machine's clock.
  Clock() = default;
  /// A clock that stands at `start` until it is moved.
  explicit Clock(measure::Instant start) : stands_(start) {}

  measure::Instant now() const;
  std::int64_t now_ms() const { return now().time_since_epoch().count(); }
  bool standsStill() const { return stands_.has_value(); }

  /// A clock that stands still goes on to `later`; never back. The machine's is left alone.
  void moveTo(measure::Instant later);

 private:
  std::optional<measure::Instant> stands_;
};

}  // namespace swardwalk::mobile
