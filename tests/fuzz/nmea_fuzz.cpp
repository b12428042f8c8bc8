// An NMEA 0183 log, line by line: what comes out is a place and a time, or nothing.
#include <cmath>
#include <cstdint>
#include <cstdlib>
#include <string>
#include <string_view>

#include "common/geo/nmea.h"

namespace {

/// The line with a checksum that fits, which changed bytes would never have.
std::string mended(std::string_view line) {
  std::string body(line.substr(line.starts_with('$') ? 1 : 0, line.find('*')));
  int sum = 0;
  for (const char sign : body) sum ^= static_cast<unsigned char>(sign);
  constexpr std::string_view digits = "0123456789ABCDEF";
  return "$" + body + '*' + digits[static_cast<std::size_t>(sum / 16)] +
         digits[static_cast<std::size_t>(sum % 16)];
}

void look(const std::optional<swardwalk::geo::Fix>& fix) {
  if (!fix) return;
  const bool onGlobe = std::abs(fix->position.latitude_deg) <= 90.0 &&
                       std::abs(fix->position.longitude_deg) <= 180.0;
  const bool sound = !fix->accuracy_m || *fix->accuracy_m > 0.0;
  if (!onGlobe || !sound) std::abort();
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  std::string_view text(reinterpret_cast<const char*>(data), size);
  swardwalk::geo::NmeaReader asItIs;
  swardwalk::geo::NmeaReader withChecksums;
  while (!text.empty()) {
    const std::size_t end = text.find('\n');
    const std::string_view line = text.substr(0, end);
    look(asItIs.take(line));
    look(withChecksums.take(mended(line)));
    text.remove_prefix(end == std::string_view::npos ? text.size() : end + 1);
  }
  look(asItIs.finish());
  look(withChecksums.finish());
  return 0;
}
