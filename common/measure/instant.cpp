#include "common/measure/instant.h"

#include <date/tz.h>
#include <fmt/format.h>

#include <array>
#include <cassert>
#include <optional>

namespace swardwalk::measure {
namespace {

using std::chrono::days;
using std::chrono::floor;
using std::chrono::hours;
using std::chrono::milliseconds;
using std::chrono::minutes;
using std::chrono::seconds;

constexpr int firstYear = 1990;
constexpr int lastYear = 2200;

constexpr std::array<const char*, 12> monthNames = {
    "January", "February", "March",     "April",   "May",      "June",
    "July",    "August",   "September", "October", "November", "December"};

/// Takes digits and letters from the front of a text; one failure spoils the rest.
class Reader {
 public:
  explicit Reader(std::string_view text) : rest_(text) {}

  int number(std::size_t digits) {
    int value = 0;
    for (std::size_t i = 0; i < digits; ++i) value = 10 * value + digit();
    return value;
  }

  /// Takes one character, which must be one of `allowed`; '\0' where it is not.
  char oneOf(std::string_view allowed) {
    if (rest_.empty() || allowed.find(rest_.front()) == std::string_view::npos) {
      good_ = false;
      return '\0';
    }
    const char taken = rest_.front();
    rest_.remove_prefix(1);
    return taken;
  }

  /// One digit or more after the decimal sign; milliseconds, the rest cut off.
  int fraction_ms() {
    int value = 10 * (10 * digit());
    for (int scale = 10; nextIsDigit(); scale /= 10) value += scale * digit();
    return value;
  }

  bool nextIs(char sign) const { return !rest_.empty() && rest_.front() == sign; }
  bool atEnd() const { return good_ && rest_.empty(); }
  bool good() const { return good_; }

 private:
  bool nextIsDigit() const {
    return !rest_.empty() && rest_.front() >= '0' && rest_.front() <= '9';
  }

  int digit() {
    if (!nextIsDigit()) {
      good_ = false;
      return 0;
    }
    const int value = rest_.front() - '0';
    rest_.remove_prefix(1);
    return value;
  }

