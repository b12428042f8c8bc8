#include <fmt/format.h>

#include <algorithm>
#include <boost/json.hpp>
#include <cmath>
#include <numbers>
#include <vector>

#include "common/course/checks.h"

namespace swardwalk::course {

namespace json = boost::json;

namespace {

constexpr std::string_view where = "geometry";

struct Place2 {
  double longitude_deg = 0.0;
  double latitude_deg = 0.0;

  friend auto operator<=>(const Place2&, const Place2&) = default;
};

Trouble readPlace(const json::value& value, Place2& place) {
  const json::array* list = value.if_array();
  if (list == nullptr || list->size() < 2)
    return trouble(where, "a place is not [longitude, latitude]", "write both, longitude first");
  for (const json::value& coordinate : *list) {
    if (!asNumber(coordinate))
      return trouble(where, "a coordinate is not a number", "write [longitude, latitude]");
  }
  place = {*asNumber((*list)[0]), *asNumber((*list)[1])};
  if (!(std::abs(place.longitude_deg) <= 180.0 && std::abs(place.latitude_deg) <= 90.0)) {
    return trouble(where,
                   fmt::format("longitude {}, latitude {} lies outside the globe",
                               place.longitude_deg, place.latitude_deg),
                   "write [longitude, latitude] in degrees");
  }
  return std::nullopt;
}

/// Reads a line or a ring; fewer than `least` distinct places are too few.
Trouble readLine(const json::value& value, std::size_t least, std::vector<Place2>& places) {
  const json::array* list = value.if_array();
  if (list == nullptr) return trouble(where, "a line is not a list of places", "follow RFC 7946");
  places.clear();
  places.reserve(list->size());
  for (const json::value& element : *list) {
    Place2 place;
    if (auto wrong = readPlace(element, place)) return wrong;
    places.push_back(place);
  }
  std::vector<Place2> distinct = places;
  std::sort(distinct.begin(), distinct.end());
  distinct.erase(std::unique(distinct.begin(), distinct.end()), distinct.end());
  if (distinct.size() < least) {
    return trouble(where, fmt::format("a line or ring with fewer than {} places", least),
                   "add the places that are missing, or give a Point");
  }
  return std::nullopt;
}

/// The ring's area on a plane with the globe's scale at its first place: true to a part in
/// a thousand for anything as small as the limit that it is compared with.
double roughArea_m2(const std::vector<Place2>& ring) {
  constexpr double metresPerDegree = 6'371'008.8 * std::numbers::pi / 180.0;
  const Place2 origin = ring.front();
  const double east = metresPerDegree * std::cos(origin.latitude_deg * std::numbers::pi / 180.0);
  const auto x = [&](const Place2& place) {
    return east * std::remainder(place.longitude_deg - origin.longitude_deg, 360.0);
  };
  const auto y = [&](const Place2& place) {
    return metresPerDegree * (place.latitude_deg - origin.latitude_deg);
  };
  double twice = 0.0;
  for (std::size_t i = 0; i < ring.size(); ++i) {
    const Place2& a = ring[i];
    const Place2& b = ring[(i + 1) % ring.size()];
    twice += x(a) * y(b) - x(b) * y(a);
  }
  return std::abs(twice) / 2.0;
}

Trouble checkPolygon(const json::value& value, double& area_m2) {
  const json::array* rings = value.if_array();
  if (rings == nullptr || rings->empty())
    return trouble(where, "an outline without a ring", "give its places");
  std::vector<Place2> places;
  for (std::size_t i = 0; i < rings->size(); ++i) {
    if (auto wrong = readLine((*rings)[i], 3, places)) return wrong;
    if (i == 0) area_m2 += roughArea_m2(places);
  }
  return std::nullopt;
}

Trouble checkOutline(const json::value& coordinates, bool several) {
  double area_m2 = 0.0;
  if (!several) {
    if (auto wrong = checkPolygon(coordinates, area_m2)) return wrong;
  } else {
    const json::array* polygons = coordinates.if_array();
    if (polygons == nullptr || polygons->empty())
      return trouble(where, "a MultiPolygon without a polygon", "give its outlines");
    for (const json::value& polygon : *polygons) {
      if (auto wrong = checkPolygon(polygon, area_m2)) return wrong;
    }
  }
  if (area_m2 > limits::area_m2)
    return trouble(where, "an outline of over 1,000,000 m2", "check its places");
  return std::nullopt;
}

Trouble wrongPlace(unsigned places) {
  std::vector<std::string_view> words;
  if ((places & inOutline) != 0) words.insert(words.end(), {"Polygon", "MultiPolygon"});
  if ((places & atPoint) != 0) words.push_back("Point");
  if ((places & alongLine) != 0) words.push_back("LineString");
  if ((places & nowhere) != 0) words.push_back("null");
  return trouble(where, "not where such a feature can lie",
                 fmt::format("give one of: {}", fmt::join(words, ", ")));
}

}  // namespace

Trouble checkGeometry(const json::value* geometry, unsigned places) {
  if (geometry == nullptr) return (places & nowhere) != 0 ? std::nullopt : wrongPlace(places);
  const json::object* object = geometry->if_object();
  if (object == nullptr)
    return trouble(where, "not a geometry", "write a GeoJSON geometry or null");
  const std::string_view type = textOf(*object, "type");
  unsigned place = 0;
  if (type == "Point") place = atPoint;
  if (type == "Polygon" || type == "MultiPolygon") place = inOutline;
  if (type == "LineString") place = alongLine;
  if ((place & places) == 0) return wrongPlace(places);
  const json::value* coordinates = present(*object, "coordinates");
  if (coordinates == nullptr) return trouble(where, "coordinates are missing", "give them");
  if (place == inOutline) return checkOutline(*coordinates, type == "MultiPolygon");
  if (place == alongLine) {
    std::vector<Place2> line;
    return readLine(*coordinates, 1, line);
  }
  Place2 point;
  return readPlace(*coordinates, point);
}

}  // namespace swardwalk::course
