#include "common/course/course_fold.h"

#include <SQLiteCpp/SQLiteCpp.h>
#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <map>
#include <numeric>

#include "tests/common/course/devices.h"

namespace swardwalk::course {
namespace {

using testing::Test;

std::string sighting(std::string_view patch, std::string_view seen = "2027-04-10T06:00:00Z") {
  return fmt::format(R"({{"patch":"{}","kind":"bare","seen":"{}"}})", patch, seen);
}

/// Every record of a journal with its local row, except the journal's own first ones.
struct Folded {
  std::vector<journal::Record> records;
  std::vector<journal::FoldInput> inputs;
};

Folded foldedOf(Device& device) {
  std::map<std::string, std::int64_t> rows;
  SQLite::Statement row(device.journal().database(), "SELECT id, digest FROM records");
  while (row.executeStep()) {
    const SQLite::Column digest = row.getColumn(1);
    rows[journal::hex(static_cast<const std::uint8_t*>(digest.getBlob()), 32)] =
        row.getColumn(0).getInt64();
  }
  Folded folded;
  EXPECT_TRUE(device.journal().forEach([&](const journal::Record& record) {
    if (record.content.type != "origin") folded.records.push_back(record);
    return true;
  }));
  for (const journal::Record& record : folded.records)
    folded.inputs.push_back({rows.at(journal::hex(record.digest)), &record});
  return folded;
}

/// A course in which two crews mark, join, correct, withdraw and undo.
class Story : public Test {
 protected:
  Story() {
    shed.write("green", R"({"name":"North"})", square(0, 0, 20));
    tabletA.takeAll(shed);
    tabletB.takeAll(shed);
    const auto seen = tabletA.write("sighting", sighting("A1"), point(5, 5));
    tabletA.write("sighting", sighting("A1", "2027-04-12T06:00:00Z"), point(5, 5));
    tabletB.takeAll(tabletA);
    tabletB.write("sighting", sighting("B1"), point(5.2, 5));
    const auto join = tabletB.write("join", R"({"patch":"B1","same_as":"A1"})");
    shed.takeAll(tabletB);
    // A correction, a withdrawal, and one of each that is taken back.
    shed.write("green", R"({"name":"North","stage":"mature"})", square(0, 0, 22));
    shed.recorder().withdraw(seen.digest, "wrong place").value();
    const auto undone = shed.recorder().withdraw(join.digest, "not the same").value();
    tabletA.takeAll(shed);
    tabletA.recorder().withdraw(undone.digest, "the same after all").value();
    tabletA.takeAll(tabletB);
    shed.takeAll(tabletA);
    shed.takeAll(tabletB);
  }

