#include "common/course/registry.h"

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <boost/json.hpp>
#include <fstream>
#include <set>
#include <sstream>

#include "common/course/checks.h"
#include "common/course/json.h"
#include "common/course/write_features.h"
#include "tests/common/course/devices.h"

namespace swardwalk::course {
namespace {

namespace json = boost::json;

json::object bodyOf(const GoodFeature& feature) {
  JsonReader reader;
  const auto body = reader.read(
      fmt::format("{{\"geometry\":{},\"properties\":{}}}", feature.geometry, feature.properties));
  // A plain copy would live in the reader's memory, and die with it.
  return json::object((*body)->as_object(), json::storage_ptr());
}

/// One change that makes a good feature bad.
struct Spoiled {
  std::string role;
  std::string key;    ///< "geometry", or a property
  std::string value;  ///< JSON; empty: the property is taken away
  std::string says;   ///< part of the message
};

std::ostream& operator<<(std::ostream& out, const Spoiled& spoiled) {
  return out << spoiled.role << " " << spoiled.key << " " << spoiled.value.substr(0, 60);
}

/// `which` of the good features of this role.
Trouble spoil(const Spoiled& spoiled, std::size_t which = 0) {
  for (const GoodFeature& feature : goodFeatures()) {
    if (feature.role != spoiled.role || which-- > 0) continue;
    json::object body = bodyOf(feature);
    JsonReader reader;
    json::object& properties = body["properties"].as_object();
    if (spoiled.value.empty()) {
      properties.erase(spoiled.key);
    } else {
      json::value value = **reader.read(spoiled.value);
      (spoiled.key == "geometry" ? body : properties)[spoiled.key] = std::move(value);
    }
    const auto draft = draftOf(spoiled.role, body);
    return draft ? std::nullopt : Trouble(draft.error());
  }
  return Failure{FailureKind::notFound, "", "no such good feature", ""};
}

TEST(Registry, TakesOneOfEachRoleOfTheCourseFile) {
  std::set<std::string> roles;
  for (const GoodFeature& feature : goodFeatures()) {
    roles.insert(feature.role);
    const auto draft = draftOf(feature.role, bodyOf(feature));
    EXPECT_TRUE(draft) << feature.role << ": " << draft.error().text();
  }
  for (const RecordType& type : recordTypes())
    EXPECT_EQ(roles.contains(std::string(type.type)), type.inCourseFile) << type.type;
}

class Refusal : public testing::TestWithParam<Spoiled> {};

TEST_P(Refusal, IsSaidInWords) {
  const Trouble trouble = spoil(GetParam());
  ASSERT_TRUE(trouble);
  EXPECT_NE(trouble->text().find(GetParam().says), std::string::npos) << trouble->text();
  EXPECT_FALSE(trouble->todo.empty());
  EXPECT_EQ(trouble->kind, FailureKind::invalid);
}

const std::string longName(121, 'n');
const std::string longText(4001, 't');

INSTANTIATE_TEST_SUITE_P(
    Words, Refusal,
    testing::Values(
        Spoiled{"sighting", "kind", R"("wet")", "\"wet\" is not known"},
        Spoiled{"surround", "zone", R"("fairway")", "\"fairway\" is not known"},
        Spoiled{"choice", "choice", R"("hope")", "\"hope\" is not known"},
        Spoiled{"sighting", "shape", R"("circle")", "\"circle\" is not known"},
        Spoiled{"course", "stage", R"("old")", "\"old\" is not known"},
        Spoiled{"green", "name", "", "name: missing"},
        Spoiled{"green", "name", "7", "name: not a text"},
        Spoiled{"green", "name", "null", "name: missing"},
        Spoiled{"green", "name", R"("")", "empty name"},
        Spoiled{"green", "name", R"("  ")", "empty name"},
        Spoiled{"sighting", "patch", R"("")", "empty name"},
        Spoiled{"green", "name", R"("a\nb")", "control character"},
        Spoiled{"green", "name", '"' + longName + '"', "longer than 120 characters"},
        Spoiled{"sighting", "note", '"' + longText + '"', "longer than 4000 characters"},
        Spoiled{"green", "unknown", "{\"deep\":[\"" + longText + "\"]}", "longer than 4000"},
        Spoiled{"sighting", "seen", "", "seen: missing"},
        Spoiled{"sighting", "seen", R"("yesterday")", "seen"},
        Spoiled{"sighting", "seen", R"("2027-04-10T06:40:00")", "seen"},
        Spoiled{"sighting", "seen", R"("2027-02-30T06:40:00Z")", "seen"},
        Spoiled{"sighting", "seen", R"("1989-12-31T23:59:59Z")", "seen"},
        Spoiled{"sighting", "seen", R"("2201-01-01T00:00:00Z")", "seen"},
        Spoiled{"rain", "on", R"("2027-13-01")", "on"},
        Spoiled{"course", "time_zone", R"("Mars/Base")", "no time zone \"Mars/Base\""},
        Spoiled{"course", "opening_day", "20270515", "not a date"}));

INSTANTIATE_TEST_SUITE_P(
    Numbers, Refusal,
    testing::Values(
        Spoiled{"sighting", "area_m2", "-0.1", "less than 0"},
        Spoiled{"sighting", "area_m2", "1000000.1", "over 1,000,000 m2"},
        Spoiled{"sighting", "area_m2", R"("2")", "not a number"},
        Spoiled{"sighting", "length_m", "1.5", "width_m: missing beside length_m"},
        Spoiled{"sighting", "width_m", "1.5", "length_m: missing beside width_m"},
        Spoiled{"sighting", "squares", "100", "missing beside squares"},
        Spoiled{"sighting", "bare_share", "1.01", "more than 1"},
        Spoiled{"sighting", "pace_m", "0.7", "missing beside"},
        Spoiled{"mark", "visits", R"([{"at":"2027-04-10T06:40:00Z"}])", "longitude is missing"},
        Spoiled{"mark", "visits",
                R"([{"at":"2027-04-10T06:40:00Z","longitude":5,"latitude":95,"accuracy_m":1}])",
                "atitude"},
        Spoiled{"sighting", "bare_share", "-0.01", "less than 0"},
        Spoiled{"sighting", "depth_mm", "[20,-1]", "depth_mm, entry 2: less than 0"},
        Spoiled{"sighting", "tapes", R"([{"mark":"Peg"}])", "mark or distance_m is missing"},
        Spoiled{"frame", "squares_bare", "101", "more than squares"},
        Spoiled{"frame", "squares_bare", "1.5", "not a whole number"},
        Spoiled{"frame", "squares", "0", "no squares"},
        Spoiled{"repair", "seed_g", "-1", "less than 0"},
        Spoiled{"repair", "patch", "", "give patch or green"},
        Spoiled{"repair", "raked_back", R"("yes")", "neither true nor false"},
        Spoiled{"came_up", "share", "2", "more than 1"}, Spoiled{"rain", "mm", "-3", "less than 0"},
        Spoiled{"rain", "on", "", "give on or from"},
        Spoiled{"watering", "to", "", "missing beside from"},
        Spoiled{"watering", "to", R"("2027-04-11T19:00:00Z")", "earlier than from"},
        Spoiled{"temperature", "min_c", "11.5", "above max_c"},
        Spoiled{"feeding", "rate_g_m2", "", "give product_kg or rate_g_m2"},
        Spoiled{"seed_lot", "purity", "98", "more than 1"},
        Spoiled{"seed_lot", "germination", "", "germination: missing"},
        Spoiled{"seed_lot", "species", "[]", "an empty list"},
        Spoiled{"seed_lot", "species", R"([{"species":"fescue"}])", "is missing"},
        Spoiled{"seed_lot", "seeds_per_g", "[2,1]", "low end lies above"},
        Spoiled{"seed_lot", "packs_kg", "[0]", "a pack of nothing"},
        Spoiled{"feed", "analysis", "[60,30,10.1]", "more than 100 %"},
        Spoiled{"feed", "analysis", "[60,30]", "not three numbers"},
        Spoiled{"fill", "settles_by", "10", "more than 1"},
        Spoiled{"course", "settings", R"({"rate":"much"})", "settings, rate: not a number"},
        Spoiled{"course", "wanted_probability", "80", "more than 1"},
        Spoiled{"round", "ended", R"("2027-04-10T06:00:00Z")", "earlier than started"},
        Spoiled{"join", "same_as", R"("N7")", "the patch itself"},
        Spoiled{"mowing", "clippings_l", "1e10", "too large"}));

INSTANTIATE_TEST_SUITE_P(
    Places, Refusal,
    testing::Values(
        Spoiled{"green", "geometry", "null", "not where such a feature can lie"},
        Spoiled{"green", "geometry", point(1, 1), "give one of: Polygon, MultiPolygon"},
        Spoiled{"mark", "geometry", "null", "give one of: Point"},
        Spoiled{"closed", "geometry", point(1, 1), "give one of: null"},
        Spoiled{"sighting", "geometry", "null", "without a place"},
        Spoiled{"sighting", "geometry", "7", "not a geometry"},
        Spoiled{"mark", "geometry", R"({"type":"Point"})", "coordinates are missing"},
        Spoiled{"mark", "geometry", R"({"type":"Point","coordinates":[5,90.1]})",
                "outside the globe"},
        Spoiled{"mark", "geometry", R"({"type":"Point","coordinates":[-180.1,52]})",
                "outside the globe"},
        Spoiled{"mark", "geometry", R"({"type":"Point","coordinates":[5]})", "longitude first"},
        Spoiled{"mark", "geometry", R"({"type":"Point","coordinates":[5,"52"]})", "not a number"},
        Spoiled{"green", "geometry", R"({"type":"Polygon","coordinates":[]})", "without a ring"},
        Spoiled{"green", "geometry",
                R"({"type":"Polygon","coordinates":[[[5,52],[5.1,52],[5,52],[5.1,52]]]})",
                "fewer than 3 places"},
        Spoiled{"green", "geometry", R"({"type":"MultiPolygon","coordinates":[]})",
                "without a polygon"},
        Spoiled{"green", "geometry",
                R"({"type":"Polygon","coordinates":[[[5,52],[5.02,52],[5.02,52.02],[5,52.02]]]})",
                "over 1,000,000 m2"}));

TEST(Registry, TakesRingsThatAreLeftOpenAndCrossTheDateLine) {
  const std::string ring =
      R"({"type":"Polygon","coordinates":[[[179.9999,10],[-179.9999,10],[-179.9999,10.0002]]]})";
  EXPECT_FALSE(spoil({"green", "geometry", ring, ""}));
}

TEST(Registry, CountsCharactersAndNotBytes) {
  std::string name;
  for (int i = 0; i < 120; ++i) name += "é";
  EXPECT_FALSE(spoil({"green", "name", '"' + name + '"', ""}));
  EXPECT_TRUE(spoil({"green", "name", '"' + name + "e\"", ""}));
}

TEST(Registry, TakesANullForAnOptionalPropertyAsAbsent) {
  EXPECT_FALSE(spoil({"sighting", "note", "null", ""}));
}

TEST(Registry, RefusesALengthAndWidthThatMakeTooLargeAnArea) {
  EXPECT_TRUE(spoil({"sighting", "length_m", "2500001", ""}, 1));
  EXPECT_FALSE(spoil({"sighting", "length_m", "25", ""}, 1));
}

TEST(Registry, RefusesWhatDoesNotFitIntoARecord) {
  std::string list = "[0";
  for (int i = 0; i < 20'000; ++i) list += ",123";
  const Trouble trouble = spoil({"green", "unknown", list + "]", ""});
  ASSERT_TRUE(trouble);
  EXPECT_NE(trouble->text().find("larger than 64 KiB"), std::string::npos);
}

TEST(Registry, DraftNamesTypeSubjectAndAOneLineBody) {
  const auto draft = draftOf("sighting", bodyOf(goodFeatures()[9]));
  ASSERT_TRUE(draft);
  EXPECT_EQ(draft->type, "sighting");
  EXPECT_EQ(draft->version, 1);
  EXPECT_EQ(draft->subject, "N7");
  EXPECT_EQ(draft->body.find('\n'), std::string::npos);
}

TEST(Registry, EqualFeaturesHaveOneDigest) {
  JsonReader reader;
  const auto digest = [&](std::string_view type, const char* text) {
    return featureDigest(type, (*reader.read(text))->as_object());
  };
  const auto one = digest("fill", R"({"geometry":null,"properties":{"name":"S","stock_kg":5}})");
  EXPECT_EQ(one, digest("fill", R"({"properties":{"stock_kg":5.0,"name":"S"}})"));
  EXPECT_NE(one, digest("feed", R"({"properties":{"stock_kg":5.0,"name":"S"}})"));
  EXPECT_NE(one, digest("fill", R"({"properties":{"stock_kg":5.5,"name":"S"}})"));
}

/// The names of all properties of a body, those within properties, too.
void collectKeys(const json::value& value, std::set<std::string>& keys) {
  if (const auto* object = value.if_object()) {
    for (const auto& [key, inner] : *object) {
      keys.insert(std::string(key));
      collectKeys(inner, keys);
    }
  } else if (const auto* list = value.if_array()) {
    for (const json::value& inner : *list) collectKeys(inner, keys);
  }
}

/// Every way of measuring at once, which no person does.
Sighting sightingWithEverything() {
  Sighting sighting;
  sighting.patch = sighting.label = sighting.green = "N7";
  sighting.area_m2 = measure::Measured{1.0, 0.1};
  sighting.tape = TapeSize{geo::TapeForm::triangle, 1.0, 1.0};
  sighting.paces = PacedSize{2.0, 1.0, {0.7, 0.02}};
  sighting.frame = FrameCount{3, 16, 0.25};
  sighting.corners_u_m = {0.1};
  sighting.edge_u_m = 0.05;
  sighting.tapes = {{"drain", 3.0}};
  sighting.corrected = CorrectedReading{"drain", {}, 1.0, 1.0, 0.5, {}, 3.0};
  sighting.accuracy_m = 1.0;
  sighting.depths_mm = {20.0};
  sighting.bareShare = sighting.bareShare_u = 0.1;
  sighting.sandLying_mm = 5.0;
  return sighting;
}

TEST(Registry, WhatMeasuringWritesIsDescribedInProperties) {
  std::ifstream file(SWARDWALK_SOURCE "/common/course/PROPERTIES.md");
  std::stringstream text;
  text << file.rdbuf();
  Mark mark;
  mark.name = "drain";
  mark.accuracy_m = 0.1;
  mark.visits = {{{}, {}, 0.1}};
  Round round;
  round.ended = measure::Instant{};
  std::set<std::string> keys;
  for (const json::object& body : {bodyOf(sightingWithEverything()), bodyOf(mark), bodyOf(Frame{}),
                                   bodyOf(round), bodyOf(Join{{}, "a", "b"})}) {
    collectKeys(body.at("properties"), keys);
  }
  collectKeys(fixesOf({geo::Fix{}}, 1000), keys);
  for (const std::string& key : keys) {
    EXPECT_NE(text.str().find('`' + key + '`'), std::string::npos)
        << "describe \"" << key << "\" in common/course/PROPERTIES.md";
  }
  EXPECT_GE(keys.size(), 40U);
}

TEST(Registry, TableStandsInTheFormat) {
  std::ifstream file(SWARDWALK_SOURCE "/common/journal/FORMAT.md");
  std::stringstream text;
  text << file.rdbuf();
  const std::string begin = "<!-- record types: begin -->\n";
  const std::string end = "<!-- record types: end -->";
  const std::string format = text.str();
  const std::size_t from = format.find(begin);
  const std::size_t to = format.find(end);
  ASSERT_NE(from, std::string::npos);
  ASSERT_NE(to, std::string::npos);
  EXPECT_EQ(format.substr(from + begin.size(), to - from - begin.size()), registryTable())
      << "put this table into common/journal/FORMAT.md:\n"
      << registryTable();
}

}  // namespace
}  // namespace swardwalk::course
