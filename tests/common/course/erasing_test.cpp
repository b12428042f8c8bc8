#include "common/course/erasing.h"

#include <SQLiteCpp/Database.h>
#include <gtest/gtest.h>

#include <fstream>
#include <iterator>

#include "tests/common/course/devices.h"

namespace swardwalk::course {
namespace {

constexpr std::int64_t now_ms = 1'800'000'000'000;

constexpr std::string_view point = R"({"type":"Point","coordinates":[8,50]})";

std::string sightingBy(const std::string& author, const std::string& patch = "P1") {
  return R"({"patch":")" + patch +
         R"(","kind":"bare","seen":"2027-04-10T06:00:00Z","area_m2":1,"author":")" + author +
         R"("})";
}

std::string choiceBy(const std::string& author, const std::string& choice) {
  return R"({"patch":"P1","choice":")" + choice + R"(","author":")" + author + R"("})";
}

bool namesSomebody(Device& device, const std::string& name) {
  bool found = false;
  EXPECT_TRUE(device.journal().forEach([&](const journal::Record& record) {
    found = found || record.content.body.find(name) != std::string::npos;
    return true;
  }));
  return found;
}

void expectWhole(Device& device) {
  const auto report = device.journal().check();
  ASSERT_TRUE(report);
  EXPECT_TRUE(report->whole);
  EXPECT_TRUE(report->stateMatches);
}

TEST(Erase, ARecordIsNamedByItsDigestOrByItsDeviceAndNumber) {
  Device device(1, nullptr);
  const auto first = device.write("sighting", sightingBy("Ansa", "P1"), point);
  const auto second = device.write("sighting", sightingBy("Ansa", "P2"), point);
  const auto byDigest = erase(device.journal(), journal::hex(first.digest).substr(0, 8), now_ms);
  ASSERT_TRUE(byDigest) << byDigest.error().text();
  EXPECT_EQ(byDigest->records, 1u);
  ASSERT_EQ(device.state().patches.size(), 1u);
  EXPECT_EQ(device.state().patches[0].id, "P2");
  const std::string origin = journal::hex(second.origin).substr(0, 10);
  ASSERT_TRUE(erase(device.journal(), origin + ":" + std::to_string(second.number), now_ms));
  EXPECT_TRUE(device.state().patches.empty());
  EXPECT_EQ(erase(device.journal(), origin + ":" + std::to_string(second.number), now_ms)->records,
            0u);
  expectWhole(device);
}

TEST(Erase, WhatNamesNothingOrTooMuchIsRefused) {
  Device device(1, nullptr);
  const auto record = device.write("sighting", sightingBy("Ansa"), point);
  const auto count = device.journal().recordCount();
  EXPECT_EQ(erase(device.journal(), "Nobody", now_ms).error().kind, FailureKind::notFound);
  EXPECT_EQ(erase(device.journal(), journal::hex(record.digest).substr(0, 7), now_ms).error().kind,
            FailureKind::notFound);
  EXPECT_EQ(
      erase(device.journal(), journal::hex(record.origin).substr(0, 8) + ":1", now_ms).error().kind,
      FailureKind::refused);
  EXPECT_EQ(erase(device.journal(), journal::hex(record.origin) + ":2x", now_ms).error().kind,
            FailureKind::notFound);
  EXPECT_EQ(device.journal().recordCount(), count);
}

TEST(Erase, APersonsNameGoesFromEveryBodyAndTheWorkStays) {
  Device shed(1, nullptr);
  Device tablet(2, &shed);
  const journal::PersonId id{7};
  Recorder recorder(tablet.journal(), Pen{id, "Tilde", ""}, [] { return now_ms; });
  ASSERT_TRUE(recorder.closed({{}, "P2", *measure::parseInstant("2027-04-11T12:00:00Z")}));
  tablet.write("sighting", sightingBy("Tilde"), point);
  tablet.write("sighting", sightingBy("Bo", "P3"), point);
  shed.takeAll(tablet);
  const auto erased = erase(shed.journal(), journal::hex(id), now_ms);
  ASSERT_TRUE(erased) << erased.error().text();
  EXPECT_EQ(erased->records, 2u);  // the person's own record, and the sighting that says it
  EXPECT_EQ(erased->rewritten, 1u);
  tablet.takeAll(shed);
  for (Device* device : {&shed, &tablet}) {
    EXPECT_FALSE(namesSomebody(*device, "Tilde"));
    EXPECT_TRUE(namesSomebody(*device, "Bo"));
    const CourseState state = device->state();
    ASSERT_NE(state.patch("P1"), nullptr);
    EXPECT_EQ(state.patch("P1")->sightings.size(), 1u);
    EXPECT_EQ(state.patch("P1")->sightings[0].source.author, "");
    EXPECT_EQ(device->stateText(), shed.stateText());
    expectWhole(*device);
  }
  EXPECT_EQ(erase(shed.journal(), journal::hex(id), now_ms)->records, 0u);
}

TEST(Erase, ANameAloneIsEnough) {
  Device device(1, nullptr);
  device.write("sighting", sightingBy("Tilde"), point);
  ASSERT_EQ(erase(device.journal(), "Tilde", now_ms)->rewritten, 1u);
  EXPECT_FALSE(namesSomebody(device, "Tilde"));
  EXPECT_EQ(device.state().patches.size(), 1u);
}

TEST(Erase, WhoIsToDoTheWorkIsANameToo) {
  Device device(1, nullptr);
  device.write("sighting", sightingBy("Bo"), point);
  device.write("choice", R"({"patch":"P1","choice":"turf","author":"Bo","who":"Tilde"})");
  ASSERT_EQ(erase(device.journal(), "Tilde", now_ms)->rewritten, 1u);
  EXPECT_FALSE(namesSomebody(device, "Tilde"));
  const CourseState state = device.state();
  ASSERT_EQ(state.patches[0].choices.size(), 1u);
  EXPECT_EQ(state.patches[0].choices[0].source.author, "Bo") << "another's name stays";
}

TEST(Erase, NothingOfItIsLeftInTheFileOrItsLogWhileTheJournalIsOpen) {
  Device device(1, nullptr);
  device.write("sighting", sightingBy("Tilde"), point);
  const std::string file = device.journal().database().getFilename();
  const auto bytes = [&] {
    std::string all;
    for (const char* end : {"", "-wal"}) {
      std::ifstream stream(file + end, std::ios::binary);
      all.append(std::istreambuf_iterator<char>(stream), {});
    }
    return all;
  };
  ASSERT_NE(bytes().find("Tilde"), std::string::npos);
  ASSERT_TRUE(erase(device.journal(), "Tilde", now_ms));
  EXPECT_EQ(bytes().find("Tilde"), std::string::npos);
}

TEST(Erase, WhatWasDecidedOtherwiseSinceDoesNotComeBack) {
  Device device(1, nullptr);
  device.write("sighting", sightingBy("Bo"), point);
  device.write("choice", choiceBy("Tilde", "turf"));
  device.write("choice", choiceBy("Bo", "overseed"));
  const auto withdrawn = device.write("sighting", sightingBy("Tilde", "P9"), point);
  ASSERT_TRUE(device.recorder("Tilde").withdraw(withdrawn.digest, "a slip"));
  EXPECT_EQ(erase(device.journal(), "Tilde", now_ms)->rewritten, 0u);
  const CourseState state = device.state();
  ASSERT_EQ(state.patches.size(), 1u);  // the withdrawal still holds
  EXPECT_EQ(state.patches[0].choices.size(), 1u);
  EXPECT_FALSE(namesSomebody(device, "Tilde"));
}

}  // namespace
}  // namespace swardwalk::course
