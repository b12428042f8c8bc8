#include <fmt/format.h>

#include <boost/json.hpp>

#include "common/course/checks.h"
#include "common/course/json.h"
#include "common/course/read_geometry.h"
#include "common/geo/tape.h"
#include "common/interchange/outline_readers.h"
#include "common/interchange/track_builder.h"

namespace swardwalk::interchange {

namespace json = boost::json;

namespace {

const json::object noProperties;

class GeoJsonReader {
 public:
  GeoJsonReader(const OutlineText& text, OutlineFile& into) : text_(text), into_(into) {}

  void readRoot(const json::value& root) {
    const json::object* object = root.if_object();
    if (object == nullptr) return refuse(into_, text_.file, "not a GeoJSON object", whole);
    const std::string_view type = course::textOf(*object, "type");
    if (type == "FeatureCollection") {
      const json::value* features = course::present(*object, "features");
      if (features == nullptr || !features->is_array())
        return refuse(into_, text_.file, "it has no list of features", whole);
      for (const json::value& feature : features->get_array()) readFeature(feature);
    } else if (type == "Feature") {
      readFeature(root);
    } else {
      readGeometry(root, noProperties, text_.name);
    }
    if (into_.outlines.empty() && into_.refusals.empty())
      refuse(into_, text_.file, "no outline and no track is in it", "give Polygon or LineString");
  }

 private:
  static constexpr const char* whole = "give a GeoJSON collection, feature or geometry (RFC 7946)";

  void readFeature(const json::value& value) {
    ++features_;
    const std::string where = fmt::format("{}, feature {}", text_.file, features_);
    const json::object* feature = value.if_object();
    if (feature == nullptr || course::textOf(*feature, "type") != "Feature")
      return refuse(into_, where, "not a Feature", whole);
    const json::object* properties = course::propertiesOf(*feature);
    if (properties == nullptr) properties = &noProperties;
    const json::value* geometry = course::geometryOf(*feature);
    if (geometry != nullptr) readGeometry(*geometry, *properties, nameOf(*feature, *properties));
  }

  std::string nameOf(const json::object& feature, const json::object& properties) const {
    for (const char* key : {"name", "patch", "label", "green"}) {
      std::string name(course::textOf(properties, key));
      if (name.empty()) continue;
      const std::string_view zone = course::textOf(properties, "zone");
      return zone.empty() ? name : fmt::format("{}, {}", name, zone);
    }
    const std::string_view id = course::textOf(feature, "id");
    return id.empty() ? fmt::format("{} {}", text_.name, features_) : std::string(id);
  }

  void readGeometry(const json::value& geometry, const json::object& properties,
                    const std::string& name) {
    const json::object* object = geometry.if_object();
    if (object == nullptr) return refuse(into_, placeOf(name), "not a geometry", whole);
    const std::string_view type = course::textOf(*object, "type");
    if (type == "Polygon" || type == "MultiPolygon") return readShape(geometry, properties, name);
    if (type == "LineString" || type == "MultiLineString")
      return readTrack(*object, type == "MultiLineString", properties, name);
    if (type == "GeometryCollection") {
      const json::value* parts = course::present(*object, "geometries");
      if (parts == nullptr || !parts->is_array())
        return refuse(into_, placeOf(name), "it has no list of geometries", whole);
      for (const json::value& part : parts->get_array()) readGeometry(part, properties, name);
      return;
    }
    if (type != "Point" && type != "MultiPoint") {
      refuse(into_, placeOf(name), fmt::format("\"{}\" is no geometry", type.substr(0, 40)), whole);
    }
  }

  std::string placeOf(const std::string& name) const {
    return fmt::format("{}, {}", text_.file, name);
  }

  void readShape(const json::value& geometry, const json::object& properties,
                 const std::string& name) {
    if (auto trouble = course::checkGeometry(&geometry, course::inOutline)) {
      trouble->where = placeOf(name);
      into_.refusals.push_back(std::move(*trouble));
      return;
    }
    answers::DrawnOutline drawn;
    drawn.shape = course::readShape(&geometry);
    drawn.edge_u_m = course::numberOf(properties, "edge_u_m");
    if (!drawn.edge_u_m && course::textOf(properties, "role") == "sighting")
      drawn.edge_u_m = geo::defaultEdge_u_m;
    if (drawn.edge_u_m && !(*drawn.edge_u_m >= 0.0)) drawn.edge_u_m.reset();
    into_.outlines.push_back({name, std::move(drawn), {}});
  }

  void readTrack(const json::object& geometry, bool several, const json::object& properties,
                 const std::string& name) {
    TrackBuilder track;
    const json::value* coordinates = course::present(geometry, "coordinates");
    const json::value* times = course::present(properties, "coordTimes");
    const json::array* lines = coordinates == nullptr ? nullptr : coordinates->if_array();
    if (lines == nullptr) return refuse(into_, placeOf(name), "its coordinates are no list", whole);
    if (!several) {
      addLine(track, *coordinates, times, properties);
    } else {
      for (std::size_t i = 0; i < lines->size(); ++i) {
        const json::array* lists = times == nullptr ? nullptr : times->if_array();
        const json::value* its = lists != nullptr && i < lists->size() ? &(*lists)[i] : nullptr;
        addLine(track, (*lines)[i], its, properties);
      }
    }
    auto outline = std::move(track).build(name);
    if (!outline) {
      outline.error().where = placeOf(name);
      into_.refusals.push_back(std::move(outline.error()));
      return;
    }
    into_.outlines.push_back(std::move(*outline));
  }

  static void addLine(TrackBuilder& track, const json::value& line, const json::value* times,
                      const json::object& properties) {
    const json::array* places = line.if_array();
    if (places == nullptr) return track.pass("a line is no list of positions");
    const json::array* ofPlaces = times == nullptr ? nullptr : times->if_array();
    for (std::size_t i = 0; i < places->size() && !track.isFull(); ++i) {
      const json::array* numbers = (*places)[i].if_array();
      ReadPosition position;
      if (numbers != nullptr && numbers->size() >= 2) {
        position.longitude_deg = course::asNumber((*numbers)[0]);
        position.latitude_deg = course::asNumber((*numbers)[1]);
      }
      position.accuracy_m = course::numberOf(properties, "accuracy_m");
      if (ofPlaces != nullptr && i < ofPlaces->size()) {
        if (const json::string* time = (*ofPlaces)[i].if_string()) position.time = timeIn(*time);
      }
      track.add(position, fmt::format("position {}", i + 1));
    }
  }

  const OutlineText& text_;
  OutlineFile& into_;
  int features_ = 0;
};

}  // namespace

void readGeoJsonOutlines(const OutlineText& text, OutlineFile& into) {
  course::JsonReader reader;
  const auto value = reader.read(text.bytes);
  if (!value) {
    Failure failure = value.error();
    failure.where = fmt::format("{}, {}", text.file, failure.where);
    into.refusals.push_back(std::move(failure));
    return;
  }
  GeoJsonReader(text, into).readRoot(**value);
}

}  // namespace swardwalk::interchange
