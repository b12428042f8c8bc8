#include "common/journal/rescue.h"

#include <gmock/gmock.h>

#include <fstream>
#include <iterator>

#include "common/journal/folder.h"
#include "tests/common/journal/devices.h"

namespace swardwalk::journal {
namespace {

std::string contentOf(const std::string& file) {
  std::ifstream in(file, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

class Rescue : public testing::Test {
 protected:
  Rescue() {
    Device shed(damaged(), 1);
    shed.found();
    shed.write("A", "\"an ordinary morning\"");
    Draft wet = noteOn("B", "\"a wet morning\"");
    wet.wall_ms = 1'776'000'000'000;
    wet.clockSource = ClockSource::satellite;
    wet.clockOffset_ms = -77;
    wet.version = 3;
    wet.author.fill(0xa1);
    shed.write(wet);
    shed.write("A", "\"a dry morning\"");
    Device tablet(folder.file("tablet"), 2);
    tablet.adoptFrom(shed);
    for (int i = 0; i < 30; ++i) tablet.write("C", std::string(300, '1'));
    expectTaken(shed.journal(), allRuns(tablet.journal()), TakeStatus::taken);
    heads = shed.journal().heads();
    records = shed.journal().recordCount();
  }
  std::string damaged() const { return folder.file("damaged-one"); }

  /// What of the damaged file was saved, and the new journal.
  struct Saved {
    Rescued rescued;
    std::unique_ptr<Device> into;
    std::optional<Failure> failure;
  };
  Saved saved() {
    std::filesystem::create_directories(folder.file("new"));
    std::filesystem::remove(folder.file("new/j"));
    Saved saved;
    saved.into = std::make_unique<Device>(folder.file("new/j"), 9);
    auto rescued = rescue(damaged(), folder.file("new"), saved.into->journal());
    if (rescued)
      saved.rescued = *rescued;
    else
      saved.failure = rescued.error();
    const auto report = saved.into->journal().check();
    EXPECT_TRUE(report && report->whole && report->stateMatches);
    return saved;
  }
  void spoil(std::string_view bytes, std::size_t at = 3) {
    std::string content = contentOf(damaged());
    const auto place = content.find(bytes);
    ASSERT_NE(place, std::string::npos);
    content[place + at] ^= 1;
    std::ofstream(damaged(), std::ios::binary) << content;
  }

  TempFolder folder;
  std::vector<Head> heads;
  std::uint64_t records = 0;
};

TEST_F(Rescue, AWholeJournalIsSavedWholeAndWritesOnUnderANewOrigin) {
  Saved all = saved();
  EXPECT_FALSE(all.failure);
  EXPECT_EQ(all.rescued.records, records);
  EXPECT_TRUE(all.rescued.lost.empty());
  EXPECT_EQ(all.into->journal().heads(), heads);
  EXPECT_EQ(all.into->write("A", "1").number, 2U) << "the first after the new origin's own";
  EXPECT_FALSE(std::filesystem::exists(folder.file("new/damaged.sqlite")));
}

TEST_F(Rescue, ADamagedBodyIsLeftOutAndWhatFollowsItIsSaved) {
  spoil("\"an ordinary morning\"");
  const std::string before = contentOf(damaged());
  Saved most = saved();
  EXPECT_EQ(most.rescued.records, records);
  EXPECT_EQ(most.rescued.bodies, 1U);
  ASSERT_EQ(most.rescued.lost.size(), 1U);
  EXPECT_THAT(most.rescued.lost[0].where, testing::StartsWith("record 2 of origin"));
  EXPECT_EQ(most.into->journal().heads(), heads);
  EXPECT_EQ(contentOf(damaged()), before) << "the damaged file is left alone";
}

TEST_F(Rescue, ADamagedDigestStopsItsBranchAndTheOthersAreSaved) {
  Digest digest{};
  {
    Device shed(damaged(), 1);
    const Head head = shed.journal().heads()[0].origin == signerOf(1).origin()
                          ? shed.journal().heads()[0]
                          : shed.journal().heads()[1];
    digest = *shed.journal().digestAt(head, 3);
  }
  spoil({reinterpret_cast<const char*>(digest.data()), digest.size()});
  Saved some = saved();
  EXPECT_EQ(some.rescued.records, records - 2);
  ASSERT_EQ(some.rescued.lost.size(), 1U);
  EXPECT_THAT(some.rescued.lost[0].where, testing::StartsWith("record 3 of origin"));
}

TEST_F(Rescue, ADamagedSignatureStopsItsBranchAtTheRunThatItShouldProve) {
  Signature signature{};
  {
    Device shed(damaged(), 1);
    for (const Head& head : shed.journal().heads())
      if (head.origin == signerOf(1).origin())
        signature = shed.journal().run(head, head.number - 1)->signature;
  }
  spoil({reinterpret_cast<const char*>(signature.data()), signature.size()});
  Saved some = saved();
  EXPECT_EQ(some.rescued.records, records - 1);
  ASSERT_EQ(some.rescued.lost.size(), 1U);
  EXPECT_THAT(some.rescued.lost[0].where, testing::StartsWith("record 4 of origin"));
}

// Whatever is damaged: `check` says so or nothing that counts was hit; what is rescued is
// whole; and nothing makes the damaged file worse.
TEST_F(Rescue, DamageAnywhereIsFoundAndWhatIsSavedIsWhole) {
  const std::string whole = contentOf(damaged());
  JournalOptions looking;
  looking.file = damaged();
  looking.readOnly = true;
  std::uint64_t found = 0;
  std::uint64_t mostSaved = 0;
  const auto look = [&](const std::string& bytes) {
    std::ofstream(damaged(), std::ios::binary) << bytes;
    {
      TallyFold fold;
      auto journal = Journal::open(looking, signerOf(8), fold);
      const auto report = journal ? journal->check() : tl::unexpected(journal.error());
      if (!report || !report->findings.empty()) {
        ++found;
      } else {
        EXPECT_EQ(journal->heads(), heads);
        EXPECT_EQ(report->records, records);
      }
    }
    EXPECT_EQ(contentOf(damaged()), bytes);
    mostSaved = std::max(mostSaved, saved().rescued.records);
  };
  constexpr std::size_t page = 4096;
  for (std::size_t at = 0; at < whole.size(); at += page) {
    SCOPED_TRACE(at);
    std::string spoilt = whole;
    std::fill_n(spoilt.begin() + static_cast<std::ptrdiff_t>(at), page, '\xEE');
    look(spoilt);
    look(whole.substr(0, at));
  }
  for (std::size_t at = 5; at < whole.size(); at += 1499) {
    SCOPED_TRACE(at);
    std::string flipped = whole;
    flipped[at] ^= 0x10;
    look(flipped);
  }
  EXPECT_GT(found, whole.size() / page);
  EXPECT_EQ(mostSaved, records);
}

TEST_F(Rescue, WhatIsNoJournalFailsInWords) {
  std::ofstream(damaged(), std::ios::binary) << "no journal at all";
  const Saved nothing = saved();
  ASSERT_TRUE(nothing.failure);
  EXPECT_FALSE(nothing.failure->todo.empty());
}

}  // namespace
}  // namespace swardwalk::journal
