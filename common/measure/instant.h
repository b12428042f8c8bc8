#pragma once

#include <chrono>
#include <memory>
#include <string>
#include <string_view>

#include "common/failure.h"

namespace swardwalk::measure {

/// A moment, in milliseconds since 1970 UTC without leap seconds.
using Instant = std::chrono::sys_time<std::chrono::milliseconds>;

/// A calendar day; which moments it covers depends on a time zone.
using Date = std::chrono::sys_days;

/// Days between two moments; a day is 86,400 s.
double daysBetween(Instant from, Instant to);

/// Reads "2027-04-12T06:40:00+01:00" (RFC 3339; offset or Z needed; fractions to
/// milliseconds). Refuses moments that do not exist or lie outside 1990 to 2200.
Result<Instant> parseInstant(std::string_view text);

/// Reads "2027-04-12". Refuses days that do not exist or lie outside 1990 to 2200.
Result<Date> parseDate(std::string_view text);

/// "2027-04-12".
std::string isoDate(Date date);

/// "12 April", or "12 April 2027" with `withYear`.
std::string wordsDate(Date date, bool withYear = false);

/// An IANA time zone. Immutable; safe to share between threads.
class Zone {
 public:
  /// Fails with `invalid` where there is no such zone on this machine.
  static Result<Zone> named(std::string_view name);
  static Zone utc();

  const std::string& name() const { return name_; }

  /// The day on which a moment falls here.
  Date dateOf(Instant instant) const;

  /// The first moment after the day: events before it belong to the day or earlier.
  Instant endOf(Date date) const;

  /// RFC 3339 with this zone's offset, whole seconds: "2027-04-12T06:40:00+01:00".
  std::string write(Instant instant) const;

  /// "06:40".
  std::string clockTime(Instant instant) const;

 private:
  explicit Zone(std::string name);
  std::string name_;
};

}  // namespace swardwalk::measure
