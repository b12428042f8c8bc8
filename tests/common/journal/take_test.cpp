#include <gmock/gmock.h>

#include <algorithm>
#include <map>
#include <numeric>

#include "common/journal/digest.h"
#include "tests/common/journal/devices.h"

namespace swardwalk::journal {
namespace {

/// A run that continues `before`, made by hand and signed by `signer`.
Run runBy(const Signer& signer, const CourseId& course, std::uint64_t after, const Digest& base,
          const std::vector<Draft>& drafts, std::uint64_t counter) {
  Run run;
  run.origin = signer.origin();
  run.after = after;
  run.base = base;
  Digest before = base;
  std::uint64_t number = after;
  for (const Draft& draft : drafts) {
    Record record;
    record.origin = signer.origin();
    record.number = ++number;
    record.counter = counter++;
    record.content = draft;
    record.bodyDigest = blake2b(draft.body);
    record.digest = recordDigest(before, record);
    before = record.digest;
    run.records.push_back(record);
  }
  run.head = before;
  run.signature = signer.signHead(course, {run.origin, number, run.head});
  return run;
}

class Take : public testing::Test {
 protected:
  Take() : shed(folder.file("shed"), 1), tablet(folder.file("tablet"), 2) {
    shed.found();
    tablet.adoptFrom(shed);
  }

  const CourseId& course() {
    course_ = *shed.journal().course();
    return course_;
  }
  TakeStatus statusOf(const journal::Run& run) {
    const auto outcomes = shed.journal().take({&run, 1}, Vouching::accepted);
    EXPECT_TRUE(outcomes) << outcomes.error().text();
    return outcomes ? outcomes->at(0).status : TakeStatus::known;
  }

