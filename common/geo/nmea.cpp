#include "common/geo/nmea.h"

#include <array>
#include <charconv>
#include <cmath>

namespace swardwalk::geo {
namespace {

using std::chrono::days;
using std::chrono::milliseconds;

constexpr double metresPerSecondPerKnot = 1852.0 / 3600.0;
constexpr int dayLength_ms = 86'400'000;

/// The whole text as a finite number; charconv, because it knows no locale.
std::optional<double> toNumber(std::string_view text) {
  double value = 0.0;
  const char* end = text.data() + text.size();
  const auto [stop, error] = std::from_chars(text.data(), end, value, std::chars_format::fixed);
  if (text.empty() || error != std::errc() || stop != end || !std::isfinite(value)) {
    return std::nullopt;
  }
  return value;
}

std::optional<int> toDigits(std::string_view text) {
  constexpr std::size_t mostDigits = 9;  // more may not fit an int
  if (text.empty() || text.size() > mostDigits) return std::nullopt;
  int value = 0;
  for (const char sign : text) {
    if (sign < '0' || sign > '9') return std::nullopt;
    value = 10 * value + (sign - '0');
  }
  return value;
}

/// "hhmmss.sss" as milliseconds of the day.
std::optional<int> toTime_ms(std::string_view text) {
  if (text.size() < 6) return std::nullopt;
  const std::optional<int> hour = toDigits(text.substr(0, 2));
  const std::optional<int> minute = toDigits(text.substr(2, 2));
  const std::optional<double> second = toNumber(text.substr(4));
  if (!hour || !minute || !second) return std::nullopt;
  if (*hour > 23 || *minute > 59 || *second < 0.0 || *second >= 60.0) return std::nullopt;
  return (*hour * 60 + *minute) * 60'000 + static_cast<int>(std::lround(*second * 1000.0));
}

std::optional<measure::Date> toDate(std::optional<int> year, std::optional<int> month,
                                    std::optional<int> day) {
  if (!year || !month || !day) return std::nullopt;
  const std::chrono::year_month_day date{std::chrono::year{*year},
                                         std::chrono::month{static_cast<unsigned>(*month)},
                                         std::chrono::day{static_cast<unsigned>(*day)}};
  if (!date.ok()) return std::nullopt;
  return measure::Date{date};
}

/// "ddmmyy" of RMC. The year's two digits mean 1980 (when the satellites' weeks begin)
/// to 2079.
std::optional<measure::Date> toShortDate(std::string_view text) {
  if (text.size() != 6) return std::nullopt;
  std::optional<int> year = toDigits(text.substr(4, 2));
  if (year) *year += *year < 80 ? 2000 : 1900;
  return toDate(year, toDigits(text.substr(2, 2)), toDigits(text.substr(0, 2)));
}

/// "ddmm.mmm" or "dddmm.mmm" with its hemisphere as degrees.
std::optional<double> toDegrees(std::string_view text, std::string_view hemisphere,
                                std::size_t degreeDigits, double most_deg) {
  if (text.size() < degreeDigits + 2 || hemisphere.size() != 1) return std::nullopt;
  const std::optional<int> degrees = toDigits(text.substr(0, degreeDigits));
  const std::optional<double> minutes = toNumber(text.substr(degreeDigits));
  if (!degrees || !minutes || *minutes < 0.0 || *minutes >= 60.0) return std::nullopt;
  const double size = *degrees + *minutes / 60.0;
  if (size > most_deg) return std::nullopt;
  switch (hemisphere.front()) {
    case 'N':
    case 'E':
      return size;
    case 'S':
    case 'W':
      return -size;
    default:
      return std::nullopt;
  }
}

std::optional<int> hexDigit(char sign) {
  if (sign >= '0' && sign <= '9') return sign - '0';
  if (sign >= 'A' && sign <= 'F') return sign - 'A' + 10;
  if (sign >= 'a' && sign <= 'f') return sign - 'a' + 10;
  return std::nullopt;
}

/// What stands between "$" and "*", where the checksum behind it fits.
std::optional<std::string_view> checked(std::string_view line) {
  if (line.size() < 4 || line[line.size() - 3] != '*') return std::nullopt;
  const std::optional<int> high = hexDigit(line[line.size() - 2]);
  const std::optional<int> low = hexDigit(line[line.size() - 1]);
  const std::string_view body = line.substr(1, line.size() - 4);
  int sum = 0;
  for (const char sign : body) sum ^= static_cast<unsigned char>(sign);
  if (!high || !low || sum != 16 * *high + *low) return std::nullopt;
  return body;
}

}  // namespace

/// The fields of one sentence; one that is not there is empty.
class NmeaReader::Fields {
 public:
  explicit Fields(std::string_view body) {
    while (count_ < fields_.size()) {
      const std::size_t comma = body.find(',');
      fields_[count_++] = body.substr(0, comma);
      if (comma == std::string_view::npos) break;
      body.remove_prefix(comma + 1);
    }
  }

  std::string_view at(std::size_t i) const { return i < count_ ? fields_[i] : ""; }

  /// The three letters behind the talker; empty for a maker's own sentences.
  std::string_view type() const {
    return fields_[0].size() == 5 && fields_[0][0] != 'P' ? fields_[0].substr(2) : "";
  }

  std::optional<int> time_ms() const { return toTime_ms(at(1)); }
  std::optional<double> number(std::size_t i) const { return toNumber(at(i)); }

