#include <SQLiteCpp/Database.h>
#include <gmock/gmock.h>

#include <fstream>
#include <iterator>

#include "tests/common/journal/devices.h"

namespace swardwalk::journal {
namespace {

using testing::HasSubstr;

std::string contentOf(const std::string& file) {
  std::ifstream in(file, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

/// Flips the lowest bit of a byte in the middle of `bytes`, which stand in the file once.
void flipIn(const std::string& file, std::string_view bytes) {
  std::string content = contentOf(file);
  const auto at = content.find(bytes);
  ASSERT_NE(at, std::string::npos);
  ASSERT_EQ(content.find(bytes, at + 1), std::string::npos);
  content[at + bytes.size() / 2] ^= 1;
  std::ofstream(file, std::ios::binary) << content;
}

template <std::size_t Size>
std::string_view view(const std::array<std::uint8_t, Size>& bytes) {
  return {reinterpret_cast<const char*>(bytes.data()), Size};
}

class Check : public testing::Test {
 protected:
  Check() {
    Device shed(file(), 1);
    shed.found();
    shed.write("A", "\"an ordinary morning\"");
    middle = shed.write("B", "\"a wet morning\"");
    shed.write("A", "\"a dry morning\"");
    Device tablet(folder.file("tablet"), 2);
    tablet.adoptFrom(shed);
    tablet.write("C", "1");
    expectTaken(shed.journal(), allRuns(tablet.journal()), TakeStatus::taken);
  }

  std::string file() const { return folder.file("j"); }
  CheckReport reported() {
    JournalOptions options;
    options.readOnly = true;
    const auto report = Device(file(), 9, options).journal().check();
    EXPECT_TRUE(report) << report.error().text();
    return report.value_or(CheckReport());
  }
  static std::string words(const CheckReport& report) {
    std::string all;
    for (const Finding& finding : report.findings)
      all += finding.where + ": " + finding.what + "; " + finding.todo + "\n";
    return all;
  }

  TempFolder folder;
  Record middle;
};

TEST_F(Check, WholeJournalHasNoFindings) {
  const CheckReport report = reported();
  EXPECT_TRUE(report.whole);
  EXPECT_TRUE(report.stateMatches);
  EXPECT_EQ(report.records, 6U);
  EXPECT_EQ(report.origins, 2U);
  EXPECT_EQ(words(report), "");
}

TEST_F(Check, WritesNothing) {
  const auto names = [&] {
    std::vector<std::string> all;
    for (const auto& entry : std::filesystem::directory_iterator(folder.path()))
      all.push_back(entry.path().filename().string());
    std::sort(all.begin(), all.end());
    return all;
  };
  const std::string before = contentOf(file());
  const auto namesBefore = names();
  reported();
  EXPECT_EQ(contentOf(file()), before);
  EXPECT_EQ(names(), namesBefore);
}

TEST_F(Check, FlippedBitInABodyIsFoundAndNamed) {
  // The state holds the newest bodies, too: erase that copy from the search by taking one
  // that is older.
  flipIn(file(), "\"an ordinary morning\"");
  const CheckReport report = reported();
  EXPECT_FALSE(report.whole);
  EXPECT_THAT(words(report), HasSubstr("record 2 of origin " + hex(signerOf(1).origin())));
  EXPECT_THAT(words(report), HasSubstr("its body is not what was written"));
}

TEST_F(Check, FlippedBitInADigestIsFoundAndNamed) {
  flipIn(file(), view(middle.digest));
  const CheckReport report = reported();
  EXPECT_FALSE(report.whole);
  EXPECT_THAT(words(report), HasSubstr("record 3 of origin " + hex(signerOf(1).origin()) +
                                       ": its digest does not fit"));
}

TEST_F(Check, FlippedBitInASignatureIsFoundAndNamed) {
  std::string signature;
  {
    Device shed(file(), 1);
    signature = std::string(view(shed.journal().run(shed.journal().heads()[0], 0)->signature));
  }
  flipIn(file(), signature);
  const CheckReport report = reported();
  EXPECT_FALSE(report.whole);
  EXPECT_THAT(words(report), HasSubstr("its origin did not sign it"));
}

TEST_F(Check, DamagedPageIsFoundWithoutFailing) {
  std::string content = contentOf(file());
  // The page with the records themselves, from its header on.
  const auto at = content.find("\"an ordinary morning\"") / 4096 * 4096;
  content.replace(at, 64, std::string(64, '\xEE'));
  std::ofstream(file(), std::ios::binary) << content;
  const CheckReport report = reported();
  EXPECT_FALSE(report.whole);
  EXPECT_THAT(words(report), HasSubstr("SQLITE_CORRUPT"));
}

TEST_F(Check, RecordThatIsGoneIsFound) {
  {
    SQLite::Database database(file(), SQLite::OPEN_READWRITE);
    database.exec("DROP TRIGGER records_stay; DELETE FROM records WHERE subject = 'B'");
  }
  const CheckReport report = reported();
  EXPECT_FALSE(report.whole);
  EXPECT_THAT(words(report), HasSubstr("record 3 of origin " + hex(signerOf(1).origin()) +
                                       ": the record is missing"));
}

TEST_F(Check, StateThatIsNotWhatTheRecordsSayIsFound) {
  {
    SQLite::Database database(file(), SQLite::OPEN_READWRITE);
    database.exec("UPDATE tally SET records = records + 1 WHERE subject = 'A'");
  }
  const CheckReport report = reported();
  EXPECT_TRUE(report.whole);
  EXPECT_FALSE(report.stateMatches);
  EXPECT_THAT(words(report), HasSubstr("the state is not what its records say"));
}

TEST_F(Check, WaitingRecordsAreCheckedAndStayOutOfTheState) {
  {
    Device shed(file(), 1);
    Device stranger(folder.file("stranger"), 3);
    stranger.adoptFrom(shed);
    stranger.write("D", "1");
    expectTaken(shed.journal(), allRuns(stranger.journal()), TakeStatus::taken, Vouching::waiting);
  }
  const CheckReport report = reported();
  EXPECT_EQ(words(report), "");
  EXPECT_EQ(report.records, 8U);
}

TEST_F(Check, BlankJournalIsWhole) {
  { Device blank(folder.file("blank"), 1); }
  JournalOptions options;
  options.readOnly = true;
  Device blank(folder.file("blank"), 1, options);
  EXPECT_TRUE(blank.journal().check()->whole);
}

}  // namespace
}  // namespace swardwalk::journal