  TempFolder folder;
  Device shed;
  Device tablet;
  CourseId course_{};
};

TEST_F(Take, BothHoldTheSameAfterEachTookTheOthersRuns) {
  shed.write("A", "1");
  tablet.write("A", "2");
  tablet.write("B", "3");
  expectTaken(tablet.journal(), allRuns(shed.journal()), TakeStatus::taken);
  const Head own{tablet.journal().origin(), 3, tablet.last().digest};
  expectTaken(shed.journal(), runsOf(tablet.journal(), own), TakeStatus::taken);
  EXPECT_EQ(shed.journal().vector(), tablet.journal().vector());
  EXPECT_EQ(shed.state(), tablet.state());
  EXPECT_EQ(shed.journal().recordCount(), 5U);
}

TEST_F(Take, RunsThatAreThereAreKnownAndChangeNothing) {
  tablet.write("A", "2");
  const auto runs = allRuns(tablet.journal());
  expectTaken(shed.journal(), runs, TakeStatus::taken);
  const auto changes = shed.journal().changeCount();
  const auto outcomes = shed.journal().take(runs, Vouching::accepted);
  ASSERT_TRUE(outcomes);
  EXPECT_EQ(outcomes->at(0).status, TakeStatus::known);
  EXPECT_EQ(outcomes->at(0).added, 0U);
  EXPECT_EQ(shed.journal().changeCount(), changes);
}

TEST_F(Take, OverlapOfKnownAndNewAddsTheNew) {
  tablet.write("A", "1");
  expectTaken(shed.journal(), allRuns(tablet.journal()), TakeStatus::taken);
  tablet.write("A", "2");
  const auto outcomes = shed.journal().take(allRuns(tablet.journal()), Vouching::accepted);
  ASSERT_TRUE(outcomes);
  EXPECT_EQ(outcomes->at(0).added, 1U);
  EXPECT_FALSE(outcomes->at(0).forked);
  EXPECT_EQ(shed.journal().recordCount(), 4U);
}

TEST_F(Take, BlankJournalRefusesBecauseItKnowsNoCourse) {
  Device blank(folder.file("blank"), 3);
  const auto taken = blank.journal().take(allRuns(shed.journal()), Vouching::accepted);
  ASSERT_FALSE(taken);
  EXPECT_EQ(taken.error().kind, FailureKind::refused);
}

TEST_F(Take, J4EveryOrderOfArrivalGivesTheSameVectorAndState) {
  Device second(folder.file("second"), 3);
  second.adoptFrom(shed);
  for (int i = 0; i < 3; ++i) {
    shed.write("A", "\"shed " + std::to_string(i) + "\"");
    tablet.write("A", "\"tablet " + std::to_string(i) + "\"");
    second.write(i == 1 ? "B" : "A", "\"second " + std::to_string(i) + "\"");
  }
  // Each origin in two runs, the second of which must come after the first.
  std::vector<journal::Run> runs;
  for (Device* device : {&shed, &tablet, &second}) {
    Journal& journal = device->journal();
    const Head head = journal.heads()[0];
    const Head middle{head.origin, 2, *journal.digestAt(head, 2)};
    runs.push_back(*journal.run(middle, 0));
    runs.push_back(*journal.run(head, 2));
  }
  std::vector<std::size_t> order(runs.size());
  std::iota(order.begin(), order.end(), 0);
  std::optional<Digest> vector;
  std::string state;
  int orders = 0;
  do {
    const auto place = [&](std::size_t run) {
      return std::find(order.begin(), order.end(), run) - order.begin();
    };
    if (place(0) > place(1) || place(2) > place(3) || place(4) > place(5)) continue;
    ++orders;
    JournalOptions quick;
    quick.durability = Durability::off;
    Device reader(folder.file("r"), 9, quick);
    reader.adoptFrom(shed);
    // Some one at a time, some all at once, and all of them twice.
    if (orders % 2 == 0) {
      for (const std::size_t at : order)
        expectTaken(reader.journal(), {&runs[at], 1}, TakeStatus::taken);
    } else {
      std::vector<journal::Run> together;
      for (const std::size_t at : order) together.push_back(runs[at]);
      expectTaken(reader.journal(), together, TakeStatus::taken);
    }
    expectTaken(reader.journal(), runs, TakeStatus::known);
    if (!vector) {
      vector = reader.journal().vector();
      state = reader.state();
    }
    EXPECT_EQ(reader.journal().vector(), *vector);
    EXPECT_EQ(reader.state(), state);
    for (const char* end : {"r", "r-wal", "r-shm"}) std::filesystem::remove(folder.file(end));
  } while (std::next_permutation(order.begin(), order.end()));
  EXPECT_EQ(orders, 90);  // 6! / 2^3
  EXPECT_THAT(state, testing::HasSubstr("A|8|"));
}

TEST_F(Take, J5UnknownTypesAndVersionsPassThroughUntouched) {
  Draft draft = noteOn("X", R"({"later": true})");
  draft.type = "made_later";
  draft.version = 900;
  const Record written = tablet.write(draft);
  expectTaken(shed.journal(), allRuns(tablet.journal()), TakeStatus::taken);
  Device third(folder.file("third"), 3);
  third.adoptFrom(shed);
  expectTaken(third.journal(), allRuns(shed.journal()), TakeStatus::taken);
  Record found;
  ASSERT_TRUE(third.journal().forEach([&](const Record& record) {
    if (record.content.type == "made_later") found = record;
    return true;
  }));
  EXPECT_EQ(found.digest, written.digest);
  EXPECT_EQ(found.content.body, draft.body);
  EXPECT_THAT(third.state(), testing::HasSubstr("made_later|1"));
}

TEST_F(Take, GapNeedsAnEarlierStart) {
  tablet.write("A", "1");
  tablet.write("A", "2");
  const Head head = tablet.journal().heads()[0];
  EXPECT_EQ(statusOf(*tablet.journal().run(head, 1)), TakeStatus::gap);
  EXPECT_EQ(shed.journal().recordCount(), 1U);
  EXPECT_EQ(statusOf(*tablet.journal().run(head, 0)), TakeStatus::taken);
}

TEST_F(Take, X5ForgedContentAndForgedSignaturesAreNotTaken) {
  tablet.write("A", "1");
  const auto good = runsOf(tablet.journal(), tablet.journal().heads()[0]);
  ASSERT_EQ(good.size(), 1U);
  journal::Run bad = good[0];
  bad.records[1].content.body = "2";
  EXPECT_EQ(statusOf(bad), TakeStatus::wrongDigest);
  bad = good[0];
  bad.records[1].content.wall_ms += 1;
  EXPECT_EQ(statusOf(bad), TakeStatus::wrongDigest);
  bad = good[0];
  bad.signature[3] ^= 1;
  EXPECT_EQ(statusOf(bad), TakeStatus::badSignature);
  // Somebody else's records under the tablet's name, signed with a key of one's own.
  bad = runBy(signerOf(7), course(), 0, genesisDigest(course()), {noteOn("A", "9")}, 1);
  bad.origin = signerOf(2).origin();
  EXPECT_EQ(statusOf(bad), TakeStatus::wrongDigest);
  bad = good[0];
  bad.records.pop_back();
  bad.head = bad.records.back().digest;
  EXPECT_EQ(statusOf(bad), TakeStatus::badSignature);  // cut where nobody signed
  EXPECT_EQ(shed.journal().recordCount(), 1U);
  EXPECT_EQ(statusOf(good[0]), TakeStatus::taken);
}

TEST_F(Take, RecordsOfAnotherCourseDoNotFit) {
  Device other(folder.file("other"), 4);
  ASSERT_TRUE(other.journal().found({7, 7, 7}, 0, "elsewhere"));
  EXPECT_EQ(statusOf(allRuns(other.journal())[0]), TakeStatus::wrongDigest);
  const auto adopted = shed.journal().adopt(*other.journal().course());
  ASSERT_FALSE(adopted);
  EXPECT_EQ(adopted.error().kind, FailureKind::refused);
}

TEST_F(Take, BadRunLeavesTheOthersUnharmed) {
  Device second(folder.file("second"), 3);
  second.adoptFrom(shed);
  tablet.write("A", "1");
  second.write("A", "2");
  std::vector<journal::Run> runs{allRuns(tablet.journal())[0], allRuns(second.journal())[0]};
  runs[0].records[0].counter += 1;
  const auto outcomes = shed.journal().take(runs, Vouching::accepted);
  ASSERT_TRUE(outcomes);
  EXPECT_EQ(outcomes->at(0).status, TakeStatus::wrongDigest);
  EXPECT_EQ(outcomes->at(1).status, TakeStatus::taken);
  EXPECT_EQ(shed.journal().recordCount(), 3U);
}

TEST_F(Take, OnlyTheFrozenLimitsRefuse) {
  const Signer signer = signerOf(5);
  const auto statusWith = [&](const std::function<void(Draft&)>& change) {
    Draft draft = noteOn("A", "1");
    change(draft);
    return statusOf(runBy(signer, course(), 0, genesisDigest(course()), {draft}, 1));
  };
  const auto over = TakeStatus::overLimit;
  EXPECT_EQ(statusWith([](Draft& d) { d.type = ""; }), over);
  EXPECT_EQ(statusWith([](Draft& d) { d.type = "Note"; }), over);
  EXPECT_EQ(statusWith([](Draft& d) { d.type = std::string(33, 'a'); }), over);
  EXPECT_EQ(statusWith([](Draft& d) { d.subject = std::string(481, 'a'); }), over);
  EXPECT_EQ(statusWith([](Draft& d) { d.subject = "\xC3"; }), over);
  EXPECT_EQ(statusWith([](Draft& d) { d.subject = "a\tb"; }), over);
  EXPECT_EQ(statusWith([](Draft& d) { d.body = ""; }), over);
  EXPECT_EQ(statusWith([](Draft& d) { d.body = "1\n"; }), over);
  EXPECT_EQ(statusWith([](Draft& d) { d.body = "\xED\xA0\x80"; }), over);  // a surrogate
  EXPECT_EQ(statusWith([](Draft& d) { d.body = std::string(limits::bodyBytes + 1, 'x'); }), over);
  EXPECT_EQ(statusWith([](Draft& d) { d.wall_ms = limits::integer + 1; }), over);
  EXPECT_EQ(statusOf(runBy(signer, course(), 0, genesisDigest(course()), {noteOn("A", "1")},
                           static_cast<std::uint64_t>(limits::integer) + 1)),
            over);
  const std::vector<Draft> many(limits::runRecords + 1, noteOn("A", "1"));
  EXPECT_EQ(statusOf(runBy(signer, course(), 0, genesisDigest(course()), many, 1)), over);
  const std::vector<Draft> large(17, noteOn("A", std::string(limits::bodyBytes, 'x')));
  EXPECT_EQ(statusOf(runBy(signer, course(), 0, genesisDigest(course()), large, 1)), over);
  // At the limits, and with a body that is no JSON at all, everything is taken.
  EXPECT_EQ(statusWith([](Draft& d) {
              d.type = std::string(32, 'z');
              d.subject = std::string(480, 'a');
              d.body = std::string(limits::bodyBytes, '}');
              d.wall_ms = -limits::integer;
              d.version = 0;
              d.clockSource = static_cast<ClockSource>(200);
            }),
            TakeStatus::taken);
}

TEST_F(Take, HighestCounterStopsNobodyFromWriting) {
  const std::uint64_t most = static_cast<std::uint64_t>(limits::integer);
  EXPECT_EQ(
      statusOf(runBy(signerOf(5), course(), 0, genesisDigest(course()), {noteOn("A", "1")}, most)),
      TakeStatus::taken);
  EXPECT_EQ(shed.write("A", "2").counter, most);
  EXPECT_EQ(shed.write("A", "3").counter, most);
}

TEST_F(Take, EmptyRunIsKnownOrAGap) {
  journal::Run run;
  run.origin = shed.journal().origin();
  run.after = 1;
  run.base = run.head = shed.journal().heads()[0].digest;
  run.signature = shed.journal().run(shed.journal().heads()[0], 0)->signature;
  EXPECT_EQ(statusOf(run), TakeStatus::known);
}

}  // namespace
}  // namespace swardwalk::journal
