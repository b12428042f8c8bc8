#include "common/course/read_features.h"

#include <algorithm>
#include <boost/json.hpp>

#include "common/course/checks.h"
#include "common/course/read_geometry.h"

namespace swardwalk::course {

namespace json = boost::json;

namespace {

std::string text(const Feature& feature, std::string_view key) {
  return std::string(textOf(*feature.properties, key));
}

std::optional<double> number(const Feature& feature, std::string_view key) {
  return numberOf(*feature.properties, key);
}

std::optional<int> count(const Feature& feature, std::string_view key) {
  const auto value = number(feature, key);
  return value ? std::optional(static_cast<int>(*value)) : std::nullopt;
}

bool flag(const Feature& feature, std::string_view key) {
  const json::value* value = present(*feature.properties, key);
  return value != nullptr && value->is_bool() && value->get_bool();
}

std::optional<measure::Date> date(const Feature& feature, std::string_view key) {
  const auto value = measure::parseDate(textOf(*feature.properties, key));
  return value ? std::optional(*value) : std::nullopt;
}

std::optional<measure::Instant> optionalInstant(const Feature& feature, std::string_view key) {
  const std::string_view written = textOf(*feature.properties, key);
  if (written.empty()) return std::nullopt;
  const auto value = measure::parseInstant(written);
  return value ? std::optional(*value) : std::nullopt;
}

measure::Instant instant(const Feature& feature, std::string_view key) {
  return optionalInstant(feature, key).value_or(measure::Instant());
}

std::optional<Stage> stage(const Feature& feature) {
  const std::string_view word = textOf(*feature.properties, "stage");
  if (word.empty()) return std::nullopt;
  return word == "mature" ? Stage::mature : Stage::growIn;
}

/// One number or several.
std::vector<double> numbers(const Feature& feature, std::string_view key) {
  std::vector<double> list;
  const json::value* value = present(*feature.properties, key);
  if (value == nullptr) return list;
  if (const json::array* array = value->if_array()) {
    for (const json::value& one : *array) {
      if (const auto read = asNumber(one)) list.push_back(*read);
    }
  } else if (const auto read = asNumber(*value)) {
    list.push_back(*read);
  }
  return list;
}

/// One name or several.
std::vector<std::string> names(const Feature& feature, std::string_view key) {
  std::vector<std::string> list;
  const json::value* value = present(*feature.properties, key);
  if (value == nullptr) return list;
  if (const json::array* array = value->if_array()) {
    for (const json::value& one : *array) {
      if (one.is_string()) list.emplace_back(one.get_string());
    }
  } else if (value->is_string()) {
    list.emplace_back(value->get_string());
  }
  return list;
}

/// The source with what the body says of it.
Source source(const Feature& feature) {
  Source whole = feature.source;
  const std::string_view author = textOf(*feature.properties, "author");
  // Else the person's own record named the author.
  if (!author.empty()) whole.author = author;
  whole.device = textOf(*feature.properties, "device");
  whole.note = textOf(*feature.properties, "note");
  return whole;
}

turf::Packs packs(const Feature& feature) {
  return {numbers(feature, "packs_kg"), flag(feature, "bulk")};
}

std::optional<TapeSize> tapeSize(const Feature& feature) {
  const auto length_m = number(feature, "length_m");
  const auto width_m = number(feature, "width_m");
  if (!length_m || !width_m) return std::nullopt;
  const std::string_view form = textOf(*feature.properties, "shape");
  TapeSize size{geo::TapeForm::ellipse, *length_m, *width_m};
  if (form == "rectangle") size.form = geo::TapeForm::rectangle;
  if (form == "triangle") size.form = geo::TapeForm::triangle;
  return size;
}

std::optional<PacedSize> pacedSize(const Feature& feature) {
  const auto length_paces = number(feature, "length_paces");
  const auto width_paces = number(feature, "width_paces");
  const auto pace_m = number(feature, "pace_m");
  if (!length_paces || !width_paces || !pace_m || *pace_m <= 0.0) return std::nullopt;
  return PacedSize{*length_paces, *width_paces, {*pace_m, number(feature, "pace_u_m")}};
}

std::optional<FrameCount> frameCount(const Feature& feature) {
  const auto bare = count(feature, "squares_bare");
  const auto squares = count(feature, "squares");
  const auto frame_m2 = number(feature, "frame_m2");
  if (!bare || !squares || !frame_m2) return std::nullopt;
  return FrameCount{*bare, *squares, *frame_m2};
}

measure::Instant momentOf(const json::object& object, std::string_view key) {
  const auto read = measure::parseInstant(textOf(object, key));
  return read ? *read : measure::Instant();
}

std::vector<geo::Visit> visits(const Feature& feature) {
  std::vector<geo::Visit> list;
  const json::value* value = present(*feature.properties, "visits");
  const json::array* all = value == nullptr ? nullptr : value->if_array();
  if (all == nullptr) return list;
  for (const json::value& entry : *all) {
    const json::object* visit = entry.if_object();
    if (visit == nullptr) continue;
    const double u_m = numberOf(*visit, "accuracy_m").value_or(0.0);
    // Nobody stands on a mark to better than a millimetre.
    list.push_back(
        {momentOf(*visit, "at"),
         {numberOf(*visit, "latitude").value_or(0.0), numberOf(*visit, "longitude").value_or(0.0)},
         std::max(u_m, 0.001)});
  }
  return list;
}

/// Beside the place that it gave; what is not whole says nothing.
std::optional<CorrectedReading> corrected(const Feature& feature) {
  const json::value* value = present(*feature.properties, "corrected");
  const json::object* object = value == nullptr ? nullptr : value->if_object();
  if (object == nullptr) return std::nullopt;
  CorrectedReading reading;
  reading.mark = textOf(*object, "mark");
  reading.found = momentOf(*object, "found");
  reading.east_m = numberOf(*object, "east_m").value_or(0.0);
  reading.north_m = numberOf(*object, "north_m").value_or(0.0);
  reading.share = numberOf(*object, "share").value_or(0.0);
  reading.said = {numberOf(*object, "latitude").value_or(0.0),
                  numberOf(*object, "longitude").value_or(0.0)};
  reading.said_u_m = numberOf(*object, "accuracy_m").value_or(0.0);
  return reading;
}

std::vector<TapeReading> tapeReadings(const Feature& feature) {
  std::vector<TapeReading> readings;
  const json::value* value = present(*feature.properties, "tapes");
  const json::array* list = value == nullptr ? nullptr : value->if_array();
  if (list == nullptr) return readings;
  for (const json::value& entry : *list) {
    const json::object* reading = entry.if_object();
    if (reading == nullptr) continue;
    readings.push_back(
        {std::string(textOf(*reading, "mark")), numberOf(*reading, "distance_m").value_or(0.0)});
  }
  return readings;
}

}  // namespace

CourseInfo readCourse(const Feature& feature) {
  CourseInfo course;
  course.source = source(feature);
  course.name = text(feature, "name");
  if (const std::string zone = text(feature, "time_zone"); !zone.empty()) course.timeZone = zone;
  course.openingDay = date(feature, "opening_day");
  course.bareShareLimit = number(feature, "bare_share_limit").value_or(course.bareShareLimit);
  course.wantedProbability =
      number(feature, "wanted_probability").value_or(course.wantedProbability);
  course.stage = stage(feature).value_or(course.stage);
  course.cartLimit_kg = number(feature, "cart_limit_kg");
  const json::value* settings = present(*feature.properties, "settings");
  if (settings != nullptr && settings->is_object()) {
    for (const json::key_value_pair& setting : settings->get_object()) {
      if (const auto value = asNumber(setting.value()))
        course.settings.emplace(setting.key(), *value);
    }
  }
  return course;
}

Green readGreen(const Feature& feature) {
  return {source(feature),
          text(feature, "name"),
          readShape(feature.geometry),
          names(feature, "species"),
          date(feature, "opening_day"),
          number(feature, "bare_share_limit"),
          stage(feature)};
}

Surround readSurround(const Feature& feature) {
  const std::string_view word = textOf(*feature.properties, "zone");
  const Zone zone = word == "bank" ? Zone::bank : word == "apron" ? Zone::apron : Zone::collar;
  return {
      source(feature),           text(feature, "green"),          zone, readShape(feature.geometry),
      names(feature, "species"), number(feature, "slope_percent")};
}

Mark readMark(const Feature& feature) {
  return {source(feature), text(feature, "name"),
          readPoint(feature.geometry).value_or(geo::Position()), number(feature, "accuracy_m"),
          visits(feature)};
}

Sighting readSighting(const Feature& feature) {
  Sighting sighting;
  sighting.source = source(feature);
  sighting.patch = text(feature, "patch");
  sighting.label = text(feature, "label");
  sighting.kind = turf::kindNamed(textOf(*feature.properties, "kind")).value_or(turf::Kind::bare);
  sighting.seen = instant(feature, "seen");
  sighting.green = text(feature, "green");
  sighting.outline = readShape(feature.geometry);
  sighting.point = readPoint(feature.geometry);
  if (const auto area_m2 = number(feature, "area_m2"))
    sighting.area_m2 = measure::Measured{*area_m2, number(feature, "area_u_m2")};
  sighting.tape = tapeSize(feature);
  sighting.paces = pacedSize(feature);
  sighting.frame = frameCount(feature);
  sighting.edge_u_m = number(feature, "edge_u_m").value_or(sighting.edge_u_m);
  sighting.tapes = tapeReadings(feature);
  sighting.corrected = corrected(feature);
  sighting.accuracy_m = number(feature, "accuracy_m");
  sighting.corners_u_m = numbers(feature, "corners_u_m");
  sighting.depths_mm = numbers(feature, "depth_mm");
  sighting.bareShare = number(feature, "bare_share");
  sighting.bareShare_u = number(feature, "bare_share_u");
  sighting.sandLying_mm = number(feature, "sand_lying_mm");
  return sighting;
}

Frame readFrame(const Feature& feature) {
  return {source(feature),
          text(feature, "green"),
          instant(feature, "seen"),
          count(feature, "squares_bare").value_or(0),
          count(feature, "squares").value_or(0),
          readPoint(feature.geometry)};
}

Closed readClosed(const Feature& feature) {
  return {source(feature), text(feature, "patch"), instant(feature, "seen")};
}

Repair readRepair(const Feature& feature) {
  Repair repair;
  repair.source = source(feature);
  repair.patch = text(feature, "patch");
  repair.green = text(feature, "green");
  repair.done = instant(feature, "done");
  repair.rakedBack = flag(feature, "raked_back");
  repair.fill = text(feature, "fill");
  repair.fill_l = number(feature, "fill_l");
  repair.seedLot = text(feature, "seed_lot");
  repair.seed_g = number(feature, "seed_g");
  repair.feed = text(feature, "feed");
  repair.feed_g = number(feature, "feed_g");
  repair.turf = text(feature, "turf");
  repair.turf_m2 = number(feature, "turf_m2");
  return repair;
}

CameUp readCameUp(const Feature& feature) {
  return {source(feature), text(feature, "patch"), instant(feature, "seen"),
          number(feature, "share")};
}

Photo readPhoto(const Feature& feature) {
  return {source(feature), text(feature, "patch"), instant(feature, "seen"),
          journal::parseHex<32>(text(feature, "photo")).value_or(journal::Digest{}),
          journal::parseHex<32>(text(feature, "small"))};
}

Choice readChoice(const Feature& feature) {
  return {source(feature), text(feature, "patch"), text(feature, "choice"), text(feature, "why"),
          text(feature, "who")};
}

ReadWater readWater(const Feature& feature) {
  Water water{source(feature), instant(feature, "from"), instant(feature, "to"),
              number(feature, "mm").value_or(0.0), number(feature, "peak_mm_h")};
  return {std::move(water), date(feature, "on")};
}

Temperature readTemperature(const Feature& feature) {
  return {source(feature), date(feature, "on").value_or(measure::Date()),
          number(feature, "min_c").value_or(0.0), number(feature, "max_c").value_or(0.0)};
}

Mowing readMowing(const Feature& feature) {
  return {source(feature),
          text(feature, "green"),
          instant(feature, "done"),
          number(feature, "height_mm"),
          count(feature, "passes"),
          number(feature, "direction_deg"),
          number(feature, "clippings_l"),
          flag(feature, "wet")};
}

Feeding readFeeding(const Feature& feature) {
  return {source(feature),       text(feature, "green"),        instant(feature, "done"),
          text(feature, "feed"), number(feature, "product_kg"), number(feature, "rate_g_m2")};
}

Round readRound(const Feature& feature) {
  return {source(feature), text(feature, "green"), instant(feature, "started"),
          optionalInstant(feature, "ended"), readLine(feature.geometry)};
}

Join readJoin(const Feature& feature) {
  return {source(feature), text(feature, "patch"), text(feature, "same_as")};
}

turf::SeedLot readSeedLot(const Feature& feature) {
  turf::SeedLot lot;
  lot.name = text(feature, "name");
  const json::value* species = present(*feature.properties, "species");
  if (species != nullptr && species->is_string()) {
    lot.parts.push_back({std::string(species->get_string()), 1.0});
  } else if (species != nullptr && species->is_array()) {
    for (const json::value& entry : species->get_array()) {
      if (const json::object* part = entry.if_object()) {
        const auto byNumber = numberOf(*part, "share_by_number");
        if (byNumber) lot.sharesByNumber = true;
        const auto share = byNumber ? byNumber : numberOf(*part, "share_by_weight");
        lot.parts.push_back({std::string(textOf(*part, "species")), share.value_or(0.0)});
      }
    }
  }
  lot.purity = number(feature, "purity").value_or(0.0);
  lot.germination = number(feature, "germination").value_or(0.0);
  lot.tested = date(feature, "tested");
  if (const auto seeds = numbers(feature, "seeds_per_g"); !seeds.empty()) {
    lot.seedsPerGramLow = seeds.front();
    lot.seedsPerGramHigh = seeds.back();
  }
  lot.packs = packs(feature);
  lot.stock_kg = number(feature, "stock_kg");
  return lot;
}

turf::Feed readFeed(const Feature& feature) {
  turf::Feed feed;
  feed.name = text(feature, "name");
  if (const auto analysis = numbers(feature, "analysis"); analysis.size() == 3) {
    feed.nitrogen_percent = analysis[0];
    feed.phosphate_percent = analysis[1];
    feed.potash_percent = analysis[2];
  }
  feed.labelRate_g_m2 = number(feature, "label_rate_g_m2");
  feed.ceiling_g_m2 = number(feature, "ceiling_g_m2");
  feed.solubleNitrogenShare = number(feature, "soluble_n_share");
  feed.packs = packs(feature);
  feed.stock_kg = number(feature, "stock_kg");
  return feed;
}

turf::Fill readFill(const Feature& feature) {
  return {text(feature, "name"), number(feature, "bulk_density_kg_l").value_or(0.0),
          number(feature, "settles_by"), packs(feature), number(feature, "stock_kg")};
}

std::optional<StockCount> readStockCount(const Feature& feature, Shelf shelf) {
  if (!number(feature, shelf == Shelf::turf ? "stock_m2" : "stock_kg")) return std::nullopt;
  StockCount count{source(feature), shelf, text(feature, "name"), std::nullopt};
  if (!text(feature, "counted").empty()) count.counted = instant(feature, "counted");
  return count;
}

turf::Turf readTurf(const Feature& feature) {
  const auto species = names(feature, "species");
  return {text(feature, "name"), species.empty() ? std::string() : species.front(),
          number(feature, "thickness_mm"), number(feature, "piece_m2"),
          number(feature, "stock_m2")};
}

}  // namespace swardwalk::course