  std::string_view rest_;
  bool good_ = true;
};

std::optional<Date> takeDate(Reader& reader) {
  const int year = reader.number(4);
  reader.oneOf("-");
  const int month = reader.number(2);
  reader.oneOf("-");
  const int day = reader.number(2);
  const std::chrono::year_month_day date{std::chrono::year{year},
                                         std::chrono::month{static_cast<unsigned>(month)},
                                         std::chrono::day{static_cast<unsigned>(day)}};
  if (!reader.good() || !date.ok()) return std::nullopt;
  return Date{date};
}

/// Time of day and offset behind the date; nothing where they break RFC 3339.
std::optional<milliseconds> takeTime(Reader& reader) {
  reader.oneOf("Tt");
  const int hour = reader.number(2);
  reader.oneOf(":");
  const int minute = reader.number(2);
  reader.oneOf(":");
  const int second = reader.number(2);
  int fraction_ms = 0;
  if (reader.nextIs('.')) {
    reader.oneOf(".");
    fraction_ms = reader.fraction_ms();
  }
  minutes offset{0};
  const char sign = reader.oneOf("Zz+-");
  if (sign == '+' || sign == '-') {
    const int offsetHour = reader.number(2);
    reader.oneOf(":");
    const int offsetMinute = reader.number(2);
    if (offsetHour > 23 || offsetMinute > 59) return std::nullopt;
    offset = hours{offsetHour} + minutes{offsetMinute};
    if (sign == '-') offset = -offset;
  }
  if (!reader.atEnd() || hour > 23 || minute > 59 || second > 59) return std::nullopt;
  return hours{hour} + minutes{minute} + seconds{second} + milliseconds{fraction_ms} - offset;
}

bool inYears(Date date) {
  const int year = static_cast<int>(std::chrono::year_month_day{date}.year());
  return year >= firstYear && year <= lastYear;
}

/// At most this much of a refused text is repeated to the person who gave it.
std::string quoted(std::string_view text) {
  constexpr std::size_t longest = 40;
  return fmt::format("'{}{}'", text.substr(0, longest), text.size() > longest ? "…" : "");
}

const std::string& utcName() {
  static const std::string name = "UTC";
  return name;
}

/// The zone's clock at a moment, as if it were UTC.
Instant onTheClock(const date::time_zone* zone, Instant instant) {
  if (zone == nullptr) return instant;
  return instant + zone->get_info(instant).offset;
}

}  // namespace

double daysBetween(Instant from, Instant to) {
  return static_cast<double>((to - from).count()) / 86'400'000.0;
}

Result<Instant> parseInstant(std::string_view text) {
  Reader reader(text);
  const std::optional<Date> date = takeDate(reader);
  const std::optional<milliseconds> time = date ? takeTime(reader) : std::nullopt;
  if (!time) {
    return fail(FailureKind::invalid, "", quoted(text) + " is not a time that exists",
                "write it like 2027-04-12T06:40:00+01:00");
  }
  const Instant instant = *date + *time;
  if (!inYears(floor<days>(instant))) {
    return fail(
        FailureKind::invalid, "",
        fmt::format("{} lies outside the years {} to {}", quoted(text), firstYear, lastYear),
        "check the year");
  }
  return instant;
}

Result<Date> parseDate(std::string_view text) {
  Reader reader(text);
  const std::optional<Date> date = takeDate(reader);
  if (!date || !reader.atEnd()) {
    return fail(FailureKind::invalid, "", quoted(text) + " is not a day that exists",
                "write it like 2027-04-12");
  }
  if (!inYears(*date)) {
    return fail(
        FailureKind::invalid, "",
        fmt::format("{} lies outside the years {} to {}", quoted(text), firstYear, lastYear),
        "check the year");
  }
  return *date;
}

std::string isoDate(Date date) {
  const std::chrono::year_month_day parts{date};
  return fmt::format("{:04}-{:02}-{:02}", static_cast<int>(parts.year()),
                     static_cast<unsigned>(parts.month()), static_cast<unsigned>(parts.day()));
}

std::string wordsDate(Date date, bool withYear) {
  const std::chrono::year_month_day parts{date};
  std::string words = fmt::format("{} {}", static_cast<unsigned>(parts.day()),
                                  monthNames[static_cast<unsigned>(parts.month()) - 1]);
  if (withYear) words += fmt::format(" {}", static_cast<int>(parts.year()));
  return words;
}

Result<Zone> Zone::named(std::string_view name) {
  if (name == utcName()) return utc();
  try {
    const date::time_zone* zone = date::locate_zone(std::string(name));
    // The zone's file is read at its first use: a broken one must show here.
    zone->get_info(Instant{});
    return Zone(zone);
  } catch (const std::exception&) {
    return fail(FailureKind::invalid, "", "there is no time zone " + quoted(name),
                "name one like Europe/London, or UTC");
  }
}

Zone Zone::utc() { return Zone(nullptr); }

const std::string& Zone::name() const { return zone_ == nullptr ? utcName() : zone_->name(); }

Date Zone::dateOf(Instant instant) const { return floor<days>(onTheClock(zone_, instant)); }

Instant Zone::endOf(Date date) const {
  const Date next = date + days{1};
  if (zone_ == nullptr) return next;
  const date::local_info midnight =
      zone_->get_info(date::local_seconds{seconds{next.time_since_epoch()}});
  // Where clocks jump over midnight, the day ends at the jump.
  if (midnight.result == date::local_info::nonexistent) return midnight.first.end;
  return Instant{next} - midnight.first.offset;
}

std::string Zone::write(Instant instant) const {
  const Instant clock = onTheClock(zone_, instant);
  const minutes offset = floor<minutes>(clock - instant);
  const Date day = floor<days>(clock);
  const std::chrono::hh_mm_ss time{floor<seconds>(clock - day)};
  const minutes size = std::chrono::abs(offset);
  return fmt::format("{}T{:02}:{:02}:{:02}{}{:02}:{:02}", isoDate(day), time.hours().count(),
                     time.minutes().count(), time.seconds().count(),
                     offset < minutes{0} ? '-' : '+', size.count() / 60, size.count() % 60);
}

std::string Zone::clockTime(Instant instant) const {
  const Instant clock = onTheClock(zone_, instant);
  const std::chrono::hh_mm_ss time{clock - floor<days>(clock)};
  return fmt::format("{:02}:{:02}", time.hours().count(), time.minutes().count());
}

}  // namespace swardwalk::measure
