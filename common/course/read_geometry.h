#pragma once

#include <boost/json/fwd.hpp>
#include <optional>

#include "common/geo/position.h"

/// GeoJSON geometries (RFC 7946) that passed their check; `geometry` may be nullptr.
namespace swardwalk::course {

/// A Polygon or MultiPolygon, rings without their repeated last place; else empty.
geo::GlobeShape readShape(const boost::json::value* geometry);
/// A Point.
std::optional<geo::Position> readPoint(const boost::json::value* geometry);
/// A LineString; else empty.
geo::GlobeRing readLine(const boost::json::value* geometry);

}  // namespace swardwalk::course
