#include "server/review/plan_json.h"

#include <fmt/format.h>

#include <algorithm>
#include <boost/json.hpp>
#include <cmath>

#include "common/geo/local_plane.h"
#include "server/review/words.h"

namespace swardwalk::server::review {
namespace {

namespace json = boost::json;

/// Millimetres are finer than any screen and any tape.
double drawn(double metres) { return std::round(metres * 1000.0) / 1000.0; }

struct Bounds {
  double west = 0.0, south = 0.0, east = 0.0, north = 0.0;
  bool empty = true;

  void add(geo::LocalPoint point) {
    west = empty ? point.east_m : std::min(west, point.east_m);
    east = empty ? point.east_m : std::max(east, point.east_m);
    south = empty ? point.north_m : std::min(south, point.north_m);
    north = empty ? point.north_m : std::max(north, point.north_m);
    empty = false;
  }
};

/// Puts things on the plane of one green, and remembers how far they reach.
class Draughtsman {
 public:
  explicit Draughtsman(geo::LocalPlane plane) : plane_(std::move(plane)) {}

  json::array point(geo::Position position) {
    const geo::LocalPoint local = plane_.toLocal(position);
    bounds_.add(local);
    return {drawn(local.east_m), drawn(local.north_m)};
  }

  json::array ring(const geo::GlobeRing& ring) {
    json::array points;
    for (const geo::Position& position : ring) points.push_back(point(position));
    return points;
  }

  json::array shape(const geo::GlobeShape& shape) {
    json::array polygons;
    for (const geo::GlobePolygon& polygon : shape) {
      json::array rings{ring(polygon.outer)};
      for (const geo::GlobeRing& hole : polygon.holes) rings.push_back(ring(hole));
      polygons.push_back(std::move(rings));
    }
    return polygons;
  }

  const Bounds& bounds() const { return bounds_; }

 private:
  geo::LocalPlane plane_;
  Bounds bounds_;
};

std::optional<geo::LocalPlane> planeOf(const CourseAnswers& all, std::string_view name) {
  const course::Green* green = all.state.green(name);
  if (green && !green->shape.empty()) return geo::planeFor(green->shape);
  for (const course::Patch& patch : all.state.patches) {
    if (patch.green != name) continue;
    for (const course::Sighting& sighting : patch.sightings) {
      if (const auto place = course::placeOf(sighting)) return geo::LocalPlane(*place);
    }
  }
  return std::nullopt;
}

/// A patch's last shape and place, each of the last sighting that has one.
json::object placeJson(const course::Patch& patch, Draughtsman& plan) {
  json::object place{{"patch", patch.id}, {"at", nullptr}, {"shape", json::array()}};
  for (auto sighting = patch.sightings.rbegin(); sighting != patch.sightings.rend(); ++sighting) {
    if (place["at"].is_null()) {
      if (const auto at = course::placeOf(*sighting)) place["at"] = plan.point(*at);
    }
    if (place["shape"].as_array().empty()) place["shape"] = plan.shape(course::shapeOf(*sighting));
  }
  return place;
}

json::value walkJson(const CourseAnswers& all, std::string_view green, Draughtsman& plan) {
  const course::Round* last = nullptr;
  for (const course::Round& round : all.state.rounds) {
    if (round.green != green || round.track.empty()) continue;
    if (!last || last->started < round.started) last = &round;
  }
  if (!last) return nullptr;
  const std::string& who = last->source.author;
  std::string words = who.empty() ? "Walk on " : who + "’s walk on ";
  words +=
      measure::wordsDate(all.zone.dateOf(last->started)) + ", " + all.zone.clockTime(last->started);
  if (last->ended) words += " to " + all.zone.clockTime(*last->ended);
  return json::object{{"track", plan.ring(last->track)}, {"words", words}};
}

/// Lengths that a scale bar may have: the page takes the longest that fits.
json::array scalesJson() {
  json::array scales;
  for (const int length_cm : {10, 20, 50, 100, 200, 500, 1000, 2000, 5000, 10000}) {
    scales.push_back(
        json::object{{"length_m", length_cm / 100.0},
                     {"text", length_cm < 100 ? fmt::format("{} cm", length_cm)
                                              : fmt::format("{} m", length_cm / 100)}});
  }
  return scales;
}

}  // namespace

json::value planJson(const CourseAnswers& all, std::string_view name) {
  const auto plane = planeOf(all, name);
  if (!plane) return nullptr;
  Draughtsman plan(*plane);

  json::array outline;
  if (const course::Green* green = all.state.green(name)) outline = plan.shape(green->shape);
  json::array surrounds;
  for (const course::Surround& surround : all.state.surrounds) {
    if (surround.green == name) surrounds.push_back(plan.shape(surround.shape));
  }
  json::array places;
  for (const course::Patch& patch : all.state.patches) {
    if (patch.green == name) places.push_back(placeJson(patch, plan));
  }
  const Bounds bounds = plan.bounds();

  // Marks and walks beyond the green must not shrink it on the screen.
  json::array marks;
  for (const course::Mark& mark : all.state.marks) {
    const geo::LocalPoint at = plane->toLocal(mark.position);
    if (at.east_m < bounds.west || at.east_m > bounds.east || at.north_m < bounds.south ||
        at.north_m > bounds.north) {
      continue;
    }
    marks.push_back(json::object{{"name", mark.name}, {"at", plan.point(mark.position)}});
  }
  json::value walk = walkJson(all, name, plan);
  return json::object{
      {"bounds",
       {drawn(bounds.west), drawn(bounds.south), drawn(bounds.east), drawn(bounds.north)}},
      {"outline", std::move(outline)},
      {"surrounds", std::move(surrounds)},
      {"marks", std::move(marks)},
      {"places", std::move(places)},
      {"walk", std::move(walk)},
      {"scales", scalesJson()}};
}

}  // namespace swardwalk::server::review
