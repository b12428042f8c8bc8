#include "common/course/recorder.h"

#include <gtest/gtest.h>

#include <boost/json.hpp>

#include "common/course/json.h"
#include "common/course/registry.h"
#include "tests/common/course/devices.h"

namespace swardwalk::course {
namespace {

Sighting fullSighting() {
  Sighting sighting;
  sighting.source.note = "wet";
  sighting.patch = "0123456789abcdef";
  sighting.label = "N7a";
  sighting.kind = turf::Kind::washed;
  sighting.seen = at("2027-04-10T06:40:00.250Z");
  sighting.green = "North";
  sighting.point = geo::Position{52.037356567046004, 5.1};
  sighting.area_m2 = measure::Measured{1.25, 0.1};
  sighting.tape = TapeSize{geo::TapeForm::triangle, 2.5, 1.0};
  sighting.frame = FrameCount{12, 100, 0.25};
  sighting.edge_u_m = 0.05;
  sighting.tapes = {{"Peg", 4.25}, {"Lid", 6.5}};
  sighting.accuracy_m = 0.8;
  sighting.depths_mm = {20, 35};
  sighting.bareShare = 0.75;
  sighting.bareShare_u = 0.05;
  sighting.paces = PacedSize{3.5, 1.5, {0.72, 0.03}};
  sighting.corrected = CorrectedReading{"Peg", at("2027-04-10T06:30:00Z"), 1.5, -0.5,
                                        0.75,  geo::Position{52.1, 5.1},   3.0};
  sighting.sandLying_mm = 3.0;
  return sighting;
}

TEST(Recorder, ASightingReadsBackAsItWasWritten) {
  Device device(1, nullptr);
  const Sighting written = fullSighting();
  const auto record = device.recorder("Ansa").sighting(written);
  ASSERT_TRUE(record) << record.error().text();
  EXPECT_EQ(record->content.subject, written.patch);
  const CourseState state = device.state();
  const Sighting read = state.patches.at(0).sightings.at(0);
  EXPECT_EQ(read.source.author, "Ansa");
  EXPECT_EQ(read.source.device, "Tablet a");
  EXPECT_EQ(read.source.note, "wet");
  EXPECT_EQ(read.source.digest, record->digest);
  EXPECT_EQ(read.label, written.label);
  EXPECT_EQ(read.kind, written.kind);
  EXPECT_EQ(read.seen, written.seen);
  EXPECT_EQ(read.green, written.green);
  EXPECT_EQ(read.point, written.point);
  EXPECT_EQ(read.area_m2, written.area_m2);
  EXPECT_EQ(read.tape->form, geo::TapeForm::triangle);
  EXPECT_EQ(read.tape->length_m, 2.5);
  EXPECT_EQ(read.tape->width_m, 1.0);
  EXPECT_EQ(read.frame->squaresBare, 12);
  EXPECT_EQ(read.frame->frame_m2, 0.25);
  EXPECT_EQ(read.edge_u_m, 0.05);
  ASSERT_EQ(read.tapes.size(), 2u);
  EXPECT_EQ(read.tapes[1].mark, "Lid");
  EXPECT_EQ(read.accuracy_m, written.accuracy_m);
  EXPECT_EQ(read.depths_mm, written.depths_mm);
  EXPECT_EQ(read.bareShare, written.bareShare);
  EXPECT_EQ(read.bareShare_u, written.bareShare_u);
  EXPECT_EQ(read.paces->length_paces, 3.5);
  EXPECT_EQ(read.paces->pace_m, written.paces->pace_m);
  EXPECT_EQ(read.corrected->found, written.corrected->found);
  EXPECT_EQ(read.corrected->said, written.corrected->said);
  EXPECT_EQ(read.corrected->north_m, -0.5);
  EXPECT_EQ(read.corrected->share, 0.75);
  EXPECT_EQ(read.sandLying_mm, written.sandLying_mm);
}

TEST(Recorder, AMarkKeepsItsVisitsAndTheFixesOfTheLast_Q2) {
  Device device(1, nullptr);
  Mark mark;
  mark.name = "Drain lid";
  mark.position = {52.0, 5.0};
  mark.accuracy_m = 1.4;
  mark.visits = {{at("2027-04-09T06:40:00Z"), {52.00001, 5.0}, 2.0},
                 {at("2027-04-10T06:40:00Z"), {51.99999, 5.0}, 2.0}};
  geo::Fix fix;
  fix.time = at("2027-04-10T06:40:00Z");
  fix.position = {51.99999, 5.0};
  const auto record = device.recorder().mark(mark, {fix});
  ASSERT_TRUE(record) << record.error().text();
  EXPECT_NE(record->content.body.find("\"fixes\""), std::string::npos);
  const CourseState state = device.state();
  const Mark& read = state.marks.at(0);
  EXPECT_EQ(read.position, mark.position);
  EXPECT_EQ(read.accuracy_m, 1.4);
  ASSERT_EQ(read.visits.size(), 2u);
  EXPECT_EQ(read.visits[1].time, mark.visits[1].time);
  EXPECT_EQ(read.visits[1].position, mark.visits[1].position);
  EXPECT_EQ(read.visits[1].u_m, 2.0);
}

TEST(Recorder, MaterialsReadBackAsTheyWereWritten) {
  Device device(1, nullptr);
  Recorder recorder = device.recorder("Bo");
  const auto morning = at("2027-04-09T06:40:00Z");
  turf::SeedLot blend;
  blend.name = "Blend 3";
  blend.parts = {{"creeping bentgrass", 0.75}, {"chewings fescue", 0.25}};
  blend.sharesByNumber = true;
  blend.purity = 0.98;
  blend.germination = 0.85;
  blend.tested = measure::parseDate("2027-03-01").value();
  blend.seedsPerGramLow = 1000;
  blend.seedsPerGramHigh = 1200;
  blend.packs = {{0.25, 1.0}, false};
  blend.stock_kg = 0.4;
  ASSERT_TRUE(recorder.seedLot(blend, morning));
  ASSERT_TRUE(recorder.feed({"Starter", 12, 6, 9, 20, 25, 0.5, {{25}, false}, 40}, morning));
  ASSERT_TRUE(recorder.fill({"Medium sand", 1.55, 0.1, {{}, true}, {}}, std::nullopt));
  ASSERT_TRUE(recorder.turf({"Sand grown", "creeping bentgrass", 20, 0.04, 3.5}, morning));
  const CourseState state = device.state();
  const turf::SeedLot& lot = state.seedLots.at(0);
  EXPECT_EQ(lot.name, blend.name);
  ASSERT_EQ(lot.parts.size(), 2U);
  EXPECT_EQ(lot.parts[1].species, "chewings fescue");
  EXPECT_EQ(lot.parts[1].share, 0.25);
  EXPECT_TRUE(lot.sharesByNumber);
  EXPECT_EQ(lot.germination, 0.85);
  EXPECT_EQ(lot.tested, blend.tested);
  EXPECT_EQ(lot.seedsPerGramLow, 1000);
  EXPECT_EQ(lot.seedsPerGramHigh, 1200);
  EXPECT_EQ(lot.packs.sizes_kg, blend.packs.sizes_kg);
  EXPECT_EQ(lot.stock_kg, 0.4);
  const turf::Feed& feed = state.feeds.at(0);
  EXPECT_EQ(feed.potash_percent, 9);
  EXPECT_EQ(feed.labelRate_g_m2, 20);
  EXPECT_EQ(feed.ceiling_g_m2, 25);
  EXPECT_EQ(feed.solubleNitrogenShare, 0.5);
  EXPECT_EQ(feed.stock_kg, 40);
  EXPECT_EQ(state.fills.at(0).settlesBy, 0.1);
  EXPECT_TRUE(state.fills.at(0).packs.bulk);
  EXPECT_FALSE(state.fills.at(0).stock_kg);
  EXPECT_EQ(state.turfs.at(0).thickness_mm, 20);
  EXPECT_EQ(state.turfs.at(0).piece_m2, 0.04);
  EXPECT_EQ(state.turfs.at(0).stock_m2, 3.5);
  ASSERT_EQ(state.stockCounts.size(), 3U) << "nobody counted the sand";
  for (const StockCount& count : state.stockCounts) EXPECT_EQ(count.counted, morning);
}

TEST(Recorder, AnUntouchedSizeIsNotMeasured) {
  Device device(1, nullptr);
  Sighting sighting;
  sighting.patch = "P1";
  sighting.seen = at("2027-04-10T06:40:00Z");
  sighting.point = geo::Position{52, 5};
  const auto record = device.recorder().sighting(sighting);
  ASSERT_TRUE(record);
  EXPECT_EQ(record->content.body,
            R"({"geometry":{"type":"Point","coordinates":[5,52]},"properties":{"patch":"P1",)"
            R"("kind":"bare","seen":"2027-04-10T06:40:00Z"}})");
  EXPECT_FALSE(areaOf(device.state().patches.at(0).sightings.at(0)));
}

TEST(Recorder, WritesEveryActionSoThatItReadsBack) {
  Device device(1, nullptr);
  Recorder recorder = device.recorder("Bo");
  Sighting sighting = fullSighting();
  ASSERT_TRUE(recorder.sighting(sighting));
  sighting.patch = "P2";
  ASSERT_TRUE(recorder.sighting(sighting));
  const std::string patch = fullSighting().patch;
  const auto noon = at("2027-04-11T12:00:00Z");
  EXPECT_TRUE(recorder.closed({{}, patch, noon}));
  Repair repair;
  repair.patch = patch;
  repair.done = noon;
  repair.rakedBack = true;
  repair.seedLot = "Bent";
  repair.seed_g = 14.5;
  repair.fill = "Sand";
  repair.fill_l = 31.0;
  EXPECT_TRUE(recorder.repair(repair));
  EXPECT_TRUE(recorder.cameUp({{}, patch, noon, 0.5}));
  EXPECT_TRUE(recorder.choice({{}, patch, "fill and sow", "late"}));
  EXPECT_TRUE(recorder.round({{}, "North", noon, noon, {{52, 5}}}));
  EXPECT_TRUE(recorder.join({{}, patch, "P2"}));
  EXPECT_TRUE(recorder.water("rain", {{}, noon, noon, 12.5, 30.0}));
  EXPECT_TRUE(recorder.temperature({{}, std::chrono::floor<std::chrono::days>(noon), 3, 12}));
  const CourseState state = device.state();
  EXPECT_TRUE(state.unusable.empty());
  ASSERT_EQ(state.patches.size(), 1u);
  const Patch& read = state.patches[0];
  EXPECT_EQ(read.closed.at(0).seen, noon);
  EXPECT_EQ(read.closed.at(0).source.author, "Bo");
  EXPECT_EQ(read.repairs.at(0).seed_g, 14.5);
  EXPECT_EQ(read.repairs.at(0).fill, "Sand");
  EXPECT_TRUE(read.repairs.at(0).rakedBack);
  EXPECT_EQ(read.cameUp.at(0).share, 0.5);
  EXPECT_EQ(read.choices.at(0).why, "late");
  EXPECT_EQ(state.rounds.at(0).ended, noon);
  EXPECT_EQ(state.rain.at(0).peak_mm_h, 30.0);
  EXPECT_EQ(state.temperatures.at(0).max_c, 12.0);
}

TEST(Recorder, RefusesInWordsAndWritesNothing) {
  Device device(1, nullptr);
  Sighting sighting = fullSighting();
  sighting.bareShare = 1.5;
  const auto count = device.journal().recordCount();
  const auto refused = device.recorder().sighting(sighting);
  ASSERT_FALSE(refused);
  EXPECT_NE(refused.error().text().find("bare_share: more than 1"), std::string::npos);
  EXPECT_EQ(device.journal().recordCount(), count);
}

TEST(Recorder, EnvelopeSaysWhoWhenAndWhatWasKnownOfTheClock) {
  Device device(1, nullptr);
  const journal::PersonId ansa{5};
  Recorder recorder(device.journal(), Pen{ansa, "Ansa", ""}, [] { return 123'456; });
  recorder.clockIs(journal::ClockSource::shed, -1500);
  const auto record = recorder.closed({{}, "P", at("2027-04-11T12:00:00Z")});
  ASSERT_TRUE(record);
  EXPECT_EQ(record->content.author, ansa);
  EXPECT_EQ(record->content.wall_ms, 123'456);
  EXPECT_EQ(record->content.clockSource, journal::ClockSource::shed);
  EXPECT_EQ(record->content.clockOffset_ms, -1500);
}

TEST(Recorder, ANameStandsInItsPersonsOwnRecordOnceAndInNoOther) {
  Device device(1, nullptr);
  const Pen pen{journal::PersonId{5}, "Ansa", "Tablet a"};
  const auto write = [&](const Pen& with) {
    Recorder recorder(device.journal(), with, [] { return 123'456; });
    return recorder.closed({{}, "P", at("2027-04-11T12:00:00Z")}).value();
  };
  EXPECT_EQ(write(pen).content.body.find("Ansa"), std::string::npos);
  write(pen);
  std::vector<journal::Record> persons;
  EXPECT_TRUE(device.journal().forEach([&](const journal::Record& record) {
    if (record.content.type == "person") persons.push_back(record);
    return true;
  }));
  ASSERT_EQ(persons.size(), 1u);
  // Who had a name erased does not get it back by writing on.
  ASSERT_TRUE(device.journal().erase(persons.front().digest));
  const auto count = device.journal().recordCount();
  write(pen);
  EXPECT_EQ(device.journal().recordCount(), count + 1);
}

TEST(Recorder, KeepsTheFixesOfAWalkAndThinsOnlyWhatDoesNotFit_Q2) {
  Device device(1, nullptr);
  Sighting sighting = fullSighting();
  for (const std::size_t count : {60u, 20'000u}) {
    std::vector<geo::Fix> fixes;
    for (std::size_t i = 0; i < count; ++i) {
      geo::Fix fix;
      fix.time = sighting.seen + std::chrono::seconds(i);
      fix.position = {52.0 + 1e-7 * static_cast<double>(i), 5.123456789};
      if (i % 2 == 0) fix.accuracy_m = 2.5;
      fixes.push_back(fix);
    }
    const auto record = device.recorder().walkedSighting(sighting, fixes);
    ASSERT_TRUE(record) << record.error().text();
    JsonReader reader;
    const auto& kept =
        (*reader.read(record->content.body))->at("properties").at("fixes").as_object();
    const std::size_t every = kept.at("every").to_number<std::size_t>();
    EXPECT_EQ(every == 1, count == 60u);
    EXPECT_EQ(kept.at("list").as_array().size(), (count + every - 1) / every);
  }
}

TEST(NewPatchId, IsSixteenRandomBytesInHexadecimal) {
  const std::string id = newPatchId([](std::uint8_t* bytes, std::size_t size) {
    for (std::size_t i = 0; i < size; ++i) bytes[i] = static_cast<std::uint8_t>(i + 10);
  });
  EXPECT_EQ(id, "0a0b0c0d0e0f10111213141516171819");
}

CourseState stateOf(std::initializer_list<const char*> greens,
                    std::initializer_list<const char*> labels) {
  CourseState state;
  for (const char* name : greens) state.greens.emplace_back().name = name;
  for (const char* label : labels) state.patches.emplace_back().label = label;
  return state;
}

TEST(NextLabel, TakesTheNextFreeNumberBehindTheGreensFirstLetters) {
  EXPECT_EQ(nextLabel(stateOf({"North", "Hollow"}, {}), "North", ""), "N1");
  EXPECT_EQ(nextLabel(stateOf({"North", "Hollow"}, {"N7", "N2b", "H9"}), "North", ""), "N8");
  EXPECT_EQ(nextLabel(stateOf({"North", "Hollow"}, {"H11a"}), "Hollow", "b"), "H12b");
}

TEST(NextLabel, TakesAsManyLettersAsTellGreensApart) {
  const CourseState state = stateOf({"Home", "Hollow", "Ö-Süd", "Ö-West"}, {"Hom3"});
  EXPECT_EQ(nextLabel(state, "Home", ""), "Hom4");
  EXPECT_EQ(nextLabel(state, "Hollow", ""), "Hol1");
  EXPECT_EQ(nextLabel(state, "Ö-Süd", ""), "Ö-S1");
}

TEST(NextLabel, KeepsNumbersOfGreensAndPatchesApart) {
  const CourseState state = stateOf({"1", "12", "North", "North 2"}, {"1-4", "12-9"});
  EXPECT_EQ(nextLabel(state, "1", ""), "1-5");
  EXPECT_EQ(nextLabel(state, "12", ""), "12-10");
  EXPECT_EQ(nextLabel(state, "North", ""), "North1");
}

}  // namespace
}  // namespace swardwalk::course
