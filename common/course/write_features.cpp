#include "common/course/write_features.h"

#include <fmt/format.h>

#include <boost/json.hpp>
#include <cmath>

#include "common/course/json.h"
#include "common/course/properties.h"

namespace swardwalk::course {

namespace json = boost::json;

namespace {

json::array placeOf(geo::Position position) {
  return {position.longitude_deg, position.latitude_deg};
}

json::array ringOf(const geo::GlobeRing& ring) {
  json::array places;
  for (const geo::Position& position : ring) places.push_back(placeOf(position));
  if (!ring.empty()) places.push_back(placeOf(ring.front()));
  return places;
}

json::array polygonOf(const geo::GlobePolygon& polygon) {
  json::array rings{ringOf(polygon.outer)};
  for (const geo::GlobeRing& hole : polygon.holes) rings.push_back(ringOf(hole));
  return rings;
}

json::object geometry(std::string_view type, json::array coordinates) {
  return {{"type", type}, {"coordinates", std::move(coordinates)}};
}

json::value geometryOf(const Sighting& sighting) {
  if (sighting.outline.size() == 1) return geometry("Polygon", polygonOf(sighting.outline.front()));
  if (!sighting.outline.empty()) {
    json::array polygons;
    for (const geo::GlobePolygon& polygon : sighting.outline)
      polygons.push_back(polygonOf(polygon));
    return geometry("MultiPolygon", std::move(polygons));
  }
  if (sighting.point) return geometry("Point", placeOf(*sighting.point));
  return nullptr;
}

void addSize(Properties& properties, const Sighting& sighting) {
  if (const auto& area_m2 = sighting.area_m2)
    properties.number("area_m2", area_m2->value).number("area_u_m2", area_m2->u);
  if (const auto& tape = sighting.tape) {
    properties.number("length_m", tape->length_m).number("width_m", tape->width_m);
    if (tape->form == geo::TapeForm::rectangle) properties.text("shape", "rectangle");
    if (tape->form == geo::TapeForm::triangle) properties.text("shape", "triangle");
  }
  if (const auto& paces = sighting.paces) {
    properties.number("length_paces", paces->length_paces)
        .number("width_paces", paces->width_paces)
        .number("pace_m", paces->pace_m.value)
        .number("pace_u_m", paces->pace_m.u);
  }
  if (const auto& frame = sighting.frame) {
    properties.value("squares_bare", frame->squaresBare)
        .value("squares", frame->squares)
        .number("frame_m2", frame->frame_m2);
  }
  if (!sighting.corners_u_m.empty())
    properties.value("corners_u_m", json::value_from(sighting.corners_u_m));
  if (sighting.edge_u_m != geo::defaultEdge_u_m) properties.number("edge_u_m", sighting.edge_u_m);
}

}  // namespace

std::string writeInstant(measure::Instant instant) {
  const auto day = std::chrono::floor<std::chrono::days>(instant);
  const std::chrono::hh_mm_ss time(instant - day);
  std::string text =
      fmt::format("{}T{:02}:{:02}:{:02}", measure::isoDate(day), time.hours().count(),
                  time.minutes().count(), time.seconds().count());
  if (time.subseconds().count() != 0) text += fmt::format(".{:03}", time.subseconds().count());
  return text + "Z";
}

json::object bodyOf(const Sighting& sighting) {
  Properties properties;
  properties.text("patch", sighting.patch)
      .text("label", sighting.label)
      .text("kind", turf::word(sighting.kind))
      .moment("seen", sighting.seen)
      .text("green", sighting.green);
  addSize(properties, sighting);
  if (!sighting.tapes.empty()) {
    json::array tapes;
    for (const TapeReading& reading : sighting.tapes)
      tapes.push_back({{"mark", reading.mark}, {"distance_m", reading.distance_m}});
    properties.value("tapes", std::move(tapes));
  }
  if (const auto& corrected = sighting.corrected) {
    properties.value("corrected", {{"mark", corrected->mark},
                                   {"found", writeInstant(corrected->found)},
                                   {"east_m", corrected->east_m},
                                   {"north_m", corrected->north_m},
                                   {"share", corrected->share},
                                   {"longitude", corrected->said.longitude_deg},
                                   {"latitude", corrected->said.latitude_deg},
                                   {"accuracy_m", corrected->said_u_m}});
  }
  properties.number("accuracy_m", sighting.accuracy_m);
  if (sighting.depths_mm.size() == 1) properties.number("depth_mm", sighting.depths_mm.front());
  if (sighting.depths_mm.size() > 1)
    properties.value("depth_mm", json::value_from(sighting.depths_mm));
  properties.number("bare_share", sighting.bareShare)
      .number("bare_share_u", sighting.bareShare_u)
      .number("sand_lying_mm", sighting.sandLying_mm);
  return properties.body(sighting.source, geometryOf(sighting));
}

json::object bodyOf(const Mark& mark) {
  Properties properties;
  properties.text("name", mark.name).number("accuracy_m", mark.accuracy_m);
  if (!mark.visits.empty()) {
    json::array visits;
    for (const geo::Visit& visit : mark.visits) {
      visits.push_back({{"at", writeInstant(visit.time)},
                        {"longitude", visit.position.longitude_deg},
                        {"latitude", visit.position.latitude_deg},
                        {"accuracy_m", visit.u_m}});
    }
    properties.value("visits", std::move(visits));
  }
  return properties.body(mark.source, geometry("Point", placeOf(mark.position)));
}

json::object bodyOf(const Frame& frame) {
  return Properties()
      .text("green", frame.green)
      .moment("seen", frame.seen)
      .value("squares_bare", frame.squaresBare)
      .value("squares", frame.squares)
      .body(frame.source,
            frame.point ? json::value(geometry("Point", placeOf(*frame.point))) : nullptr);
}

json::object bodyOf(const Closed& closed) {
  return Properties().text("patch", closed.patch).moment("seen", closed.seen).body(closed.source);
}

json::object bodyOf(const Repair& repair) {
  return Properties()
      .text("patch", repair.patch)
      .text("green", repair.green)
      .moment("done", repair.done)
      .flag("raked_back", repair.rakedBack)
      .text("fill", repair.fill)
      .number("fill_l", repair.fill_l)
      .text("seed_lot", repair.seedLot)
      .number("seed_g", repair.seed_g)
      .text("feed", repair.feed)
      .number("feed_g", repair.feed_g)
      .text("turf", repair.turf)
      .number("turf_m2", repair.turf_m2)
      .body(repair.source);
}

json::object bodyOf(const CameUp& cameUp) {
  return Properties()
      .text("patch", cameUp.patch)
      .moment("seen", cameUp.seen)
      .number("share", cameUp.share)
      .body(cameUp.source);
}

json::object bodyOf(const Photo& photo) {
  return Properties()
      .text("patch", photo.patch)
      .moment("seen", photo.seen)
      .text("photo", journal::hex(photo.photo))
      .text("small", photo.small ? journal::hex(*photo.small) : std::string())
      .body(photo.source);
}

json::object bodyOf(const Choice& choice) {
  return Properties()
      .text("patch", choice.patch)
      .text("choice", choice.choice)
      .text("why", choice.why)
      .text("who", choice.who)
      .body(choice.source);
}

json::object bodyOf(const Round& round) {
  Properties properties;
  properties.text("green", round.green).moment("started", round.started);
  if (round.ended) properties.moment("ended", *round.ended);
  json::array line;
  for (const geo::Position& position : round.track) line.push_back(placeOf(position));
  // RFC 7946 wants two places in a line.
  if (line.size() == 1) line.push_back(line.front());
  return properties.body(
      round.source, line.empty() ? json::value(nullptr) : geometry("LineString", std::move(line)));
}

json::object bodyOf(const Join& join) {
  return Properties().text("patch", join.patch).text("same_as", join.sameAs).body(join.source);
}

json::object bodyOf(const Water& water) {
  return Properties()
      .moment("from", water.from)
      .moment("to", water.to)
      .number("mm", water.amount_mm)
      .number("peak_mm_h", water.peak_mm_h)
      .body(water.source);
}

json::object bodyOf(const Temperature& temperature) {
  return Properties()
      .text("on", measure::isoDate(temperature.on))
      .number("min_c", temperature.min_c)
      .number("max_c", temperature.max_c)
      .body(temperature.source);
}

json::object fixesOf(const std::vector<geo::Fix>& fixes, std::size_t mostBytes) {
  if (fixes.empty()) return {};
  for (std::size_t every = 1;; every *= 2) {
    json::array list;
    for (std::size_t i = 0; i < fixes.size(); i += every) {
      const geo::Fix& fix = fixes[i];
      const double seconds = std::chrono::duration<double>(fix.time - fixes.front().time).count();
      json::array entry{seconds, fix.position.longitude_deg, fix.position.latitude_deg};
      entry.push_back(fix.accuracy_m ? json::value(*fix.accuracy_m) : json::value(nullptr));
      list.push_back(std::move(entry));
    }
    const bool last = list.size() == 1;
    json::object all{
        {"from", writeInstant(fixes.front().time)}, {"every", every}, {"list", std::move(list)}};
    if (last || writeJson(all).size() <= mostBytes) return all;
  }
}

}  // namespace swardwalk::course