  Device shed{1, nullptr};
  Device tabletA{2, &shed};
  Device tabletB{3, &shed};
};

TEST_F(Story, EveryOrderOfFoldingGivesOneState_J4) {
  const std::string expected = shed.stateText();
  Folded folded = foldedOf(shed);
  ASSERT_EQ(folded.inputs.size(), 9u);
  CourseFold fold;
  SQLite::Database& database = shed.journal().database();
  // 720 orders of the last six behind and before the others, in groups of every size.
  std::vector<std::size_t> order(folded.inputs.size());
  std::iota(order.begin(), order.end(), 0);
  std::size_t tried = 0;
  do {
    fold.makeTables(database);
    std::vector<journal::FoldInput> inputs;
    for (const std::size_t i : order) inputs.push_back(folded.inputs[i]);
    if (tried % 2 == 1) std::rotate(inputs.begin(), inputs.begin() + 3, inputs.end());
    const std::size_t group = 1 + tried % inputs.size();
    for (std::size_t i = 0; i < inputs.size(); i += group)
      fold.fold(database, std::span(inputs).subspan(i, std::min(group, inputs.size() - i)));
    ASSERT_EQ(fold.stateText(database), expected);
    ++tried;
  } while (std::next_permutation(order.begin() + 3, order.end()));
  EXPECT_EQ(tried, 720u);
}

TEST_F(Story, EveryOrderOfArrivalGivesOneState_J4) {
  const std::string expected = shed.stateText();
  const std::vector<journal::Run> runs = shortRuns(shed.journal());
  ASSERT_GE(runs.size(), 9u);
  // Whose runs come first, in all orders; a run before its origin's earlier ones is
  // refused as a gap and comes again, as between two devices.
  std::vector<std::size_t> order(runs.size());
  std::iota(order.begin(), order.end(), 0);
  for (std::size_t step = 1; step <= 24; ++step) {
    for (std::size_t i = order.size(); i > 1; --i)
      std::swap(order[i - 1], order[(step * 7919 + i * 104729) % i]);
    Device device(9, &shed);
    std::size_t taken = 0;
    while (taken < runs.size()) {
      taken = 0;
      for (const std::size_t i : order) {
        const auto outcome =
            device.journal().take({&runs[i], 1}, journal::Vouching::accepted).value();
        taken += outcome.front().status == journal::TakeStatus::gap ? 0 : 1;
      }
    }
    ASSERT_EQ(device.stateText(), expected);
  }
}

TEST_F(Story, RebuildingGivesWhatFoldingStepByStepGave_J4) {
  const std::string expected = shed.stateText();
  const auto check = shed.journal().check().value();
  EXPECT_TRUE(check.stateMatches);
  shed.reopen(CourseFold(recordTypes(), 99));
  EXPECT_EQ(shed.stateText(), expected);
}

TEST_F(Story, TheStateSaysWhatStands) {
  const CourseState state = shed.state();
  ASSERT_EQ(state.greens.size(), 1u);
  EXPECT_EQ(state.greens[0].stage, Stage::mature);
  ASSERT_EQ(state.patches.size(), 1u) << "the withdrawal of the join was withdrawn";
  EXPECT_EQ(state.patches[0].id, "A1");
  EXPECT_EQ(state.patches[0].joined, std::vector<std::string>{"B1"});
  EXPECT_EQ(state.patches[0].sightings.size(), 2u) << "one of three was withdrawn";
}

TEST(CourseFold, WithdrawalsOfWithdrawalsAlternate) {
  Device device(1, nullptr);
  auto record = device.write("sighting", sighting("P1"), point(1, 1));
  for (int depth = 0; depth < 6; ++depth) {
    EXPECT_EQ(device.state().patches.size(), depth % 2 == 0 ? 1u : 0u) << depth;
    record = device.recorder().withdraw(record.digest, "").value();
  }
}

TEST(CourseFold, AWithdrawalMayArriveBeforeWhatItNames) {
  Device shed(1, nullptr);
  Device tablet(2, &shed);
  const auto seen = shed.write("sighting", sighting("P1"), point(1, 1));
  tablet.takeAll(shed);
  tablet.recorder().withdraw(seen.digest, "").value();
  Device third(3, &shed);
  third.takeAll(tablet);
  EXPECT_TRUE(third.state().patches.empty());
  Device fourth(4, &shed);
  for (auto runs = shortRuns(tablet.journal()); const journal::Run& run : runs) {
    if (run.origin == tablet.journal().origin())
      fourth.journal().take({&run, 1}, journal::Vouching::accepted).value();
  }
  fourth.takeAll(shed);
  EXPECT_TRUE(fourth.state().patches.empty());
  EXPECT_EQ(fourth.stateText(), third.stateText());
}

/// The registry of a build that knows no `mowing` and only `came_up` of version 0.
std::vector<RecordType> olderTypes() {
  std::vector<RecordType> types = recordTypes();
  std::erase_if(types, [](const RecordType& type) { return type.type == "mowing"; });
  for (RecordType& type : types) {
    if (type.type == "came_up") type.version = 0;
  }
  return types;
}

TEST(CourseFold, WhatANewerVersionMadeIsKeptCountedAndUnderstoodLater_J5) {
  const std::vector<RecordType> older = olderTypes();
  Device device(1, nullptr, CourseFold(older, 77));
  device.write("green", R"({"name":"North"})", square(0, 0, 20));
  device.write("sighting", sighting("P1"), point(1, 1));
  device.write("mowing", R"({"green":"North","done":"2027-04-12T06:00:00Z"})");
  device.write("mowing", R"({"green":"North","done":"2027-04-13T06:00:00Z"})");
  device.write("came_up", R"({"patch":"P1","seen":"2027-04-12T06:00:00Z"})");
  const CourseState before = device.state();
  EXPECT_TRUE(before.incomplete);
  ASSERT_EQ(before.madeByNewer.size(), 2u);
  EXPECT_EQ(before.madeByNewer[1].type, "mowing");
  EXPECT_EQ(before.madeByNewer[1].records, 2u);
  EXPECT_TRUE(before.mowings.empty());
  EXPECT_TRUE(before.unusable.empty());

  device.reopen(CourseFold());
  const CourseState after = device.state();
  EXPECT_FALSE(after.incomplete);
  EXPECT_EQ(after.mowings.size(), 2u);
  EXPECT_EQ(after.patches.at(0).cameUp.size(), 1u);
}

TEST(CourseFold, AWithdrawnRecordOfANewerVersionIsNotMissed) {
  Device device(1, nullptr);
  const auto strange = device.writeRaw("drone_flight", R"({"properties":{}})");
  EXPECT_TRUE(device.state().incomplete);
  device.recorder().withdraw(strange.digest, "a trial").value();
  EXPECT_FALSE(device.state().incomplete);
}

TEST(CourseFold, WhatMakesNoSenseIsKeptWithItsReason_J6) {
  Device device(1, nullptr);
  device.write("sighting", sighting("P1"), point(1, 1));
  device.writeRaw("sighting", "not json");
  device.writeRaw("sighting", "[1]");
  device.writeRaw("sighting", R"({"geometry":null,"properties":{"patch":"P1"}})");
  device.writeRaw("rain", R"({"properties":{"on":"2027-04-09","mm":-3}})");
  device.writeRaw("withdraw", R"({"properties":{"record":")" + std::string(64, 'a') + R"("}})", 1,
                  std::string(64, 'b'));
  const CourseState state = device.state();
  ASSERT_EQ(state.unusable.size(), 5u);
  EXPECT_NE(state.unusable[0].reason.find("not JSON"), std::string::npos);
  EXPECT_EQ(state.unusable[1].reason, "its body is not a JSON object");
  EXPECT_EQ(state.unusable[2].reason, "kind: missing; give it");
  EXPECT_NE(state.unusable[3].reason.find("mm: less than 0"), std::string::npos);
  EXPECT_EQ(state.unusable[3].type, "rain");
  EXPECT_NE(state.unusable[4].reason.find("name different things"), std::string::npos);
  EXPECT_TRUE(state.rain.empty());
  EXPECT_EQ(state.patches.size(), 1u);
  EXPECT_FALSE(state.incomplete);
  EXPECT_EQ(device.journal().recordCount(), 7u);
}

TEST(CourseFold, WaitsForAnAcceptedOriginAndThenFoldsWhatWaited_X5) {
  Device shed(1, nullptr);
  Device stranger(2, &shed);
  stranger.write("sighting", sighting("P1"), point(1, 1));
  for (const journal::Run& run : shortRuns(stranger.journal()))
    shed.journal().take({&run, 1}, journal::Vouching::waiting).value();
  EXPECT_TRUE(shed.state().patches.empty());
  shed.recorder().accept(stranger.journal().origin()).value();
  EXPECT_EQ(shed.state().patches.size(), 1u);
}

TEST(CourseFold, ErasingTakesWhatABodySaidAndLeavesWithdrawalsStanding) {
  Device device(1, nullptr);
  const auto first = device.write("sighting", sighting("P1"), point(1, 1));
  const auto second = device.write("sighting", sighting("P2"), point(1, 1));
  const auto bad = device.writeRaw("rain", R"({"properties":{}})");
  const auto gone = device.recorder().withdraw(first.digest, "Ansa was wrong").value();
  ASSERT_TRUE(device.journal().erase(second.digest));
  ASSERT_TRUE(device.journal().erase(bad.digest));
  ASSERT_TRUE(device.journal().erase(gone.digest));
  const CourseState state = device.state();
  EXPECT_TRUE(state.patches.empty());
  EXPECT_TRUE(state.unusable.empty());
  const std::string text = device.stateText();
  device.reopen(CourseFold(recordTypes(), 77));
  EXPECT_EQ(device.stateText(), text);
}

TEST(CourseFold, AWishToEraseTravelsWhicheverComesFirst_J4) {
  Device shed(1, nullptr);
  Device tablet(2, &shed);
  const auto looked = tablet.write("sighting", sighting("P1"), point(1, 1));
  shed.takeAll(tablet);
  Device keeper(4, &shed);  // still has the body
  keeper.takeAll(tablet);
  shed.recorder().erase(looked.digest).value();
  EXPECT_TRUE(shed.state().patches.empty());
  EXPECT_NE(shed.stateText().find("erased"), std::string::npos);

  tablet.takeAll(shed);
  Device later(3, &shed);  // gets the wish before the record
  for (const journal::Run& run : shortRuns(shed.journal()))
    if (run.origin == shed.journal().origin())
      later.journal().take({&run, 1}, journal::Vouching::accepted).value();
  for (Device* device : {&tablet, &later}) {
    device->takeAll(keeper);  // who knows the wish takes no body
    device->takeAll(shed);
    EXPECT_EQ(device->journal().vector(), shed.journal().vector());
    EXPECT_EQ(device->stateText(), shed.stateText());
    EXPECT_TRUE(device->journal().check()->whole);
    EXPECT_TRUE(device->journal().check()->stateMatches);
    EXPECT_TRUE(device->journal().forEach([&](const journal::Record& record) {
      EXPECT_EQ(record.erased, record.digest == looked.digest);
      return true;
    }));
  }
}

TEST(CourseFold, AStrangersWishErasesNothingUntilItIsAccepted_X5) {
  Device shed(1, nullptr);
  Device stranger(2, &shed);
  const auto record = shed.write("sighting", sighting("P1"), point(1, 1));
  stranger.recorder().erase(record.digest).value();
  for (const journal::Run& run : shortRuns(stranger.journal()))
    shed.journal().take({&run, 1}, journal::Vouching::waiting).value();
  EXPECT_EQ(shed.state().patches.size(), 1u);
  EXPECT_TRUE(shed.journal().accept(stranger.journal().origin()));
  EXPECT_TRUE(shed.state().patches.empty());
}

}  // namespace
}  // namespace swardwalk::course
