#include "common/course/read_geometry.h"

#include <boost/json.hpp>

#include "common/course/checks.h"

namespace swardwalk::course {

namespace json = boost::json;

namespace {

geo::Position readPosition(const json::value& value) {
  const json::array* list = value.if_array();
  if (list == nullptr || list->size() < 2) return {};
  return {asNumber((*list)[1]).value_or(0.0), asNumber((*list)[0]).value_or(0.0)};
}

geo::GlobeRing readPositions(const json::value& value) {
  geo::GlobeRing line;
  const json::array* list = value.if_array();
  if (list == nullptr) return line;
  line.reserve(list->size());
  for (const json::value& place : *list) line.push_back(readPosition(place));
  return line;
}

geo::GlobeRing readRing(const json::value& value) {
  geo::GlobeRing ring = readPositions(value);
  while (ring.size() > 1 && ring.front() == ring.back()) ring.pop_back();
  return ring;
}

geo::GlobePolygon readPolygon(const json::value& value) {
  geo::GlobePolygon polygon;
  const json::array* rings = value.if_array();
  if (rings == nullptr || rings->empty()) return polygon;
  polygon.outer = readRing(rings->front());
  for (std::size_t i = 1; i < rings->size(); ++i) polygon.holes.push_back(readRing((*rings)[i]));
  return polygon;
}

/// The coordinates of a geometry of this type, or nullptr.
const json::value* coordinatesOf(const json::value* geometry, std::string_view type) {
  const json::object* object = geometry == nullptr ? nullptr : geometry->if_object();
  if (object == nullptr || textOf(*object, "type") != type) return nullptr;
  return present(*object, "coordinates");
}

}  // namespace

geo::GlobeShape readShape(const json::value* geometry) {
  geo::GlobeShape shape;
  if (const json::value* one = coordinatesOf(geometry, "Polygon")) {
    shape.push_back(readPolygon(*one));
  } else if (const json::value* several = coordinatesOf(geometry, "MultiPolygon")) {
    if (const json::array* list = several->if_array()) {
      for (const json::value& polygon : *list) shape.push_back(readPolygon(polygon));
    }
  }
  return shape;
}

std::optional<geo::Position> readPoint(const json::value* geometry) {
  const json::value* coordinates = coordinatesOf(geometry, "Point");
  if (coordinates == nullptr) return std::nullopt;
  return readPosition(*coordinates);
}

geo::GlobeRing readLine(const json::value* geometry) {
  const json::value* coordinates = coordinatesOf(geometry, "LineString");
  return coordinates == nullptr ? geo::GlobeRing() : readPositions(*coordinates);
}

}  // namespace swardwalk::course
