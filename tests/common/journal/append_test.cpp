#include <SQLiteCpp/Database.h>
#include <SQLiteCpp/Exception.h>
#include <gmock/gmock.h>
#include <sys/wait.h>
#include <unistd.h>

#include <iostream>
#include <set>

#include "common/journal/digest.h"
#include "common/journal/first_record.h"
#include "tests/common/journal/devices.h"

namespace swardwalk::journal {
namespace {

using testing::HasSubstr;

TEST(Append, FirstRecordNamesCourseDeviceAndNonce) {
  TempFolder folder;
  Device shed(folder.file("j"), 1);
  shed.found();
  std::vector<Record> records;
  ASSERT_TRUE(shed.journal().forEach([&](const Record& record) {
    records.push_back(record);
    return true;
  }));
  ASSERT_EQ(records.size(), 1U);
  EXPECT_EQ(records[0].content.type, "origin");
  EXPECT_EQ(records[0].content.body,
            "{\"geometry\":null,\"properties\":{\"course\":\"" + hex(*shed.journal().course()) +
                "\",\"device\":\"shed\",\"nonce\":\"" + hex(testNonce) + "\"}}");
  EXPECT_EQ(*shed.journal().course(), courseIdFor(shed.journal().origin(), testNonce));
}

TEST(Append, J3NumbersRunFromOneAndEachDigestCoversTheOneBefore) {
  TempFolder folder;
  Device shed(folder.file("j"), 1);
  shed.found();
  const std::vector<Draft> drafts{noteOn("A", "1"), noteOn("B", "2"), noteOn("A", "3")};
  const auto written = shed.journal().append(drafts);
  ASSERT_TRUE(written) << written.error().text();
  shed.write("C", "4");
  Digest before = genesisDigest(*shed.journal().course());
  std::uint64_t number = 0;
  ASSERT_TRUE(shed.journal().forEach([&](const Record& record) {
    EXPECT_EQ(record.number, ++number);
    EXPECT_EQ(record.counter, number);
    EXPECT_EQ(record.digest, recordDigest(before, record));
    before = record.digest;
    return true;
  }));
  EXPECT_EQ(number, 5U);
  EXPECT_EQ((*written)[2].number, 4U);
  EXPECT_THAT(shed.journal().heads(),
              testing::ElementsAre(Head{shed.journal().origin(), 5, before}));
  EXPECT_EQ(shed.journal().vector(), vectorDigest(shed.journal().heads()));
}

TEST(Append, CounterIsOneMoreThanTheHighestSeen) {
  TempFolder folder;
  Device shed(folder.file("shed"), 1);
  shed.found();
  for (int i = 0; i < 5; ++i) shed.write("A", std::to_string(i));
  Device tablet(folder.file("tablet"), 2);
  tablet.adoptFrom(shed);
  expectTaken(tablet.journal(), allRuns(shed.journal()), TakeStatus::taken);
  const Record written = tablet.write("B", "1");
  EXPECT_EQ(written.number, 2U);  // after its own first record
  EXPECT_EQ(written.counter, 8U);
}

TEST(Append, WhatIsWrittenComesBackByteForByte) {
  TempFolder folder;
  Device shed(folder.file("j"), 1);
  shed.found();
  Draft draft = noteOn("Grün 7", R"({"b" : 1,  "a":[ ]})");
  draft.author = {9, 8, 7};
  draft.version = 65535;
  draft.wall_ms = -5;
  draft.clockSource = ClockSource::satellite;
  draft.clockOffset_ms = -77'000'000'000;
  shed.write(draft);
  Record last;
  ASSERT_TRUE(shed.journal().forEach([&](const Record& record) {
    last = record;
    return true;
  }));
  EXPECT_EQ(last.content.body, draft.body);
  EXPECT_EQ(last.content.subject, draft.subject);
  EXPECT_EQ(last.content.author, draft.author);
  EXPECT_EQ(last.content.version, draft.version);
  EXPECT_EQ(last.content.wall_ms, draft.wall_ms);
  EXPECT_EQ(last.content.clockSource, draft.clockSource);
  EXPECT_EQ(last.content.clockOffset_ms, draft.clockOffset_ms);
}

TEST(Append, BlankJournalRefuses) {
  TempFolder folder;
  Device tablet(folder.file("j"), 1);
  const Draft draft = noteOn("A", "1");
  const auto written = tablet.journal().append({&draft, 1});
  ASSERT_FALSE(written);
  EXPECT_EQ(written.error().kind, FailureKind::refused);
  EXPECT_EQ(tablet.journal().recordCount(), 0U);
}

TEST(Append, OneDraftBeyondALimitWritesNone) {
  TempFolder folder;
  Device shed(folder.file("j"), 1);
  shed.found();
  const std::vector<Draft> drafts{noteOn("A", "1"),
                                  noteOn("B", std::string(limits::bodyBytes + 1, 'x'))};
  const auto written = shed.journal().append(drafts);
  ASSERT_FALSE(written);
  EXPECT_EQ(written.error().kind, FailureKind::invalid);
  EXPECT_EQ(shed.journal().recordCount(), 1U);
}

TEST(Append, J1TriggersRefuseEveryChangeOfARecord) {
  TempFolder folder;
  Device shed(folder.file("j"), 1);
  shed.found();
  shed.write("A", "1");
  SQLite::Database& database = shed.journal().database();
  const auto message = [&](const char* sql) -> std::string {
    try {
      database.exec(sql);
      return "done";
    } catch (const SQLite::Exception& error) {
      return error.what();
    }
  };
  EXPECT_THAT(message("UPDATE records SET subject = 'B'"), HasSubstr("J1"));
  EXPECT_THAT(message("UPDATE records SET body = x'31'"), HasSubstr("J1"));
  EXPECT_THAT(message("UPDATE records SET erased = 1, body = x'', wall_ms = 0"), HasSubstr("J1"));
  EXPECT_THAT(message("DELETE FROM records"), HasSubstr("J1"));
  EXPECT_THAT(message("INSERT OR REPLACE INTO records SELECT * FROM records"), HasSubstr("J1"));
  EXPECT_THAT(message("UPDATE chains SET number = number - 1"), HasSubstr("J1"));
  EXPECT_THAT(message("DELETE FROM chains"), HasSubstr("J1"));
  EXPECT_THAT(message("DELETE FROM signed"), HasSubstr("J1"));
  EXPECT_THAT(message("UPDATE signed SET number = 7"), HasSubstr("J1"));
}

TEST(Append, TwoConnectionsTakeTurnsWithoutTakingTheSameNumber) {
  TempFolder folder;
  Device server(folder.file("j"), 1);
  server.found();
  Device command(folder.file("j"), 1);
  for (int i = 0; i < 10; ++i) {
    EXPECT_EQ(server.write("A", std::to_string(i)).number, 2U + 2U * i);
    EXPECT_EQ(command.write("A", std::to_string(i)).number, 3U + 2U * i);
  }
  EXPECT_EQ(server.journal().heads(), command.journal().heads());
  EXPECT_EQ(server.journal().vector(), command.journal().vector());
  EXPECT_EQ(server.journal().changeCount(), command.journal().changeCount());
}

TEST(Append, TwoProcessesAtOnceLeaveNoGapAndNoDouble) {
  constexpr int each = 40;
  TempFolder folder;
  { Device(folder.file("j"), 1).found(); }
  std::vector<pid_t> children;
  for (int child = 0; child < 2; ++child) {
    const pid_t pid = ::fork();
    ASSERT_GE(pid, 0);
    if (pid == 0) {
      int failed = 0;
      try {
        Device device(folder.file("j"), 1);
        for (int i = 0; i < each; ++i) device.write("A", std::to_string(i));
      } catch (const std::exception&) {
        failed = 1;
      }
      ::_exit(failed);
    }
    children.push_back(pid);
  }
  for (const pid_t pid : children) {
    int status = 0;
    ASSERT_EQ(::waitpid(pid, &status, 0), pid);
    EXPECT_EQ(status, 0);
  }
  Device device(folder.file("j"), 1);
  EXPECT_EQ(device.journal().recordCount(), 1U + 2U * each);
  EXPECT_EQ(device.journal().heads().size(), 1U);
  EXPECT_TRUE(device.journal().check()->whole);
}

TEST(Append, TwoProcessesThatMakeTheFileAtOnceBothOpenIt) {
  for (int round = 0; round < 5; ++round) {
    TempFolder folder;
    std::vector<pid_t> children;
    for (int child = 0; child < 2; ++child) {
      const pid_t pid = ::fork();
      ASSERT_GE(pid, 0);
      if (pid == 0) {
        int failed = 0;
        try {
          const Device device(folder.file("j"), 1);
        } catch (const std::exception& error) {
          std::cerr << error.what() << '\n';
          failed = 1;
        }
        ::_exit(failed);
      }
      children.push_back(pid);
    }
    for (const pid_t pid : children) {
      int status = 0;
      ASSERT_EQ(::waitpid(pid, &status, 0), pid);
      EXPECT_EQ(status, 0);
    }
    Device(folder.file("j"), 1).found();
  }
}

TEST(Append, ManyDraftsAreSignedOftenEnoughForRunsWithinTheLimits) {
  TempFolder folder;
  Device shed(folder.file("j"), 1);
  shed.found();
  std::vector<Draft> drafts(limits::runRecords * 2 + 100, noteOn("A", "1"));
  for (int i = 0; i < 40; ++i) drafts.push_back(noteOn("B", std::string(limits::bodyBytes, 'x')));
  ASSERT_TRUE(shed.journal().append(drafts));
  std::size_t records = 0;
  for (const journal::Run& run : allRuns(shed.journal())) {
    EXPECT_LE(run.records.size(), limits::runRecords);
    std::size_t bytes = 0;
    for (const Record& record : run.records) bytes += record.content.body.size();
    EXPECT_LE(bytes, limits::runBodyBytes);
    EXPECT_TRUE(headVerifies(*shed.journal().course(),
                             {run.origin, run.after + run.records.size(), run.head},
                             run.signature));
    records += run.records.size();
  }
  EXPECT_EQ(records, drafts.size() + 1);
}

TEST(Append, RunsThatAreJustFullAreSignedAtTheirEnds) {
  TempFolder folder;
  Device shed(folder.file("j"), 1);
  shed.found();
  ASSERT_TRUE(shed.journal().append(std::vector<Draft>(limits::runRecords * 2, noteOn("A", "1"))));
  const Head head = shed.journal().heads()[0];
  for (const std::uint64_t after : {std::uint64_t{1}, std::uint64_t{1 + limits::runRecords}}) {
    const auto run = shed.journal().run(head, after);
    ASSERT_TRUE(run) << run.error().text();
    EXPECT_EQ(run->records.size(), limits::runRecords);
  }
}

TEST(Append, NewKeyFollowsTheOldOneAndNamesTheReason) {
  TempFolder folder;
  Device shed(folder.file("j"), 1);
  shed.found();
  const OriginKey old = shed.journal().origin();
  ASSERT_TRUE(shed.journal().changeOrigin(signerOf(2), "restored", 5));
  EXPECT_EQ(shed.journal().origin(), signerOf(2).origin());
  EXPECT_EQ(shed.write("A", "1").number, 2U);
  std::string body;
  ASSERT_TRUE(shed.journal().forEach([&](const Record& record) {
    if (record.origin == shed.journal().origin() && record.number == 1) body = record.content.body;
    return true;
  }));
  EXPECT_THAT(body, HasSubstr("\"follows\":\"" + hex(old) + "\",\"reason\":\"restored\""));
  EXPECT_EQ(shed.journal().heads().size(), 2U);
  for (const OriginInfo& info : shed.journal().origins()) EXPECT_TRUE(info.accepted);
}

TEST(Append, NewKeyNamesTheDeviceAsItIsCalledNow) {
  TempFolder folder;
  JournalOptions options;
  options.deviceName = "Tablet b";
  Device tablet(folder.file("j"), 1, options);
  ASSERT_TRUE(tablet.journal().found({1}, 5, "Tablet a"));
  ASSERT_TRUE(tablet.journal().changeOrigin(signerOf(2), "restored", 5));
  std::string named;
  ASSERT_TRUE(tablet.journal().forEach([&](const Record& record) {
    if (record.origin == signerOf(2).origin()) named = deviceNameOf(record);
    return true;
  }));
  EXPECT_EQ(named, "Tablet b");
}

}  // namespace
}  // namespace swardwalk::journal