  /// Latitude, hemisphere, longitude, hemisphere from field `i` on.
  std::optional<Position> position(std::size_t i) const {
    const std::optional<double> latitude = toDegrees(at(i), at(i + 1), 2, 90.0);
    const std::optional<double> longitude = toDegrees(at(i + 2), at(i + 3), 3, 180.0);
    const bool mixed = at(i + 1) == "E" || at(i + 1) == "W" || at(i + 3) == "N" || at(i + 3) == "S";
    if (!latitude || !longitude || mixed) return std::nullopt;
    return Position{*latitude, *longitude};
  }

 private:
  std::array<std::string_view, 24> fields_;
  std::size_t count_ = 0;
};

NmeaReader::NmeaReader(double rangeError_m) : rangeError_m_(rangeError_m) {}

std::optional<Fix> NmeaReader::take(std::string_view line) {
  while (!line.empty() && (line.back() == '\r' || line.back() == '\n' || line.back() == ' ')) {
    line.remove_suffix(1);
  }
  if (line.empty() || line.front() != '$') return std::nullopt;
  const auto body = line.size() > longestLine ? std::nullopt : checked(line);
  if (!body) {
    ++badChecksums_;
    return std::nullopt;
  }
  ++sentences_;
  const Fields fields(*body);
  const std::string_view type = fields.type();
  if (type == "GGA") return takeGga(fields);
  if (type == "RMC") return takeRmc(fields);
  if (type == "ZDA") return takeZda(fields);
  if (type == "GST") return takeGst(fields);
  if (type == "GSA" && epoch_.time_ms && !epoch_.hdop) epoch_.hdop = fields.number(16);
  return std::nullopt;
}

std::optional<Fix> NmeaReader::finish() { return close(); }

/// Closes the epoch before where the time is another one.
std::optional<Fix> NmeaReader::begin(std::optional<int> time_ms) {
  if (!time_ms || epoch_.time_ms == time_ms) return std::nullopt;
  std::optional<Fix> fix = close();
  epoch_.time_ms = time_ms;
  return fix;
}

std::optional<Fix> NmeaReader::close() {
  const Epoch epoch = epoch_;
  epoch_ = {};
  if (!epoch.time_ms) return std::nullopt;
  const milliseconds timeOfDay{*epoch.time_ms};
  if (epoch.date) {
    latest_ = *epoch.date + timeOfDay;
  } else if (latest_) {
    // Times of day that fall by more than half a day have passed midnight.
    const measure::Date day = std::chrono::floor<days>(*latest_);
    const bool passed = *latest_ - (day + timeOfDay) > milliseconds{dayLength_ms / 2};
    latest_ = day + days{passed ? 1 : 0} + timeOfDay;
  } else {
    return std::nullopt;
  }
  if (!epoch.position) return std::nullopt;
  Fix fix;
  fix.time = *latest_;
  fix.position = *epoch.position;
  fix.accuracy_m = epoch.sigma_m;
  if (!fix.accuracy_m && epoch.hdop && *epoch.hdop > 0.0) {
    fix.accuracy_m = *epoch.hdop * rangeError_m_;
  }
  fix.speed_m_s = epoch.speed_m_s;
  fix.heading_deg = epoch.heading_deg;
  fix.quality = epoch.quality;
  return fix;
}

std::optional<Fix> NmeaReader::takeGga(const Fields& fields) {
  if (!fields.time_ms()) return std::nullopt;
  std::optional<Fix> done = begin(fields.time_ms());
  switch (toDigits(fields.at(6)).value_or(0)) {
    case 1:  // satellites alone
    case 3:  // with the military code
      epoch_.quality = FixQuality::autonomous;
      break;
    case 2:
      epoch_.quality = FixQuality::differential;
      break;
    case 4:
      epoch_.quality = FixQuality::fixed;
      break;
    case 5:
      epoch_.quality = FixQuality::floating;
      break;
    case 8:  // a simulator, which says nothing about quality
      epoch_.quality = FixQuality::unknown;
      break;
    default:  // no position, one reckoned from the last, or one typed in
      epoch_.position.reset();
      epoch_.placedByGga = true;
      return done;
  }
  epoch_.position = fields.position(2);
  epoch_.placedByGga = true;
  if (const auto hdop = fields.number(8)) epoch_.hdop = hdop;
  return done;
}

std::optional<Fix> NmeaReader::takeRmc(const Fields& fields) {
  if (!fields.time_ms()) return std::nullopt;
  std::optional<Fix> done = begin(fields.time_ms());
  if (const auto date = toShortDate(fields.at(9))) epoch_.date = date;
  const std::string_view mode = fields.at(12);
  const bool measured = fields.at(2) == "A" && mode != "E" && mode != "M" && mode != "N";
  if (!measured) return done;
  if (!epoch_.placedByGga) epoch_.position = fields.position(3);
  if (const auto knots = fields.number(7)) epoch_.speed_m_s = *knots * metresPerSecondPerKnot;
  epoch_.heading_deg = fields.number(8);
  return done;
}

std::optional<Fix> NmeaReader::takeZda(const Fields& fields) {
  if (!fields.time_ms()) return std::nullopt;
  std::optional<Fix> done = begin(fields.time_ms());
  const auto date = toDate(toDigits(fields.at(4)), toDigits(fields.at(3)), toDigits(fields.at(2)));
  if (date) epoch_.date = date;
  return done;
}

std::optional<Fix> NmeaReader::takeGst(const Fields& fields) {
  if (!fields.time_ms()) return std::nullopt;
  std::optional<Fix> done = begin(fields.time_ms());
  const std::optional<double> north = fields.number(6);
  const std::optional<double> east = fields.number(7);
  if (north && east) {
    const double sigma_m = std::sqrt(0.5 * (*north * *north + *east * *east));
    if (sigma_m > 0.0) epoch_.sigma_m = sigma_m;
  }
  return done;
}

}  // namespace swardwalk::geo
