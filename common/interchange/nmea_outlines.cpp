#include <fmt/format.h>

#include "common/geo/nmea.h"
#include "common/interchange/outline_readers.h"
#include "common/interchange/track_builder.h"

namespace swardwalk::interchange {
namespace {

/// Dates a log that says none: only its times of day matter for an area.
constexpr std::string_view someDay = "$GPZDA,000000,01,01,2000,,*4A";

struct Log {
  TrackBuilder track;
  int badChecksums = 0;
  int sentences = 0;
  int floating = 0;
  int fixes = 0;
};

Log readLog(std::string_view rest, bool dated) {
  Log log;
  geo::NmeaReader reader;
  const auto take = [&log](const std::optional<geo::Fix>& fix) {
    if (!fix) return;
    ++log.fixes;
    if (fix->quality == geo::FixQuality::floating) ++log.floating;
    log.track.add(*fix);
  };
  if (!dated) take(reader.take(someDay));
  while (!rest.empty() && !log.track.isFull()) take(reader.take(takeLine(rest)));
  take(reader.finish());
  log.badChecksums = reader.badChecksums();
  log.sentences = reader.sentences();
  return log;
}

}  // namespace

void readNmeaOutlines(const OutlineText& text, OutlineFile& into) {
  Log log = readLog(text.bytes, true);
  const int sentences = log.sentences;
  if (log.fixes == 0) log = readLog(text.bytes, false);
  if (log.fixes == 0) {
    refuse(into, text.file,
           fmt::format("no position is in {} good and {} damaged sentences", sentences,
                       log.badChecksums),
           "record GGA or RMC under open sky");
    return;
  }
  auto outline = std::move(log.track).build(text.name);
  if (!outline) {
    outline.error().where = text.file;
    into.refusals.push_back(std::move(outline.error()));
    return;
  }
  if (log.badChecksums > 0) {
    outline->warnings.push_back(
        fmt::format("{} with a wrong checksum {} passed over",
                    log.badChecksums == 1 ? "One line" : fmt::format("{} lines", log.badChecksums),
                    log.badChecksums == 1 ? "was" : "were"));
  }
  if (log.floating > 0) {
    outline->warnings.push_back(
        fmt::format("{} of {} positions are RTK float, not fixed", log.floating, log.fixes));
  }
  into.outlines.push_back(std::move(*outline));
}

}  // namespace swardwalk::interchange
