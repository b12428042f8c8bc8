#include "tests/common/answers/small_course.h"

#include <algorithm>
#include <stdexcept>

#include <fmt/format.h>

#include "common/geo/local_plane.h"

namespace swardwalk::answers::test {
namespace {

const geo::LocalPlane& plane() {
  static const geo::LocalPlane made(geo::Position{52.0, -1.0});
  return made;
}

template <class Value>
Value known(const Result<Value>& result) {
  if (!result) throw std::invalid_argument(result.error().text());
  return *result;
}

template <class Items>
const auto& findIn(const Items& items, std::string_view patch) {
  const auto found =
      std::find_if(items.begin(), items.end(), [&](const auto& one) { return one.patch == patch; });
  if (found == items.end()) throw std::out_of_range("no patch " + std::string(patch));
  return *found;
}

}  // namespace

measure::Date date(std::string_view text) { return known(measure::parseDate(text)); }

measure::Instant at(std::string_view text) {
  // A date alone is that morning.
  if (text.size() == 10) return known(measure::parseInstant(fmt::format("{}T06:30:00Z", text)));
  return known(measure::parseInstant(text));
}

geo::Position place(double east_m, double north_m) { return plane().toGlobe({east_m, north_m}); }

geo::GlobeShape rectangle(double east_m, double north_m, double width_m, double height_m) {
  geo::GlobePolygon polygon;
  polygon.outer = {place(east_m, north_m), place(east_m + width_m, north_m),
                   place(east_m + width_m, north_m + height_m), place(east_m, north_m + height_m)};
  return {polygon};
}

CourseBuilder::CourseBuilder() {
  state.course.name = "Quillbeck";
  state.course.timeZone = "Europe/London";
  state.course.openingDay = date("2027-05-15");
  course::Green north;
  north.name = "North";
  north.shape = rectangle(0.0, 0.0, 25.0, 20.0);
  north.species = {"creeping bentgrass"};
  state.greens.push_back(north);
  course::Surround bank;
  bank.green = "North";
  bank.zone = course::Zone::bank;
  bank.shape = rectangle(26.0, 0.0, 10.0, 20.0);
  bank.species = {"perennial ryegrass"};
  state.surrounds.push_back(bank);
  // No reallocation: tests hold on to the patches that they make.
  state.patches.reserve(64);
}

course::Source CourseBuilder::source() {
  course::Source source;
  source.counter = ++counter_;
  source.number = counter_;
  source.author = "Ansa";
  return source;
}

course::Patch& CourseBuilder::patch(std::string id, course::Zone zone, std::string green) {
  course::Patch& patch = state.patches.emplace_back();
  patch.id = id;
  patch.label = std::move(id);
  patch.zone = zone;
  patch.green = std::move(green);
  return patch;
}

course::Sighting& CourseBuilder::seen(course::Patch& patch, std::string_view when, turf::Kind kind,
                                      double length_m, double width_m) {
  course::Sighting& sighting = patch.sightings.emplace_back();
  sighting.source = source();
  sighting.patch = patch.id;
  sighting.label = patch.label;
  sighting.kind = kind;
  sighting.seen = at(when);
  sighting.green = patch.green;
  if (length_m > 0.0) {
    sighting.tape = course::TapeSize{geo::TapeForm::rectangle, length_m, width_m};
  }
  patch.kind = kind;
  return sighting;
}

course::Repair& CourseBuilder::repair(course::Patch& patch, std::string_view when) {
  course::Repair& repair = patch.repairs.emplace_back();
  repair.source = source();
  repair.patch = patch.id;
  repair.done = at(when);
  return repair;
}

course::Repair& CourseBuilder::sown(course::Patch& patch, std::string_view when, std::string lot,
                                    double seed_g) {
  course::Repair& sown = repair(patch, when);
  sown.seedLot = std::move(lot);
  sown.seed_g = seed_g;
  return sown;
}

void CourseBuilder::up(course::Patch& patch, std::string_view when) {
  course::CameUp& up = patch.cameUp.emplace_back();
  up.source = source();
  up.patch = patch.id;
  up.seen = at(when);
}

void CourseBuilder::closed(course::Patch& patch, std::string_view when) {
  course::Closed& closed = patch.closed.emplace_back();
  closed.source = source();
  closed.patch = patch.id;
  closed.seen = at(when);
}

void CourseBuilder::choose(course::Patch& patch, std::string choice, std::string author,
                           std::string why) {
  course::Choice& chosen = patch.choices.emplace_back();
  chosen.source = source();
  chosen.source.author = std::move(author);
  chosen.patch = patch.id;
  chosen.choice = std::move(choice);
  chosen.why = std::move(why);
}

void CourseBuilder::rain(std::string_view day, double amount_mm, std::optional<double> peak_mm_h) {
  course::Water& rain = state.rain.emplace_back();
  rain.source = source();
  const measure::Zone zone = course::zoneOf(state);
  rain.from = zone.endOf(date(day) - std::chrono::days(1));
  rain.to = zone.endOf(date(day));
  rain.amount_mm = amount_mm;
  rain.peak_mm_h = peak_mm_h;
}

void CourseBuilder::temperature(std::string_view from, std::string_view to, double mean_c) {
  for (measure::Date day = date(from); day <= date(to); day += std::chrono::days(1)) {
    course::Temperature& temperature = state.temperatures.emplace_back();
    temperature.on = day;
    temperature.min_c = mean_c - 4.0;
    temperature.max_c = mean_c + 4.0;
  }
}

turf::SeedLot& CourseBuilder::lot(std::string name, std::string species) {
  turf::SeedLot& lot = state.seedLots.emplace_back();
  lot.name = std::move(name);
  lot.parts = {{std::move(species), 1.0}};
  lot.purity = 0.98;
  lot.germination = 0.90;
  lot.tested = date("2027-01-10");
  return lot;
}

turf::Feed& CourseBuilder::feed(std::string name, std::optional<double> nitrogen_percent) {
  turf::Feed& feed = state.feeds.emplace_back();
  feed.name = std::move(name);
  feed.nitrogen_percent = nitrogen_percent;
  return feed;
}

turf::Fill& CourseBuilder::fill(std::string name) {
  turf::Fill& fill = state.fills.emplace_back();
  fill.name = std::move(name);
  fill.bulkDensity_kg_l = 1.55;
  fill.settlesBy = 0.10;
  return fill;
}

void CourseBuilder::counted(course::Shelf shelf, std::string material) {
  state.stockCounts.push_back({source(), shelf, std::move(material), std::nullopt});
}

void CourseBuilder::shed() {
  turf::SeedLot& bent = lot("Bent 26-4", "creeping bentgrass");
  bent.packs.sizes_kg = {0.25, 1.0};
  bent.stock_kg = 0.02;
  turf::SeedLot& rye = lot("Ryegrass 26-1", "perennial ryegrass");
  rye.packs.sizes_kg = {5.0};
  rye.stock_kg = 10.0;
  turf::Feed& starter = feed("Starter", 6.0);
  starter.packs.sizes_kg = {20.0};
  starter.stock_kg = 5.0;
  turf::Fill& sand = fill("Medium sand");
  sand.packs.sizes_kg = {25.0};
  sand.stock_kg = 40.0;
  counted(course::Shelf::seedLot, "Bent 26-4");
  counted(course::Shelf::seedLot, "Ryegrass 26-1");
  counted(course::Shelf::feed, "Starter");
  counted(course::Shelf::fill, "Medium sand");
}

Progress CourseBuilder::progress(std::string_view on, measure::UnitSystem units) const {
  return answers::progress(state, date(on), units);
}

Plan CourseBuilder::plan(std::string_view on, measure::UnitSystem units) const {
  return answers::plan(state, progress(on, units), units);
}

const PatchProgress& find(const Progress& progress, std::string_view patch) {
  return findIn(progress.patches, patch);
}

const PlannedPatch& find(const Plan& plan, std::string_view patch) {
  return findIn(plan.patches, patch);
}

CourseBuilder stormyCourse() {
  using turf::Kind;
  CourseBuilder course;
  course.shed();
  course.temperature("2027-03-10", "2027-04-12", 11.0);

  course::Patch& dug = course.patch("N3");
  course.seen(dug, "2027-04-11", Kind::dug, 0.5, 0.4).depths_mm = {60.0};

  course::Patch& washed = course.patch("N7");
  course.seen(washed, "2027-03-01", Kind::washed, 2.6, 1.0).depths_mm = {30.0, 34.0};
  course.sown(washed, "2027-03-04");
  course.up(washed, "2027-03-20");
  course.seen(washed, "2027-03-21", Kind::washed, 3.0, 1.1).depths_mm = {20.0, 26.0, 23.0};
  course.seen(washed, "2027-03-28", Kind::washed, 2.98, 1.08);
  course.seen(washed, "2027-04-11T05:40:00Z", Kind::washed, 2.94, 1.05);

  course::Patch& growing = course.patch("N9");
  course.seen(growing, "2027-03-20", Kind::bare, 0.8, 0.6).point = place(5.0, 5.0);
  course.seen(growing, "2027-03-28", Kind::bare, 0.95, 0.75).point = place(5.0, 5.0);
  course.seen(growing, "2027-04-10", Kind::bare, 1.1, 0.95).point = place(5.0, 5.0);

  course::Patch& hungry = course.patch("N2");
  course.seen(hungry, "2027-04-09", Kind::hungry, 3.0, 2.0);

  course::Patch& bank = course.patch("N10", course::Zone::bank);
  course.seen(bank, "2027-04-01", Kind::washed, 1.2, 0.6).depths_mm = {15.0};
  course.sown(bank, "2027-04-05", "Ryegrass 26-1", 25.0);
  course.rain("2027-04-09", 24.0, 18.0);

  course::Patch& small = course.patch("N12");
  course.seen(small, "2027-04-11", Kind::bare, 0.05, 0.03).point = place(15.0, 15.0);

  course::Patch& done = course.patch("N5");
  course.seen(done, "2027-03-10", Kind::bare, 0.3, 0.2);
  course.closed(done, "2027-04-06");

  course::Patch& unmeasured = course.patch("N11");
  course.seen(unmeasured, "2027-04-11", Kind::bare);
  return course;
}

}  // namespace swardwalk::answers::test
