#include "common/course/state.h"

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <cmath>

#include "common/journal/record.h"
#include "tests/common/course/devices.h"

namespace swardwalk::course {
namespace {

std::string sighting(std::string_view patch, std::string_view seen) {
  return fmt::format(R"({{"patch":"{}","kind":"bare","seen":"{}"}})", patch, seen);
}

TEST(ReadState, ReadsEveryRole) {
  Device device(1, nullptr);
  for (const GoodFeature& feature : goodFeatures())
    device.write(feature.role, feature.properties, feature.geometry);
  const CourseState state = device.state();
  EXPECT_TRUE(state.unusable.empty());
  EXPECT_EQ(state.course.name, "Quillbeck");
  EXPECT_EQ(state.course.timeZone, "Europe/Amsterdam");
  EXPECT_EQ(measure::isoDate(state.course.openingDay.value()), "2027-05-15");
  EXPECT_EQ(state.course.bareShareLimit, 0.03);
  EXPECT_EQ(state.course.wantedProbability, 0.9);
  EXPECT_EQ(state.course.stage, Stage::mature);
  EXPECT_EQ(state.course.cartLimit_kg, 250.0);
  EXPECT_EQ(state.course.settings.at("patch_rate_g_m2"), 9.5);
  ASSERT_EQ(state.greens.size(), 1u);
  EXPECT_EQ(state.greens[0].species, std::vector<std::string>{"creeping bentgrass"});
  EXPECT_EQ(state.greens[0].shape.at(0).outer.size(), 4u) << "the repeated place is dropped";
  EXPECT_EQ(state.surrounds.at(0).zone, Zone::bank);
  EXPECT_EQ(state.surrounds.at(0).slope_percent, 30.0);
  EXPECT_EQ(state.marks.size(), 2u);
  const turf::SeedLot& lot = state.seedLots.at(0);
  EXPECT_EQ(lot.parts.at(1).share, 0.2);
  EXPECT_EQ(lot.seedsPerGramHigh, 15000.0);
  EXPECT_EQ(lot.packs.sizes_kg, (std::vector<double>{1, 10}));
  EXPECT_EQ(state.feeds.at(0).potash_percent, 8.0);
  EXPECT_EQ(state.feeds.at(0).solubleNitrogenShare, 0.6);
  EXPECT_TRUE(state.fills.at(0).packs.bulk);
  EXPECT_EQ(state.turfs.at(0).stock_m2, 12.0);
  EXPECT_EQ(state.frames.at(0).squaresBare, 3);
  EXPECT_EQ(state.greenRepairs.at(0).turf_m2, 2.0);
  EXPECT_EQ(state.rain.at(0).amount_mm, 22.5);
  EXPECT_EQ(state.watering.at(0).amount_mm, 3.0);
  EXPECT_EQ(state.temperatures.at(0).min_c, -1.5);
  EXPECT_EQ(state.mowings.at(0).passes, 2);
  EXPECT_EQ(state.feedings.at(0).rate_g_m2, 15.0);
  EXPECT_EQ(state.rounds.at(0).track.size(), 2u);

  ASSERT_EQ(state.patches.size(), 2u) << "N7 and N9 were joined";
  const Patch& patch = *state.patch("N9");
  EXPECT_EQ(patch.id, "N7");
  EXPECT_EQ(patch.label, "N7");
  EXPECT_EQ(patch.sightings.at(0).source.author, "Ansa");
  EXPECT_EQ(patch.sightings.at(0).source.device, "Tablet a");
  EXPECT_EQ(patch.sightings.at(0).source.note, "below the bunker");
  EXPECT_EQ(patch.sightings.at(0).depths_mm, (std::vector<double>{20, 35.5}));
  EXPECT_EQ(patch.sightings.at(1).frame->squares, 100);
  EXPECT_EQ(patch.repairs.at(0).seed_g, 14.7);
  EXPECT_TRUE(patch.repairs.at(0).rakedBack);
  EXPECT_EQ(patch.cameUp.at(0).share, 0.7);
  EXPECT_EQ(patch.choices.at(0).choice, "mend the cause first");
  const Patch& other = *state.patch("N8");
  EXPECT_EQ(other.sightings.at(0).tape->form, geo::TapeForm::rectangle);
  EXPECT_EQ(other.closed.size(), 1u);
}

TEST(ReadState, TheLaterVersionOfANamedThingIsTheOneWithTheHigherCounter) {
  Device shed(1, nullptr);
  Device tablet(2, &shed);
  shed.write("fill", R"({"name":"Sand","bulk_density_kg_l":1.5})");
  tablet.takeAll(shed);
  tablet.write("fill", R"({"name":"Sand","bulk_density_kg_l":1.6})");
  shed.takeAll(tablet);
  EXPECT_EQ(shed.state().fills.at(0).bulkDensity_kg_l, 1.6);
  shed.write("fill", R"({"name":"Sand","bulk_density_kg_l":1.7})");
  EXPECT_EQ(shed.state().fills.at(0).bulkDensity_kg_l, 1.7);
  EXPECT_EQ(shed.state().fills.size(), 1u);
}

TEST(ReadState, SurroundsAreToldApartByGreenAndZone) {
  Device device(1, nullptr);
  device.write("surround", R"({"green":"A","zone":"bank"})", square(0, 0, 5));
  device.write("surround", R"({"green":"A","zone":"apron"})", square(0, 0, 5));
  device.write("surround", R"({"green":"A","zone":"bank","slope_percent":40})", square(0, 0, 5));
  const CourseState state = device.state();
  ASSERT_EQ(state.surrounds.size(), 2u);
  EXPECT_EQ(state.surrounds[1].zone, Zone::bank);
  EXPECT_EQ(state.surrounds[1].slope_percent, 40.0);
}

TEST(ReadState, WithdrawingACorrectionBringsBackWhatWasBefore) {
  Device device(1, nullptr);
  device.write("fill", R"({"name":"Sand","bulk_density_kg_l":1.5})");
  const auto wrong = device.write("fill", R"({"name":"Sand","bulk_density_kg_l":15})");
  device.recorder().withdraw(wrong.digest, "a slip").value();
  EXPECT_EQ(device.state().fills.at(0).bulkDensity_kg_l, 1.5);
}

TEST(ReadState, LeavesOutEventsOnOrAfterTheMoment) {
  Device device(1, nullptr);
  device.write("sighting", sighting("P1", "2027-04-10T06:00:00Z"), point(1, 1));
  device.write("sighting", sighting("P1", "2027-04-11T06:00:00Z"), point(1, 1));
  device.write("sighting", sighting("P2", "2027-04-12T06:00:00Z"), point(1, 1));
  device.write("choice", R"({"patch":"P2","choice":"leave"})");
  const CourseState state = device.state("2027-04-11T06:00:00Z");
  ASSERT_EQ(state.patches.size(), 1u);
  EXPECT_EQ(state.patches[0].sightings.size(), 1u);
  EXPECT_TRUE(state.unusable.empty()) << "a patch that is made later is no patch nobody made";
  EXPECT_EQ(device.state("2027-04-11T06:00:00.001Z").patches[0].sightings.size(), 2u);
}

TEST(ReadState, DaysBeginAndEndInTheCoursesTimeZone) {
  Device device(1, nullptr);
  device.write("rain", R"({"on":"2027-03-28","mm":5})");
  device.write("temperature", R"({"on":"2027-03-28","min_c":1,"max_c":9})");
  // UTC until the course says otherwise.
  EXPECT_EQ(device.state().rain.at(0).from, at("2027-03-28T00:00:00Z"));
  device.write("course", R"({"name":"Q","time_zone":"Europe/Amsterdam"})");
  EXPECT_EQ(courseZone(device.journal())->name(), "Europe/Amsterdam");
  const Water rain = device.state().rain.at(0);
  // On the last Sunday of March the clocks go forward: the day has 23 hours
  // (EU directive 2000/84/EC).
  EXPECT_EQ(rain.from, at("2027-03-27T23:00:00Z"));
  EXPECT_EQ(rain.to, at("2027-03-28T22:00:00Z"));
  EXPECT_EQ(device.state("2027-03-27T23:00:00Z").rain.size(), 0u);
  EXPECT_EQ(device.state("2027-03-27T23:00:00.001Z").rain.size(), 1u);
  EXPECT_EQ(device.state("2027-03-27T23:00:00Z").temperatures.size(), 0u);
  EXPECT_EQ(device.state("2027-03-27T23:00:00.001Z").temperatures.size(), 1u);
}

TEST(ReadState, TheLaterRecordOfADaysTemperatureWins) {
  Device device(1, nullptr);
  device.write("temperature", R"({"on":"2027-04-02","min_c":2,"max_c":9})");
  device.write("temperature", R"({"on":"2027-04-01","min_c":1,"max_c":9})");
  device.write("temperature", R"({"on":"2027-04-01","min_c":3,"max_c":9})");
  const CourseState state = device.state();
  ASSERT_EQ(state.temperatures.size(), 2u);
  EXPECT_EQ(state.temperatures[0].min_c, 3.0);
  EXPECT_EQ(state.temperatures[1].min_c, 2.0);
}

TEST(ReadState, ACourseOfAnUnknownTimeZoneRunsOnUtc) {
  // Another machine may know more time zones: its record is no worse for that.
  Device device(1, nullptr);
  device.writeRaw("course", R"({"geometry":null,"properties":{"name":"Q","time_zone":"A/B"}})");
  const CourseState state = device.state();
  EXPECT_TRUE(state.unusable.empty());
  EXPECT_EQ(zoneOf(state).name(), measure::Zone::utc().name());
}

TEST(ReadState, APersonsOwnRecordNamesTheAuthorUntilItIsErased) {
  Device device(1, nullptr);
  journal::PersonId id{7};
  const auto person =
      device.write("person", fmt::format(R"({{"id":"{}","name":"Tilde"}})", journal::hex(id)));
  Recorder recorder(device.journal(), Pen{id, "", ""}, [] { return 1'800'000'000'000; });
  Sighting sighting;
  sighting.patch = "P1";
  sighting.seen = at("2027-04-10T06:00:00Z");
  sighting.point = geo::Position{52, 5};
  ASSERT_TRUE(recorder.sighting(sighting));
  EXPECT_EQ(device.state().patches.at(0).sightings.at(0).source.author, "Tilde");
  ASSERT_TRUE(device.journal().erase(person.digest));
  EXPECT_EQ(device.state().patches.at(0).sightings.at(0).source.author, "name erased");
}

TEST(AreaOf, TakesTheBestMeasureAndTheBareShare) {
  Sighting sighting;
  EXPECT_FALSE(areaOf(sighting));
  sighting.frame = FrameCount{30, 100, 0.25};
  // 30 of 100 squares of a quarter square metre.
  EXPECT_NEAR(areaOf(sighting)->value, 0.075, 1e-12);
  sighting.tape = TapeSize{geo::TapeForm::rectangle, 2.0, 0.5};
  EXPECT_NEAR(areaOf(sighting)->value, 1.0, 1e-12);
  sighting.bareShare = 0.6;
  EXPECT_NEAR(areaOf(sighting)->value, 0.6, 1e-12);
  sighting.area_m2 = measure::Measured{4.0, std::nullopt};
  EXPECT_NEAR(areaOf(sighting)->value, 2.4, 1e-12);
  EXPECT_FALSE(areaOf(sighting)->u) << "an unknown uncertainty stays unknown (Q1)";
}

TEST(AreaOf, PacesCountByThePaceOfWhoCounted_Q2) {
  Sighting sighting;
  sighting.tape = TapeSize{geo::TapeForm::rectangle, 6.0, 3.0};
  const double taped_u_m2 = areaOf(sighting)->u.value();
  sighting.paces = PacedSize{8.0, 4.0, {0.75, 0.03}};
  EXPECT_NEAR(areaOf(sighting)->value, 18.0, 1e-12);
  EXPECT_GT(areaOf(sighting)->u.value(), 1.44) << "4 % of a pace are 8 % of the area";
  EXPECT_LT(taped_u_m2, 0.3);
}

TEST(AreaOf, AShareGuessedByEyeAddsItsDoubt) {
  Sighting sighting;
  sighting.area_m2 = measure::Measured{10.0, 0.5};
  sighting.bareShare = 0.4;
  EXPECT_NEAR(areaOf(sighting)->u.value(), 0.2, 1e-12);
  sighting.bareShare_u = 0.05;
  EXPECT_NEAR(areaOf(sighting)->u.value(), std::hypot(0.2, 0.5), 1e-12);
}

TEST(AreaOf, AnOutlineCountsOnTheGround) {
  Device device(1, nullptr);
  device.write("sighting", sighting("P1", "2027-04-10T06:00:00Z"), square(0, 0, 2));
  const Sighting read = device.state().patches.at(0).sightings.at(0);
  // The helper's metres in a degree hold to a few parts in 10^5.
  EXPECT_NEAR(areaOf(read)->value, 4.0, 4.0 * 1e-4);
  EXPECT_GT(areaOf(read)->u.value_or(0.0), 0.0);
  EXPECT_EQ(shapeOf(read).size(), 1u);
  EXPECT_NEAR(placeOf(read)->latitude_deg, 52.0 + 1.0 / 111'267.0, 1e-7);
}

}  // namespace
}  // namespace swardwalk::course
