#include "tests/common/journal/devices.h"
#include "tests/common/journal/power_loss_vfs.h"

namespace swardwalk::journal {
namespace {

/// Founds a course, writes `records` records, and loses power right after the last
/// append() returned. Gives what stands in the file afterwards.
struct Outcome {
  std::uint64_t records = 0;
  bool whole = false;
};

Outcome writeAndLosePower(Durability durability, int records) {
  TempFolder folder;
  {
    PowerLossVfs disk;
    {
      // The course is there, and safe, before the power becomes bad.
      JournalOptions options;
      options.vfs = disk.name();
      Device shed(folder.file("j"), 1, options);
      shed.found();
    }
    JournalOptions options;
    options.vfs = disk.name();
    options.durability = durability;
    Device shed(folder.file("j"), 1, options);
    for (int i = 0; i < records; ++i) shed.write("A", std::to_string(i));
    EXPECT_EQ(shed.journal().recordCount(), 1U + static_cast<unsigned>(records));
    disk.losePower();
  }
  std::filesystem::remove(folder.file("j-shm"));  // memory only: no machine keeps it
  Device again(folder.file("j"), 1);
  const auto report = again.journal().check();
  return {again.journal().recordCount(), report && report->whole && report->stateMatches};
}

TEST(PowerLoss, J2WhatAppendReturnedIsOnDisk) {
  for (const int records : {1, 2, 40}) {
    const Outcome outcome = writeAndLosePower(Durability::full, records);
    EXPECT_EQ(outcome.records, 1U + static_cast<unsigned>(records));
    EXPECT_TRUE(outcome.whole);
  }
}

TEST(PowerLoss, J2WithoutSyncTheSameLosesThem) {
  // Shows that the harness works: a disk that nobody asked to sync forgets.
  for (const int records : {1, 40})
    EXPECT_EQ(writeAndLosePower(Durability::off, records).records, 1U);
}

TEST(PowerLoss, J2TakenRunsAreOnDiskBeforeTheyAreAcknowledged) {
  TempFolder folder;
  Device shed(folder.file("shed"), 1);
  shed.found();
  for (int i = 0; i < 5; ++i) shed.write("A", std::to_string(i));
  Digest vector{};
  {
    PowerLossVfs disk;
    JournalOptions options;
    options.vfs = disk.name();
    Device tablet(folder.file("tablet"), 2, options);
    tablet.adoptFrom(shed);
    expectTaken(tablet.journal(), allRuns(shed.journal()), TakeStatus::taken);
    vector = tablet.journal().vector();
    disk.losePower();
  }
  std::filesystem::remove(folder.file("tablet-shm"));
  Device again(folder.file("tablet"), 2);
  EXPECT_EQ(again.journal().vector(), vector);
  EXPECT_EQ(again.state(), shed.state());
}

TEST(PowerLoss, OneCommitIsOneSync) {
  TempFolder folder;
  PowerLossVfs disk;
  JournalOptions options;
  options.vfs = disk.name();
  Device shed(folder.file("j"), 1, options);
  shed.found();
  shed.write("A", "0");
  const int before = disk.syncs();
  for (int i = 0; i < 10; ++i) shed.write("A", "1");
  EXPECT_EQ(disk.syncs() - before, 10);
}

TEST(PowerLoss, WhoLosesPowerFailsInWordsAndDoesNotCrash) {
  TempFolder folder;
  PowerLossVfs disk;
  JournalOptions options;
  options.vfs = disk.name();
  Device shed(folder.file("j"), 1, options);
  shed.found();
  const auto heads = shed.journal().heads();
  disk.losePower();
  EXPECT_EQ(shed.journal().heads(), heads);  // the last that is known
  const Draft draft = noteOn("A", "1");
  const auto written = shed.journal().append({&draft, 1});
  ASSERT_FALSE(written);
  EXPECT_EQ(written.error().kind, FailureKind::io);
  EXPECT_NE(written.error().text().find("SQLITE_IOERR"), std::string::npos);
}

}  // namespace
}  // namespace swardwalk::journal
