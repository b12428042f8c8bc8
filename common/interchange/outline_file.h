#pragma once

#include <vector>

#include "common/answers/measure.h"
#include "common/interchange/course_file.h"

namespace swardwalk::interchange {

namespace limits {
inline constexpr std::size_t outlineFileBytes = 64 * 1024 * 1024;
}  // namespace limits

/// What a file holds that has an area.
struct OutlineFile {
  std::vector<answers::ToMeasure> outlines;  ///< in the file's order
  std::vector<Failure> refusals;             ///< each names the file and the place in it
};

/// Reads outlines and tracks. What kind of file it is, its first signs say:
/// - GeoJSON (RFC 7946; a collection, a feature or a geometry): Polygon and MultiPolygon as
///   they stand, with the doubt that `edge_u_m` says (a sighting's default is 0.02);
///   LineString and MultiLineString as tracks, with `coordTimes` and `accuracy_m` where
///   the feature has them. Points have no area.
/// - GPX 1.1: each track, its segments joined, and each route. Accuracy is `hdop` times
///   the range error that `geo::NmeaReader` assumes.
/// - NMEA 0183: the whole log is one track, also without any date in it.
/// - CSV: `lat,lon[,accuracy_m[,time]]`, a position a line; a head line may name the columns
///   in another order. Time is RFC 3339 (UTC without an offset) or seconds.
///
/// Positions without times: fewer than `fewestOfTrack` that know no accuracy are an outline
/// drawn by its corners; others are a track walked at 1 m/s. Positions that make no sense are
/// counted and named in a warning. A file that cannot be read to its end is refused whole.
OutlineFile readOutlines(const SourceFile& file);

inline constexpr std::size_t fewestOfTrack = 20;

}  // namespace swardwalk::interchange
