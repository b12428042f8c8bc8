#include <fmt/format.h>

#include <cmath>

#include "sample-course/crew.h"
#include "sample-course/ground.h"

namespace swardwalk::sample {
namespace {

/// "5506.018000,N" from degrees; `widthDegrees` 2 for latitude, 3 for longitude.
std::string nmeaAngle(double degrees, int widthDegrees, char positive, char negative) {
  const double whole = std::floor(std::abs(degrees));
  const double minutes = (std::abs(degrees) - whole) * 60.0;
  return fmt::format("{:0{}}{:010.7f},{}", static_cast<int>(whole), widthDegrees, minutes,
                     degrees < 0 ? negative : positive);
}

std::string sentence(const std::string& body) {
  unsigned sum = 0;
  for (const char letter : body) sum ^= static_cast<unsigned char>(letter);
  return fmt::format("${}*{:02X}\r\n", body, sum);
}

}  // namespace

std::vector<geo::Fix> Crew::walkOver(std::size_t green, const Tablet& tablet,
                                     measure::Instant start, std::uint64_t seed) const {
  Noise noise(seed);
  DriftingError east(noise, tablet.accuracy_m, 120.0);
  DriftingError north(noise, tablet.accuracy_m, 120.0);
  const auto plane = coursePlane();
  std::vector<geo::Fix> fixes;
  constexpr int steps = 60;
  constexpr double step_s = 5.0;
  for (int i = 0; i <= steps; ++i) {
    // A spiral from the edge inward: every part of the green comes into sight.
    const double done = static_cast<double>(i) / steps;
    auto at = placeOn(greens()[green], 14.0 * done, 0.95 - 0.75 * done);
    at.east_m += east.next(step_s) + 0.05 * noise.normal();
    at.north_m += north.next(step_s) + 0.05 * noise.normal();
    geo::Fix fix;
    fix.time = start + std::chrono::seconds(static_cast<int>(step_s) * i);
    fix.position = plane.toGlobe(at);
    fix.accuracy_m = tablet.accuracy_m;
    fix.quality = geo::FixQuality::autonomous;
    fixes.push_back(fix);
  }
  return fixes;
}

std::string nmeaOf(const std::vector<geo::Fix>& fixes) {
  std::string log;
  for (const auto& fix : fixes) {
    const auto date = std::chrono::floor<std::chrono::days>(fix.time);
    const std::chrono::year_month_day day(date);
    const std::chrono::hh_mm_ss clock(fix.time - date);
    const auto time = fmt::format("{:02}{:02}{:02}.00", clock.hours().count(),
                                  clock.minutes().count(), clock.seconds().count());
    const auto place = nmeaAngle(fix.position.latitude_deg, 2, 'N', 'S') + "," +
                       nmeaAngle(fix.position.longitude_deg, 3, 'E', 'W');
    const double sigma_m = fix.accuracy_m.value_or(3.0);
    log += sentence(fmt::format(
        "GPRMC,{},A,{},,,{:02}{:02}{:02},,,A", time, place, static_cast<unsigned>(day.day()),
        static_cast<unsigned>(day.month()), static_cast<int>(day.year()) % 100));
    log += sentence(fmt::format("GPGGA,{},{},1,09,0.9,2.0,M,42.0,M,,", time, place));
    log += sentence(
        fmt::format("GPGST,{},,,,,{:.2f},{:.2f},{:.2f}", time, sigma_m, sigma_m, 2.0 * sigma_m));
  }
  return log;
}

}  // namespace swardwalk::sample
