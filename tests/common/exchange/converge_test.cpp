#include <gmock/gmock.h>

#include <random>

#include "tests/common/exchange/party.h"

namespace swardwalk::exchange::testing {
namespace {

TEST(Converge, TwoJournalsHoldTheSameAfterOneExchange) {
  Folder folder;
  Party shed(folder, "shed", 1), tablet(folder, "tablet", 2);
  shed.found();
  shed.write(3);
  exchanged(tablet, shed);
  tablet.write(4);
  shed.write(2);
  const Meeting meeting = exchanged(tablet, shed);
  expectSame(tablet, shed);
  expectWhole(tablet);
  expectWhole(shed);
  EXPECT_EQ(meeting.tally.sent, 5u);  // and the tablet's own first record
  EXPECT_EQ(meeting.tally.received, 2u);
  EXPECT_THAT(meeting.tally.alarms, ::testing::IsEmpty());
}

TEST(Converge, ThreeTabletsThroughTheShedHoldTheSame) {
  Folder folder;
  Party shed(folder, "shed", 1), a(folder, "a", 2), b(folder, "b", 3), c(folder, "c", 4);
  shed.found();
  Party* const tablets[] = {&a, &b, &c};
  for (Party* tablet : tablets) exchanged(*tablet, shed);
  int count = 1;
  for (Party* tablet : tablets) tablet->write(count++ * 5);
  for (Party* tablet : tablets) exchanged(*tablet, shed);
  for (Party* tablet : tablets) exchanged(*tablet, shed);
  for (Party* tablet : tablets) expectSame(*tablet, shed);
  expectWhole(shed);
  EXPECT_EQ(shed.records(), 1u + 3 + 30);
}

TEST(Converge, TabletsThatMeetEachOtherCarryTheOthersRecords) {
  Folder folder;
  Party shed(folder, "shed", 1), a(folder, "a", 2), b(folder, "b", 3);
  shed.found();
  exchanged(a, shed);
  exchanged(b, shed);
  a.write(6);
  exchanged(b, a);  // in the field, without the shed
  const Meeting meeting = exchanged(b, shed);
  EXPECT_EQ(meeting.tally.sent, 7u);
  EXPECT_EQ(meeting.tally.received, 0u);
  expectSame(b, shed);
  const Meeting late = exchanged(a, shed);
  EXPECT_EQ(late.tally.sent, 7u);  // the shed had them already, and says that it holds them
  expectSame(a, shed);
}

TEST(Converge, AnyOrderOfMeetingsEndsTheSame) {
  // J4 over exchanges: who meets whom, and when they write in between, must not matter.
  for (unsigned seed = 1; seed <= 6; ++seed) {
    Folder folder;
    std::mt19937 random(seed);
    std::vector<Party> parties;
    parties.reserve(4);
    for (std::uint8_t i = 0; i < 4; ++i) {
      parties.emplace_back(folder, "party" + std::to_string(i), static_cast<std::uint8_t>(i + 1));
    }
    parties[0].found();
    for (std::size_t i = 1; i < parties.size(); ++i) exchanged(parties[i], parties[0]);
    for (int step = 0; step < 30; ++step) {
      Party& one = parties[random() % parties.size()];
      Party& other = parties[random() % parties.size()];
      one.write(static_cast<int>(random() % 4));
      if (&one != &other) exchanged(one, other);
    }
    // Twice round brings everybody's records to everybody.
    for (int round = 0; round < 2; ++round) {
      for (std::size_t i = 1; i < parties.size(); ++i) exchanged(parties[i], parties[0]);
    }
    for (Party& party : parties) {
      SCOPED_TRACE("seed " + std::to_string(seed));
      expectSame(party, parties[0]);
    }
    expectWhole(parties[3]);
  }
}

TEST(Converge, ALargeJournalTravelsInBoundedMessages) {
  Folder folder;
  Party shed(folder, "shed", 1), tablet(folder, "tablet", 2), blank(folder, "blank", 3);
  shed.found();
  exchanged(tablet, shed);
  shed.write(6000, "shed", true);
  tablet.write(5000, "tablet", true);
  const Meeting meeting = exchanged(tablet, shed);
  expectSame(tablet, shed);
  EXPECT_EQ(meeting.roundTrips, 2u);
  EXPECT_EQ(meeting.tally.sent, 5001u);
  EXPECT_EQ(meeting.tally.received, 6000u);
  exchanged(blank, shed);
  expectSame(blank, shed);
}

TEST(Converge, ErasedBodiesTravelAsTheirDigest) {
  Folder folder;
  Party shed(folder, "shed", 1), tablet(folder, "tablet", 2);
  shed.found();
  shed.write(3, "a name");
  std::optional<journal::Digest> second;
  ASSERT_TRUE(shed.journal().forEach([&](const journal::Record& record) {
    if (record.number == 3) second = record.digest;
    return true;
  }));
  ASSERT_TRUE(second);
  ASSERT_TRUE(shed.journal().erase(*second));
  exchanged(tablet, shed);
  EXPECT_EQ(tablet.journal().vector(), shed.journal().vector());
  EXPECT_EQ(tablet.records(), shed.records());
  EXPECT_EQ(tablet.state(), shed.state());
  EXPECT_THAT(tablet.state(), ::testing::Not(::testing::HasSubstr("61206e616d652032")));
  expectWhole(tablet);
}

TEST(Converge, CountsWhatIsOnlyHere) {
  Folder folder;
  Party shed(folder, "shed", 1), tablet(folder, "tablet", 2);
  shed.found();
  exchanged(tablet, shed);
  EXPECT_EQ(notYetHeldBy(tablet.journal(), "shed"), 0u);
  tablet.write(4);
  EXPECT_EQ(notYetHeldBy(tablet.journal(), "shed"), 5u);
  EXPECT_EQ(notYetHeldBy(tablet.journal(), "nobody met yet"), 6u);
  exchanged(tablet, shed);
  EXPECT_EQ(notYetHeldBy(tablet.journal(), "shed"), 0u);
}

TEST(Converge, CountsWhatTwoBranchesShareOnce) {
  Folder folder;
  Party shed(folder, "shed", 1), tablet(folder, "tablet", 2);
  shed.found();
  exchanged(tablet, shed);
  tablet.write(3);
  Party twin = tablet.copy("twin");
  twin.write(2);
  tablet.write(1);
  exchanged(tablet, shed);
  exchanged(twin, shed);
  EXPECT_EQ(notYetHeldBy(shed.journal(), "nobody met yet"), shed.records());
}

}  // namespace
}  // namespace swardwalk::exchange::testing
