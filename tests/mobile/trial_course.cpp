#include "tests/mobile/trial_course.h"

#include <QTemporaryDir>
#include <boost/json.hpp>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <numbers>

#include "common/course/course_fold.h"
#include "common/geo/local_plane.h"
#include "common/journal/folder.h"

namespace swardwalk::mobile {

namespace json = boost::json;

namespace {

const geo::Position middle{55.2, -3.1};

template <class Value>
Value must(Result<Value> result) {
  if (!result) {
    std::fprintf(stderr, "the trial course can't be made: %s\n", result.error().text().c_str());
    std::abort();
  }
  if constexpr (!std::is_void_v<Value>) return std::move(*result);
}

json::array ring(double east_m, double north_m, double a_m, double b_m) {
  json::array places;
  constexpr int corners = 48;
  for (int i = 0; i <= corners; ++i) {
    const double angle = 2 * std::numbers::pi * (i % corners) / corners;
    // A dent makes the green look like one.
    const double r = 1.0 - 0.12 * std::cos(2 * angle + 0.6);
    const geo::Position at =
        trialPlace(east_m + a_m * r * std::cos(angle), north_m + b_m * r * std::sin(angle));
    places.push_back(json::array{at.longitude_deg, at.latitude_deg});
  }
  return places;
}

json::object polygon(json::array places) {
  return {{"type", "Polygon"}, {"coordinates", json::array{std::move(places)}}};
}

json::object body(json::value geometry, json::object properties) {
  return {{"geometry", std::move(geometry)}, {"properties", std::move(properties)}};
}

measure::Instant daysAgo(int days, int minutes = 0) {
  return trialNow() - std::chrono::days(days) - std::chrono::minutes(minutes);
}

struct Seen {
  const char* patch;
  const char* label;
  const char* green;
  turf::Kind kind;
  double east_m, north_m;
  int daysAgo;
  double length_m, width_m;
};

/// Six weeks on two greens, the sizes shrinking as a creeping edge makes them.
constexpr Seen sightings[] = {
    {"p1", "H1", "Hollow", turf::Kind::bare, -9, 4, 40, 0.30, 0.24},
    {"p2", "H2", "Hollow", turf::Kind::bare, -5, 6, 40, 0.52, 0.44},
    {"p2", "H2", "Hollow", turf::Kind::bare, -5, 6, 26, 0.46, 0.38},
    {"p2", "H2", "Hollow", turf::Kind::bare, -5, 6, 13, 0.40, 0.33},
    {"p2", "H2", "Hollow", turf::Kind::bare, -5, 6, 6, 0.37, 0.30},
    {"p3", "H3", "Hollow", turf::Kind::hungry, 7, 3, 6, 3.0, 2.4},
    {"p4", "H4", "Hollow", turf::Kind::washed, -8, -5, 20, 2.2, 0.8},
    {"p4", "H4", "Hollow", turf::Kind::washed, -8, -5, 6, 2.2, 0.8},
    {"p5", "H5", "Hollow", turf::Kind::dug, 0, 2, 6, 0.52, 0.44},
    {"p7", "H7", "Hollow", turf::Kind::washed, -2, 0, 26, 4.6, 0.62},
    {"p7", "H7", "Hollow", turf::Kind::washed, -2, 0, 13, 4.5, 0.55},
    {"p7", "H7", "Hollow", turf::Kind::washed, -2, 0, 6, 4.4, 0.52},
    {"p10", "H10", "Hollow", turf::Kind::bare, 6, -2, 13, 1.1, 0.92},
    {"p10", "H10", "Hollow", turf::Kind::bare, 6, -2, 6, 1.08, 0.92},
    {"n1", "N1", "North", turf::Kind::bare, 60, 3, 6, 0.34, 0.28},
    {"n2", "N2", "North", turf::Kind::dug, 64, -2, 6, 0.72, 0.68},
};

void writeCourse(const std::string& folder) {
  course::CourseFold fold;
  auto journal = must(journal::openFolder(folder, journal::Missing::make, fold));
  must(journal.found({1, 2, 3}, daysAgo(45).time_since_epoch().count(), "Trial"));
  std::int64_t now_ms = daysAgo(42).time_since_epoch().count();
  const course::Pen pen{{}, "Ansa", "Trial"};
  course::Recorder recorder(journal, pen, [&now_ms] { return now_ms; });
  const auto add = [&](std::string_view type, json::value geometry, json::object properties) {
    must(recorder.feature(type, body(std::move(geometry), std::move(properties))));
  };
  add("course", nullptr,
      {{"name", "Trial course"},
       {"time_zone", "Europe/London"},
       {"opening_day", "2027-05-15"},
       {"cart_limit_kg", 50},
       // So that there is something to look at next.
       {"bare_share_limit", 0.009}});
  for (const auto& [name, east_m] : {std::pair{"Hollow", 0.0}, std::pair{"North", 62.0}}) {
    add("green", polygon(ring(east_m, 0, 14, 10)),
        {{"name", name}, {"species", json::array{"creeping bentgrass"}}});
    add("surround", polygon(ring(east_m, 0, 17, 13)), {{"green", name}, {"zone", "collar"}});
  }
  add("seed_lot", nullptr,
      {{"name", "Bent 26-4"},
       {"species", "creeping bentgrass"},
       {"purity", 0.98},
       {"germination", 0.9},
       {"packs_kg", json::array{0.25}},
       {"stock_kg", 0.1}});
  add("fill", nullptr,
      {{"name", "Medium sand"}, {"bulk_density_kg_l", 1.55}, {"settles_by", 0.1}, {"bulk", true}});
  add("feed", nullptr,
      {{"name", "Starter"}, {"analysis", json::array{12, 6, 9}}, {"label_rate_g_m2", 20}});
  add("rain", nullptr, {{"on", "2027-04-27"}, {"mm", 14}});
  for (const Seen& one : sightings) {
    now_ms = daysAgo(one.daysAgo, 30).time_since_epoch().count();
    course::Sighting sighting;
    sighting.patch = one.patch;
    sighting.label = one.label;
    sighting.green = one.green;
    sighting.kind = one.kind;
    sighting.seen = daysAgo(one.daysAgo, 30);
    sighting.point = trialPlace(one.east_m, one.north_m);
    sighting.accuracy_m = 2.0;
    sighting.tape = course::TapeSize{geo::TapeForm::ellipse, one.length_m, one.width_m};
    if (one.kind == turf::Kind::washed || one.kind == turf::Kind::dug) sighting.depths_mm = {25};
    must(recorder.sighting(sighting));
  }
  course::Closed closed;
  closed.patch = "p1";
  closed.seen = daysAgo(6);
  must(recorder.closed(closed));
  course::Repair sown;
  sown.patch = "p4";
  sown.done = daysAgo(5);
  sown.seedLot = "Bent 26-4";
  sown.seed_g = 14;
  must(recorder.repair(sown));
  for (const char* green : {"Hollow", "North"}) {
    course::Round round;
    round.green = green;
    round.started = daysAgo(6, 60);
    round.ended = daysAgo(6, 10);
    must(recorder.round(round));
  }
}

}  // namespace

measure::Instant trialNow() { return *measure::parseInstant("2027-04-29T06:40:00+01:00"); }

geo::Position trialPlace(double east_m, double north_m) {
  return geo::LocalPlane(middle).toGlobe(geo::LocalPoint{east_m, north_m});
}

Trial::Trial(Begin begin, Options options, Clockwork clockwork)
    : folder_(std::make_unique<QTemporaryDir>()),
      options_(std::move(options)),
      clock_(clockwork == Clockwork::standing ? Clock(trialNow()) : Clock()) {
  if (begin == Begin::withCourse) writeCourse(folder_->path().toStdString());
  if (!options_.person) options_.person = QStringLiteral("Ansa");
  if (!options_.device) options_.device = QStringLiteral("Tablet b");
  open();
}

Trial::~Trial() = default;

QString Trial::folder() const { return folder_->path(); }

void Trial::open() {
  auto script = std::make_unique<ScriptedSource>();
  script_ = script.get();
  app_ = std::make_unique<App>(folder_->path(), options_, clock_, std::move(script));
}

void Trial::restart() {
  clock_ = app_->clock();
  app_.reset();
  open();
}

void Trial::stand(double east_m, double north_m, double accuracy_m) {
  geo::Fix fix;
  fix.time = app_->clock().now() + std::chrono::seconds(1);
  fix.position = trialPlace(east_m, north_m);
  fix.accuracy_m = accuracy_m;
  script_->give(fix);
}

void Trial::wait(std::chrono::milliseconds span) {
  app_->clock().moveTo(app_->clock().now() + span);
}

std::vector<std::string> Trial::bodies(std::string_view type) {
  std::vector<std::string> found;
  must(app_->store().journal().forEach([&](const journal::Record& record) {
    if (record.content.type == type) found.push_back(record.content.body);
    return true;
  }));
  return found;
}

}  // namespace swardwalk::mobile
