#pragma once

#include <optional>
#include <vector>

#include "common/measure/instant.h"

namespace swardwalk::geo {

/// A place on the WGS84 ellipsoid, degrees; latitude -90..90, longitude -180..180.
struct Position {
  double latitude_deg = 0.0;
  double longitude_deg = 0.0;

  friend bool operator==(const Position&, const Position&) = default;
};

/// A place on a local plane, metres east and north of the plane's origin.
struct LocalPoint {
  double east_m = 0.0;
  double north_m = 0.0;

  friend bool operator==(const LocalPoint&, const LocalPoint&) = default;
};

/// A closed ring; the last point joins the first and is not repeated.
using GlobeRing = std::vector<Position>;
using LocalRing = std::vector<LocalPoint>;

struct GlobePolygon {
  GlobeRing outer;
  std::vector<GlobeRing> holes;
};

struct LocalPolygon {
  LocalRing outer;
  std::vector<LocalRing> holes;
};

/// One or several polygons that belong together (a green may have two parts).
using GlobeShape = std::vector<GlobePolygon>;
using LocalShape = std::vector<LocalPolygon>;

/// How a receiver says that it found its position.
enum class FixQuality { unknown, autonomous, differential, floating, fixed };

/// One reading of a receiver. What is not known is absent, never 0.
struct Fix {
  measure::Instant time;
  Position position;
  std::optional<double> accuracy_m;  ///< standard uncertainty on each horizontal axis
  std::optional<double> speed_m_s;
  std::optional<double> heading_deg;  ///< clockwise from north
  FixQuality quality = FixQuality::unknown;
};

}  // namespace swardwalk::geo
