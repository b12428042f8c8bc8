#include <gmock/gmock.h>

#include <algorithm>

#include "tests/common/exchange/party.h"

// X3: two branches under one origin are found at the next meeting, and both are kept.
namespace swardwalk::exchange::testing {
namespace {

using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::Not;

std::size_t branchesOf(Party& party, const journal::OriginKey& origin) {
  const auto heads = party.journal().heads();
  return static_cast<std::size_t>(std::count_if(
      heads.begin(), heads.end(), [&](const auto& head) { return head.origin == origin; }));
}

struct Scene {
  Folder folder;
  Party shed{folder, "shed", 1};
  Party tablet{folder, "tablet", 2};

  explicit Scene(int common = 5) {
    shed.found();
    exchanged(tablet, shed);
    tablet.write(common, "common", true);
    exchanged(tablet, shed);
  }

  void expectClean(Party& party) {
    expectSame(party, shed);
    expectWhole(party);
    expectWhole(shed);
    const Meeting next = exchanged(party, shed);
    EXPECT_EQ(next.roundTrips, 1u);
    EXPECT_EQ(next.tally.sent + next.tally.received, 0u);
    EXPECT_FALSE(next.tally.ownOriginForked);
    EXPECT_THAT(next.tally.alarms, IsEmpty());
  }
};

TEST(Fork, ATabletRestoredFromABackupGetsItsRecordsBackAndWritesOnUnderANewKey) {
  Scene scene;
  Party restored = scene.tablet.copy("backup");
  scene.tablet.write(4, "after the backup");
  exchanged(scene.tablet, scene.shed);
  const journal::OriginKey old = restored.journal().origin();

  const Meeting meeting = exchanged(restored, scene.shed);
  EXPECT_EQ(meeting.tally.received, 4u);
  EXPECT_TRUE(meeting.tally.ownOriginForked);
  ASSERT_EQ(meeting.tally.alarms.size(), 1u);
  EXPECT_THAT(meeting.tally.alarms[0], HasSubstr("restored"));
  restored.renew(20);
  restored.write(2);
  exchanged(restored, scene.shed);
  EXPECT_EQ(branchesOf(scene.shed, old), 1u);
  scene.expectClean(restored);
}

TEST(Fork, ARestoredTabletThatWroteOnKeepsBothBranches) {
  Scene scene;
  Party restored = scene.tablet.copy("backup");
  scene.tablet.write(4, "lost with the old tablet");
  exchanged(scene.tablet, scene.shed);
  restored.write(2, "after the restore");
  const journal::OriginKey old = restored.journal().origin();

  const Meeting meeting = exchanged(restored, scene.shed);
  EXPECT_EQ(meeting.tally.received, 4u);
  EXPECT_EQ(meeting.tally.sent, 2u);
  EXPECT_TRUE(meeting.tally.ownOriginForked);
  EXPECT_EQ(branchesOf(restored, old), 2u);
  EXPECT_EQ(branchesOf(scene.shed, old), 2u);
  restored.renew(20);
  restored.write(1);
  exchanged(restored, scene.shed);
  scene.expectClean(restored);
  EXPECT_THAT(scene.shed.state(), HasSubstr("tablet 6"));
  EXPECT_THAT(scene.shed.state(), HasSubstr("backup 7"));
}

TEST(Fork, ACopiedFileIsFoundByBothCopies) {
  Scene scene;
  Party twin = scene.tablet.copy("twin");
  scene.tablet.write(3, "first");
  twin.write(3, "second");
  exchanged(scene.tablet, scene.shed);
  const Meeting second = exchanged(twin, scene.shed);
  EXPECT_TRUE(second.tally.ownOriginForked);
  twin.renew(20);
  const Meeting first = exchanged(scene.tablet, scene.shed);
  EXPECT_TRUE(first.tally.ownOriginForked);
  scene.tablet.renew(21);
  twin.write(1);
  scene.tablet.write(1);
  exchanged(twin, scene.shed);
  exchanged(scene.tablet, scene.shed);
  exchanged(twin, scene.shed);
  scene.expectClean(twin);
  scene.expectClean(scene.tablet);
}

TEST(Fork, IsSaidAgainUntilTheOriginIsRenewed) {
  // The device may die between the exchange and the renewal.
  Scene scene;
  Party restored = scene.tablet.copy("backup");
  scene.tablet.write(1);
  exchanged(scene.tablet, scene.shed);
  EXPECT_TRUE(exchanged(restored, scene.shed).tally.ownOriginForked);
  restored.close();
  restored.open();
  EXPECT_TRUE(exchanged(restored, scene.shed).tally.ownOriginForked);
  restored.renew(20);
  EXPECT_FALSE(exchanged(restored, scene.shed).tally.ownOriginForked);
}

TEST(Fork, AServerRestoredFromABackupIsToldByItsTablets) {
  Scene scene;
  Party restored = scene.shed.copy("shed-backup");
  scene.shed.write(3, "written after the backup");
  exchanged(scene.tablet, scene.shed);
  scene.tablet.write(2);
  exchanged(scene.tablet, scene.shed);
  const Meeting meeting = exchanged(scene.tablet, restored);
  EXPECT_TRUE(meeting.answererForked);
  expectSame(scene.tablet, restored);
  EXPECT_EQ(meeting.tally.sent, 5u + 0u);
}

TEST(Fork, ATabletThatRemembersARestoredServersOldHeadsIsSetRight) {
  Scene scene;
  scene.shed.close();
  std::filesystem::copy_file(scene.folder / "shed.sqlite", scene.folder / "kept.sqlite");
  scene.shed.open();
  scene.tablet.write(2);
  exchanged(scene.tablet, scene.shed);
  scene.shed.close();
  std::filesystem::copy_file(scene.folder / "kept.sqlite", scene.folder / "shed.sqlite",
                             std::filesystem::copy_options::overwrite_existing);
  scene.shed.open();
  scene.tablet.write(2);
  const Meeting meeting = exchanged(scene.tablet, scene.shed);
  EXPECT_THAT(meeting.lines[1], HasSubstr("\"gap\""));
  EXPECT_EQ(meeting.roundTrips, 2u);
  EXPECT_EQ(meeting.tally.sent, 4u);
  EXPECT_THAT(meeting.tally.alarms, IsEmpty());
  scene.expectClean(scene.tablet);
}

TEST(Fork, ForgetfulSidesFindWhereLongBranchesPartWithoutSendingAllOfThem) {
  // No memory of each other: only heads, then a ladder, tell where the branches part.
  for (const auto& [mine, theirs] : {std::pair{3, 40}, std::pair{40, 3}, std::pair{20, 20}}) {
    SCOPED_TRACE(std::to_string(mine) + " against " + std::to_string(theirs));
    Scene scene(3000);
    Party twin = scene.tablet.copy("twin");
    scene.tablet.write(theirs, "theirs", true);
    twin.write(mine, "mine", true);
    exchanged(scene.tablet, scene.shed);
    Party stranger(scene.folder, "stranger", 9);  // has the twin's branch, met nobody else
    exchanged(stranger, twin);
    ASSERT_EQ(stranger.records(), 1u + 1 + 3000 + static_cast<std::size_t>(mine));
    const Meeting meeting = exchanged(stranger, scene.shed);
    expectSame(stranger, scene.shed);
    EXPECT_LE(meeting.roundTrips, 3u);
    // The ladder's steps double, so that it overshoots by at most the length of its branch.
    EXPECT_LE(meeting.tally.sent, static_cast<unsigned>(mine + theirs));
    std::size_t bytes = 0;
    for (const std::string& text : meeting.lines) bytes += text.size();
    EXPECT_LT(bytes, 60'000u);
    EXPECT_FALSE(meeting.tally.ownOriginForked);
  }
}

TEST(Fork, BranchesThatPartAtTheFirstRecordMeet) {
  Folder folder;
  Party shed(folder, "shed", 1), one(folder, "one", 2), two(folder, "two", 2);
  shed.found();
  exchanged(one, shed);
  exchanged(two, shed);
  one.write(3, "one");
  two.write(5, "two");
  exchanged(one, shed);
  const Meeting meeting = exchanged(two, shed);
  EXPECT_TRUE(meeting.tally.ownOriginForked);
  expectSame(two, shed);
  EXPECT_EQ(branchesOf(shed, two.journal().origin()), 2u);
}

TEST(Fork, ThreeBranchesOfOneOriginMeetEverywhere) {
  Scene scene;
  Party a = scene.tablet.copy("a");
  Party b = scene.tablet.copy("b");
  scene.tablet.write(2);
  a.write(5);
  b.write(1);
  const journal::OriginKey old = a.journal().origin();
  exchanged(a, scene.shed);
  a.renew(30);
  exchanged(b, scene.shed);
  b.renew(31);
  exchanged(scene.tablet, scene.shed);
  scene.tablet.renew(32);
  for (int round = 0; round < 2; ++round) {
    for (Party* party : {&a, &b, &scene.tablet}) exchanged(*party, scene.shed);
  }
  EXPECT_EQ(branchesOf(scene.shed, old), 3u);
  for (Party* party : {&a, &b, &scene.tablet}) scene.expectClean(*party);
  Party late(scene.folder, "late", 33);
  exchanged(late, scene.shed);
  scene.expectClean(late);
}

}  // namespace
}  // namespace swardwalk::exchange::testing
