#pragma once

#include <chrono>
#include <string>
#include <string_view>

#include "common/failure.h"

namespace date {
class time_zone;
}

namespace swardwalk::measure {

/// A moment, in milliseconds since 1970 UTC without leap seconds.
using Instant = std::chrono::sys_time<std::chrono::milliseconds>;

/// A calendar day; which moments it covers depends on a time zone.
using Date = std::chrono::sys_days;

/// Days between two moments; a day is 86,400 s.
double daysBetween(Instant from, Instant to);

/// Reads "2027-04-12T06:40:00+01:00" (RFC 3339; offset or Z needed; fractions are cut
/// to milliseconds). Refuses moments that do not exist (a leap second among them, for
/// which an Instant has no place) or lie outside 1990 to 2200.
Result<Instant> parseInstant(std::string_view text);

/// Reads "2027-04-12". Refuses days that do not exist or lie outside 1990 to 2200.
Result<Date> parseDate(std::string_view text);

/// "2027-04-12".
std::string isoDate(Date date);

/// "12 April", or "12 April 2027" with `withYear`.
std::string wordsDate(Date date, bool withYear = false);

/// An IANA time zone from the machine's own tables. A pointer into tables that live as
/// long as the program, so a copy costs nothing. Immutable; safe to share between threads.
/// The tables list changes of the clock up to 2037; later ones keep the last offset.
class Zone {
 public:
  /// Fails with `invalid` where there is no such zone on this machine.
  static Result<Zone> named(std::string_view name);
  static Zone utc();

  const std::string& name() const;

  /// The day on which a moment falls here.
  Date dateOf(Instant instant) const;

  /// The first moment after the day: events before it belong to the day or earlier.
  /// A day may last 23 or 25 hours, begin after midnight, or be left out altogether.
  Instant endOf(Date date) const;

  /// RFC 3339 with this zone's offset, whole seconds, the rest cut off:
  /// "2027-04-12T06:40:00+01:00"; UTC writes "+00:00".
  std::string write(Instant instant) const;

  /// "06:40".
  std::string clockTime(Instant instant) const;

 private:
  explicit Zone(const date::time_zone* zone) : zone_(zone) {}
  const date::time_zone* zone_;  ///< none for UTC, which needs no tables
};

}  // namespace swardwalk::measure
