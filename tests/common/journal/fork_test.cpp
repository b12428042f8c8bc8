#include <gmock/gmock.h>

#include "common/journal/digest.h"
#include "tests/common/journal/devices.h"

namespace swardwalk::journal {
namespace {

/// A tablet whose file was copied: both copies wrote on under one key.
class Fork : public testing::Test {
 protected:
  Fork() : shed(folder.file("shed"), 1) {
    shed.found();
    {
      Device tablet(folder.file("tablet"), 2);
      tablet.adoptFrom(shed);
      tablet.write("A", "\"common 1\"");
      tablet.write("A", "\"common 2\"");
    }
    std::filesystem::copy_file(folder.file("tablet"), folder.file("copy"));
    tablet_.emplace(folder.file("tablet"), 2);
    copy_.emplace(folder.file("copy"), 2);
  }

  Device& tablet() { return *tablet_; }
  Device& copy() { return *copy_; }

  TempFolder folder;
  Device shed;
  std::optional<Device> tablet_;
  std::optional<Device> copy_;
};

TEST_F(Fork, X3BothBranchesAreKeptAndFolded) {
  tablet().write("B", "\"tablet\"");
  copy().write("B", "\"copy\"");
  copy().write("C", "\"copy\"");
  expectTaken(shed.journal(), allRuns(tablet().journal()), TakeStatus::taken);
  const auto outcomes = shed.journal().take(allRuns(copy().journal()), Vouching::accepted);
  ASSERT_TRUE(outcomes);
  EXPECT_TRUE(outcomes->at(0).forked);
  EXPECT_EQ(outcomes->at(0).added, 2U);
  const auto infos = shed.journal().origins();
  const auto info = std::find_if(infos.begin(), infos.end(), [&](const OriginInfo& one) {
    return one.origin == tablet().journal().origin();
  });
  ASSERT_NE(info, infos.end());
  EXPECT_EQ(info->branches, 2U);
  EXPECT_EQ(info->records, 6U);  // three in common, one and two of their own
  EXPECT_THAT(shed.state(), testing::HasSubstr("B|2|"));
  EXPECT_THAT(shed.state(), testing::HasSubstr("C|1|"));
  EXPECT_TRUE(shed.journal().check()->whole);
}

TEST_F(Fork, X3TheOrderInWhichBranchesArriveDoesNotMatter) {
  tablet().write("B", "\"tablet\"");
  copy().write("B", "\"copy\"");
  Device other(folder.file("other"), 3);
  other.adoptFrom(shed);
  expectTaken(shed.journal(), allRuns(tablet().journal()), TakeStatus::taken);
  expectTaken(shed.journal(), allRuns(copy().journal()), TakeStatus::taken);
  expectTaken(other.journal(), allRuns(copy().journal()), TakeStatus::taken);
  expectTaken(other.journal(), allRuns(tablet().journal()), TakeStatus::taken);
  ASSERT_TRUE(other.journal().take(allRuns(shed.journal()), Vouching::accepted));
  EXPECT_EQ(other.journal().vector(), shed.journal().vector());
  EXPECT_EQ(other.state(), shed.state());
  // Whoever takes all of it from a relay holds the same, too.
  Device third(folder.file("third"), 4);
  third.adoptFrom(shed);
  ASSERT_TRUE(third.journal().take(allRuns(shed.journal()), Vouching::accepted));
  EXPECT_EQ(third.journal().vector(), shed.journal().vector());
  EXPECT_EQ(third.state(), shed.state());
}

TEST_F(Fork, HoldsAndDigestAtTellBranchesApart) {
  const Record ours = tablet().write("B", "\"tablet\"");
  const Record theirs = copy().write("B", "\"copy\"");
  expectTaken(shed.journal(), allRuns(tablet().journal()), TakeStatus::taken);
  expectTaken(shed.journal(), allRuns(copy().journal()), TakeStatus::taken);
  const Head tabletHead{ours.origin, ours.number, ours.digest};
  const Head copyHead{theirs.origin, theirs.number, theirs.digest};
  EXPECT_TRUE(shed.journal().holds(tabletHead));
  EXPECT_TRUE(shed.journal().holds(copyHead));
  EXPECT_FALSE(tablet().journal().holds(copyHead));
  EXPECT_EQ(shed.journal().digestAt(tabletHead, 4), ours.digest);
  EXPECT_EQ(shed.journal().digestAt(copyHead, 4), theirs.digest);
  EXPECT_EQ(shed.journal().digestAt(tabletHead, 3), shed.journal().digestAt(copyHead, 3));
  EXPECT_EQ(shed.journal().digestAt(copyHead, 0), genesisDigest(*shed.journal().course()));
  EXPECT_EQ(shed.journal().digestAt(copyHead, 5), std::nullopt);
}

TEST_F(Fork, RestoredDeviceTakesItsOwnLaterRecordsAndWritesOn) {
  tablet().write("B", "\"lost with the tablet\"");
  expectTaken(shed.journal(), allRuns(tablet().journal()), TakeStatus::taken);
  // The copy is the backup that came back; it has written nothing yet.
  ASSERT_TRUE(copy().journal().take(allRuns(shed.journal()), Vouching::accepted));
  EXPECT_EQ(copy().write("C", "1").number, 5U);
  EXPECT_EQ(copy().journal().heads().size(), 2U);
}

TEST_F(Fork, ForkAtTheFirstRecordIsABranchToo) {
  Device lost(folder.file("lost"), 2);
  lost.adoptFrom(shed);
  Draft draft = noteOn("D", "1");
  draft.wall_ms = 7;
  lost.write(draft);
  expectTaken(shed.journal(), allRuns(tablet().journal()), TakeStatus::taken);
  const auto outcomes = shed.journal().take(allRuns(lost.journal()), Vouching::accepted);
  ASSERT_TRUE(outcomes);
  EXPECT_TRUE(outcomes->at(0).forked);
  EXPECT_EQ(shed.journal().heads().size(), 3U);
  EXPECT_TRUE(shed.journal().check()->whole);
}

TEST_F(Fork, OwnForkKeepsWritingOnTheBranchThatWasHereFirst) {
  const Record own = tablet().write("B", "\"tablet\"");
  copy().write("B", "\"copy\"");
  copy().write("B", "\"copy\"");
  expectTaken(tablet().journal(), allRuns(copy().journal()), TakeStatus::taken);
  const Record next = tablet().write("B", "\"tablet\"");
  EXPECT_EQ(next.number, own.number + 1);
  EXPECT_EQ(tablet().journal().digestAt({next.origin, next.number, next.digest}, own.number),
            own.digest);
}

TEST_F(Fork, BranchFarFromItsLastSignatureIsPassedOnBehindTheBranchThatItLeft) {
  // 700 records in one commit, signed at their end only; the copy keeps the first 350 of
  // them and writes 700 of its own: no signature lies within the limits of genesis.
  const std::vector<Draft> drafts(700, noteOn("B", "1"));
  ASSERT_TRUE(tablet().journal().append(drafts));
  expectTaken(shed.journal(), allRuns(tablet().journal()), TakeStatus::taken);
  const Head head{tablet().journal().origin(), 703,
                  *tablet().journal().digestAt(tablet().journal().heads().at(0), 703)};
  journal::Run branch;
  branch.origin = head.origin;
  branch.after = 350;
  branch.base = *tablet().journal().digestAt(head, 350);
  Digest before = branch.base;
  for (std::uint64_t i = 1; i <= 700; ++i) {
    Record record;
    record.origin = head.origin;
    record.number = 350 + i;
    record.counter = 2000 + i;
    record.content = noteOn("C", "2");
    record.bodyDigest = blake2b(record.content.body);
    before = record.digest = recordDigest(before, record);
    branch.records.push_back(record);
  }
  branch.head = before;
  branch.signature =
      signerOf(2).signHead(*shed.journal().course(), {head.origin, 1050, branch.head});
  expectTaken(shed.journal(), {&branch, 1}, TakeStatus::taken);

  Device third(folder.file("third"), 4);
  third.adoptFrom(shed);
  // What a sender does: for each head begin after the last record that both hold.
  for (int round = 0; round < 4 && third.journal().vector() != shed.journal().vector(); ++round) {
    for (const Head& one : shed.journal().heads()) {
      std::uint64_t common = one.number;
      while (common > 0 &&
             !third.journal().holds({one.origin, common, *shed.journal().digestAt(one, common)}))
        --common;
      if (common == one.number) continue;
      const auto run = shed.journal().run(one, common);
      ASSERT_TRUE(run) << run.error().text();
      ASSERT_LE(run->records.size(), limits::runRecords);
      expectTaken(third.journal(), {&*run, 1}, TakeStatus::taken);
    }
  }
  EXPECT_EQ(third.journal().vector(), shed.journal().vector());
}

}  // namespace
}  // namespace swardwalk::journal
