#include <SQLiteCpp/Database.h>
#include <gmock/gmock.h>
#include <sys/stat.h>

#include <fstream>
#include <iterator>

#include "common/journal/digest.h"
#include "common/journal/folder.h"
#include "tests/common/journal/devices.h"

namespace swardwalk::journal {
namespace {

using testing::HasSubstr;

std::string contentOf(const std::string& file) {
  std::ifstream in(file, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

Result<Journal> opened(const std::string& file, Fold& fold, bool readOnly = false) {
  JournalOptions options;
  options.file = file;
  options.readOnly = readOnly;
  return Journal::open(options, signerOf(1), fold);
}

TEST(File, NewerFileIsRefusedInWordsAndNotTouched) {
  TempFolder folder;
  { Device(folder.file("j"), 1).found(); }
  {
    SQLite::Database database(folder.file("j"), SQLite::OPEN_READWRITE);
    database.exec("PRAGMA user_version = 2");
  }
  const std::string before = contentOf(folder.file("j"));
  TallyFold fold;
  for (const bool readOnly : {false, true}) {
    const auto journal = opened(folder.file("j"), fold, readOnly);
    ASSERT_FALSE(journal);
    EXPECT_EQ(journal.error().kind, FailureKind::newer);
    EXPECT_THAT(journal.error().text(), HasSubstr(folder.file("j")));
  }
  EXPECT_EQ(contentOf(folder.file("j")), before);
  EXPECT_EQ(fold.tablesMade, 0);
}

TEST(File, ForeignFilesAreRefusedAndNotTouched) {
  TempFolder folder;
  {
    SQLite::Database database(folder.file("foreign"), SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE);
    database.exec("CREATE TABLE plants (name TEXT)");
  }
  std::ofstream(folder.file("text")) << std::string(5000, 'x');
  TallyFold fold;
  for (const char* name : {"foreign", "text"}) {
    const std::string before = contentOf(folder.file(name));
    const auto journal = opened(folder.file(name), fold);
    ASSERT_FALSE(journal);
    EXPECT_EQ(journal.error().kind, FailureKind::corrupt);
    EXPECT_EQ(contentOf(folder.file(name)), before);
  }
}

TEST(File, LookingOnlyMakesNothing) {
  TempFolder folder;
  TallyFold fold;
  const auto journal = opened(folder.file("j"), fold, true);
  ASSERT_FALSE(journal);
  EXPECT_EQ(journal.error().kind, FailureKind::notFound);
  EXPECT_FALSE(std::filesystem::exists(folder.file("j")));
}

TEST(File, LookingOnlyRefusesToWrite) {
  TempFolder folder;
  { Device(folder.file("j"), 1).found(); }
  JournalOptions options;
  options.readOnly = true;
  Device looking(folder.file("j"), 1, options);
  const Draft draft = noteOn("A", "1");
  const auto written = looking.journal().append({&draft, 1});
  ASSERT_FALSE(written);
  EXPECT_EQ(written.error().kind, FailureKind::refused);
  EXPECT_FALSE(looking.journal().setNote("a", "b"));
}

TEST(File, LookingOnlySeesWhatAWriterCommitsMeanwhile) {
  TempFolder folder;
  Device shed(folder.file("j"), 1);
  shed.found();
  JournalOptions options;
  options.readOnly = true;
  Device looking(folder.file("j"), 1, options);
  shed.write("A", "1");
  EXPECT_EQ(looking.journal().recordCount(), 2U);
  EXPECT_EQ(looking.state(), shed.state());
}

TEST(File, AnotherFoldVersionMakesTheStateAnew) {
  TempFolder folder;
  std::string state;
  std::uint64_t changes = 0;
  {
    Device shed(folder.file("j"), 1);
    shed.found();
    for (int i = 0; i < 2; ++i) shed.write("A", std::to_string(i));
    const std::vector<Draft> more(600, noteOn("B", "1"));
    ASSERT_TRUE(shed.journal().append(more));
    state = shed.state();
    changes = shed.journal().changeCount();
    shed.journal().database().exec("DELETE FROM tally");
  }
  JournalOptions options;
  options.file = folder.file("j");
  std::vector<std::pair<std::uint64_t, std::uint64_t>> progress;
  options.onRebuild = [&](std::uint64_t done, std::uint64_t all) {
    progress.emplace_back(done, all);
  };
  TallyFold later(2);
  const auto journal = Journal::open(options, signerOf(1), later);
  ASSERT_TRUE(journal) << journal.error().text();
  EXPECT_EQ(later.stateText(journal->database()), state);
  EXPECT_EQ(later.tablesMade, 1);
  EXPECT_GT(journal->changeCount(), changes);
  ASSERT_FALSE(progress.empty());
  EXPECT_GT(progress.size(), 1U);
  EXPECT_EQ(progress.back(), (std::pair<std::uint64_t, std::uint64_t>(603, 603)));
}

TEST(File, LookingOnlyRefusesAStateOfAnotherFoldVersion) {
  TempFolder folder;
  { Device(folder.file("j"), 1).found(); }
  TallyFold later(2);
  const auto older = opened(folder.file("j"), later, true);
  ASSERT_FALSE(older);
  EXPECT_EQ(older.error().kind, FailureKind::busy);
  TallyFold earlier(0);
  const auto newer = opened(folder.file("j"), earlier, true);
  ASSERT_FALSE(newer);
  EXPECT_EQ(newer.error().kind, FailureKind::newer);
  EXPECT_EQ(later.tablesMade + earlier.tablesMade, 0);
}

TEST(File, FoldThatFailsLeavesTheFileAsItWas) {
  TempFolder folder;
  Device shed(folder.file("j"), 1);
  shed.found();
  shed.journal().database().exec(
      "CREATE TRIGGER trouble BEFORE INSERT ON tally BEGIN SELECT RAISE(ABORT, 'no'); END");
  const Draft draft = noteOn("A", "1");
  const auto failed = shed.journal().append({&draft, 1});
  ASSERT_FALSE(failed);
  EXPECT_THAT(failed.error().text(), HasSubstr("SQLITE_CONSTRAINT_TRIGGER"));
  EXPECT_EQ(shed.journal().recordCount(), 1U);
  shed.journal().database().exec("DROP TRIGGER trouble");
  EXPECT_EQ(shed.write("A", "1").number, 2U);
}

TEST(File, FullDiskIsSaidInWordsAndLeavesTheJournalWhole) {
  TempFolder folder;
  Device shed(folder.file("j"), 1);
  shed.found();
  shed.journal().database().exec("PRAGMA max_page_count = 40");
  std::optional<Failure> failure;
  for (int i = 0; i < 100 && !failure; ++i) {
    const Draft draft = noteOn("A", std::string(20'000, 'x'));
    if (const auto written = shed.journal().append({&draft, 1}); !written)
      failure = written.error();
  }
  ASSERT_TRUE(failure);
  EXPECT_EQ(failure->kind, FailureKind::full);
  EXPECT_THAT(failure->text(), HasSubstr("SQLITE_FULL"));
  EXPECT_THAT(failure->where, HasSubstr(folder.path()));
  EXPECT_TRUE(shed.journal().check()->whole);
}

TEST(File, SomebodyWhoWritesTooLongIsBusy) {
  TempFolder folder;
  Device shed(folder.file("j"), 1);
  shed.found();
  SQLite::Database other(folder.file("j"), SQLite::OPEN_READWRITE);
  other.exec("BEGIN IMMEDIATE");
  shed.journal().database().setBusyTimeout(0);
  const Draft draft = noteOn("A", "1");
  const auto written = shed.journal().append({&draft, 1});
  ASSERT_FALSE(written);
  EXPECT_EQ(written.error().kind, FailureKind::busy);
  EXPECT_EQ(shed.journal().recordCount(), 1U);  // looking is not held up
  other.exec("ROLLBACK");
  EXPECT_EQ(shed.write("A", "1").number, 2U);
}

TEST(File, NotesAreKeptAndCountAsNoChange) {
  TempFolder folder;
  {
    Device shed(folder.file("j"), 1);
    shed.found();
    const auto changes = shed.journal().changeCount();
    EXPECT_EQ(shed.journal().note("peer"), std::nullopt);
    ASSERT_TRUE(shed.journal().setNote("peer", "one"));
    ASSERT_TRUE(shed.journal().setNote("peer", std::string("two\0", 4)));
    ASSERT_TRUE(shed.journal().setNote("empty", ""));
    EXPECT_EQ(shed.journal().changeCount(), changes);
  }
  Device again(folder.file("j"), 1);
  EXPECT_EQ(again.journal().note("peer"), std::string("two\0", 4));
  EXPECT_EQ(again.journal().note("empty"), "");
}

TEST(File, EveryChangeCounts) {
  TempFolder folder;
  Device shed(folder.file("j"), 1);
  std::uint64_t last = shed.journal().changeCount();
  const auto grew = [&] {
    const std::uint64_t now = shed.journal().changeCount();
    return now > std::exchange(last, now);
  };
  EXPECT_FALSE(grew());
  shed.found();
  EXPECT_TRUE(grew());
  const Record record = shed.write("A", "1");
  EXPECT_TRUE(grew());
  ASSERT_TRUE(shed.journal().erase(record.digest));
  EXPECT_TRUE(grew());
  ASSERT_TRUE(shed.journal().changeOrigin(signerOf(2), "restored", 0));
  EXPECT_TRUE(grew());
  EXPECT_FALSE(grew());
}

TEST(Folder, MakesJournalAndKeyThatOnlyTheOwnerReads) {
  TempFolder folder;
  TallyFold fold;
  const std::string directory = folder.file("deep/course");
  OriginKey origin{};
  {
    auto journal = openFolder(directory, Missing::make, fold);
    ASSERT_TRUE(journal) << journal.error().text();
    origin = journal->origin();
  }
  struct stat status {};
  ASSERT_EQ(::stat((directory + "/origin.key").c_str(), &status), 0);
  EXPECT_EQ(status.st_mode & 0777, 0600U);
  const auto again = openFolder(directory, Missing::refuse, fold);
  ASSERT_TRUE(again) << again.error().text();
  EXPECT_EQ(again->origin(), origin);
  EXPECT_EQ(contentOf(directory + "/origin.key").size(), 23U + 65U);
}

TEST(Folder, WithoutAJournalIsNotFoundAndStaysAsItIs) {
  TempFolder folder;
  TallyFold fold;
  const auto journal = openFolder(folder.file("none"), Missing::refuse, fold);
  ASSERT_FALSE(journal);
  EXPECT_EQ(journal.error().kind, FailureKind::notFound);
  EXPECT_FALSE(std::filesystem::exists(folder.file("none")));
}

TEST(Folder, LostKeyMeansANewOrigin) {
  TempFolder folder;
  TallyFold fold;
  OriginKey lost{};
  {
    auto journal = openFolder(folder.path(), Missing::make, fold);
    ASSERT_TRUE(journal->found(testNonce, 0, "shed"));
    lost = journal->origin();
  }
  std::filesystem::remove(folder.file("origin.key"));
  auto journal = openFolder(folder.path(), Missing::refuse, fold);
  ASSERT_TRUE(journal);
  EXPECT_NE(journal->origin(), lost);
  const Draft draft = noteOn("A", "1");
  ASSERT_TRUE(journal->append({&draft, 1}));
  EXPECT_EQ(journal->heads().size(), 2U);
}

TEST(Folder, DamagedKeyIsSaidAndNotReplaced) {
  TempFolder folder;
  std::ofstream(folder.file("origin.key")) << "swardwalk origin key 1\n00ff\n";
  TallyFold fold;
  const auto journal = openFolder(folder.path(), Missing::make, fold);
  ASSERT_FALSE(journal);
  EXPECT_EQ(journal.error().kind, FailureKind::corrupt);
  EXPECT_EQ(contentOf(folder.file("origin.key")), "swardwalk origin key 1\n00ff\n");
}

TEST(Folder, RenewedOriginLastsAndFollowsTheOldOne) {
  TempFolder folder;
  TallyFold fold;
  OriginKey renewed{};
  {
    auto journal = openFolder(folder.path(), Missing::make, fold);
    ASSERT_TRUE(journal->found(testNonce, 0, "shed"));
    const OriginKey old = journal->origin();
    ASSERT_TRUE(renewOrigin(*journal, folder.path(), "restored", 5));
    renewed = journal->origin();
    EXPECT_NE(renewed, old);
  }
  const auto again = openFolder(folder.path(), Missing::refuse, fold);
  EXPECT_EQ(again->origin(), renewed);
  EXPECT_EQ(again->heads().size(), 2U);
}

TEST(Folder, KeyFileIsNeverOverwritten) {
  TempFolder folder;
  ASSERT_TRUE(signerOf(1).write(folder.file("key")));
  const auto second = signerOf(2).write(folder.file("key"));
  ASSERT_FALSE(second);
  EXPECT_EQ(second.error().kind, FailureKind::refused);
  EXPECT_EQ(Signer::read(folder.file("key"))->origin(), signerOf(1).origin());
}

TEST(Erase, BodyIsGoneFromTheFilesAndTheChainStaysWhole) {
  TempFolder folder;
  Device shed(folder.file("j"), 1);
  shed.found();
  const std::string name = "\"a name that must go, " + std::string(9000, 'n') + "\"";
  const Record person = shed.write("P", name);
  shed.write("A", "1");
  const Digest vector = shed.journal().vector();
  ASSERT_TRUE(shed.journal().erase(person.digest));
  EXPECT_EQ(shed.journal().vector(), vector);
  EXPECT_TRUE(shed.journal().check()->whole);
  EXPECT_TRUE(shed.journal().check()->stateMatches);
  for (const char* file : {"j", "j-wal"}) {
    EXPECT_THAT(contentOf(folder.file(file)), testing::Not(HasSubstr("a name that must go")));
    EXPECT_THAT(contentOf(folder.file(file)), testing::Not(HasSubstr("nnnnnnnn")));
  }
  ASSERT_TRUE(shed.journal().erase(person.digest));  // once more does no harm
}

TEST(Erase, ErasedRecordTravelsWithoutItsBody) {
  TempFolder folder;
  Device shed(folder.file("j"), 1);
  shed.found();
  const Record person = shed.write("P", "\"name\"");
  const auto before = allRuns(shed.journal());
  ASSERT_TRUE(shed.journal().erase(person.digest));
  Device tablet(folder.file("t"), 2);
  tablet.adoptFrom(shed);
  expectTaken(tablet.journal(), allRuns(shed.journal()), TakeStatus::taken);
  EXPECT_EQ(tablet.journal().vector(), shed.journal().vector());
  EXPECT_EQ(tablet.state(), shed.state());
  EXPECT_TRUE(tablet.journal().check()->whole);
  // Somebody who still has the body gives it to nobody who erased it.
  expectTaken(shed.journal(), before, TakeStatus::known);
  EXPECT_TRUE(shed.journal().run(shed.journal().heads()[0], 0)->records[1].erased);
}

TEST(Erase, UnknownDigestIsNotFoundAndTheFirstRecordStays) {
  TempFolder folder;
  Device shed(folder.file("j"), 1);
  shed.found();
  EXPECT_EQ(shed.journal().erase(Digest{}).error().kind, FailureKind::notFound);
  EXPECT_EQ(shed.journal().erase(shed.journal().heads()[0].digest).error().kind,
            FailureKind::refused);
}

}  // namespace
}  // namespace swardwalk::journal
