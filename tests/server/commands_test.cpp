#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <boost/json.hpp>
#include <filesystem>

#include "tests/server/child.h"
#include "tests/server/course.h"
#include "tests/server/folder.h"

namespace swardwalk::server {
namespace {

namespace json = boost::json;
using testing::EndsWith;
using testing::HasSubstr;
using testing::StartsWith;

long linesIn(const std::string& text) { return std::count(text.begin(), text.end(), '\n'); }

class Commands : public testing::Test {
 protected:
  Printed import(const std::string& file, const char* more = nullptr) {
    std::vector<const char*> words{"import",     "--data",   data.c_str(),
                                   file.c_str(), "--format", "json"};
    if (more) words.push_back(more);
    return runHere(words);
  }

  json::object tally(const Printed& printed) { return json::parse(printed.out).as_object(); }

  TestFolder folder;
  std::string data = folder / "data";
};

TEST_F(Commands, ImportTakesACourseFileOnce) {
  const Printed first = import(brindlewater);
  EXPECT_EQ(first.status, 0) << first.err;
  const auto features = tally(first).at("new").to_number<int>();
  EXPECT_EQ(features, 49);  // as many as the file holds
  const Printed second = import(brindlewater);
  EXPECT_EQ(second.status, 0);
  EXPECT_EQ(tally(second).at("new"), 0);
  EXPECT_EQ(tally(second).at("known"), features);
}

TEST_F(Commands, ImportOfABadFeatureTakesNothingAndNamesIt) {
  const std::string bad = writeText(folder / "bad.geojson", R"({"type":"FeatureCollection",
"features":[{"type":"Feature","geometry":{"type":"Point","coordinates":[-30.00002,40.00002]},"properties":{"role":"course","name":"B"}},
{"type":"Feature","geometry":null,"properties":{"role":"gnome","name":"G"}}]})");
  const Printed printed = import(bad);
  EXPECT_EQ(printed.status, 1);
  EXPECT_EQ(linesIn(printed.err), 1) << printed.err;
  EXPECT_THAT(printed.err, HasSubstr("bad.geojson"));
  EXPECT_EQ(tally(printed).at("new"), 0);
  EXPECT_EQ(tally(printed).at("refused"), 1);
  // It stays blank, and can still take the course of a shed.
  EXPECT_EQ(runHere({"export", "--data", data.c_str(), "--as", "records"}).status, 1);
  const Printed skipped = import(bad, "--skip-bad");
  EXPECT_EQ(skipped.status, 1);
  EXPECT_EQ(tally(skipped).at("new"), 1);
}

TEST_F(Commands, ImportSaysWhatItDoesNotTakeYet) {
  const std::string track = writeText(folder / "walk.gpx", "<?xml version=\"1.0\"?><gpx/>");
  const Printed printed = import(track);
  EXPECT_EQ(printed.status, 1);
  EXPECT_THAT(printed.err, HasSubstr("walk.gpx: GPX, KML and CSV are not taken"));
  EXPECT_EQ(import(folder / "nowhere.geojson").status, 1);
  EXPECT_EQ(import(writeText(folder / "note.txt", "hello")).status, 1);
}

TEST_F(Commands, RecordLinesCarryACourseIntoAnotherDirectory) {
  ASSERT_EQ(import(brindlewater).status, 0);
  const std::string lines = folder / "lines";
  ASSERT_EQ(
      runHere({"export", "--data", data.c_str(), "--as", "records", "--to", lines.c_str()}).status,
      0);
  const std::string other = folder / "other";
  const Printed taken =
      runHere({"import", "--data", other.c_str(), lines.c_str(), "--format", "json"});
  EXPECT_EQ(taken.status, 0) << taken.err;
  EXPECT_GE(tally(taken).at("new").to_number<int>(), 49);
  const Printed again =
      runHere({"import", "--data", other.c_str(), lines.c_str(), "--format", "json"});
  EXPECT_EQ(tally(again).at("new"), 0);
  EXPECT_EQ(tally(again).at("known"), tally(taken).at("new"));
}

TEST_F(Commands, RecordLinesThatAreCutBeforeTheirFirstRunGiveNoCourse) {
  ASSERT_EQ(import(brindlewater).status, 0);
  const std::string lines = folder / "lines";
  ASSERT_EQ(
      runHere({"export", "--data", data.c_str(), "--as", "records", "--to", lines.c_str()}).status,
      0);
  const std::string whole = contentOf(lines);
  const std::string other = folder / "other";
  const std::size_t secondLine = whole.find('\n') + 1;
  for (const std::size_t cut : {secondLine, secondLine + 100}) {
    const std::string part = writeText(folder / "part", whole.substr(0, cut));
    // Nor does a course file beside it found another one, into which the records never fit.
    for (const std::string& beside : {part, std::string(brindlewater)}) {
      const Printed printed =
          runHere({"import", "--data", other.c_str(), part.c_str(), beside.c_str()});
      EXPECT_EQ(printed.status, 1);
      EXPECT_THAT(printed.err, HasSubstr("part: it is cut before its first records"));
      EXPECT_EQ(runHere({"export", "--data", other.c_str(), "--as", "records"}).status, 1);
    }
  }
  const Printed taken = runHere(
      {"import", "--data", other.c_str(), lines.c_str(),
       writeText(folder / "course.geojson", contentOf(brindlewater)).c_str(), "--format", "json"});
  EXPECT_EQ(taken.status, 0) << taken.err;
  EXPECT_EQ(tally(taken).at("known").to_number<int>(), 49) << "the same features once more";
}

TEST_F(Commands, ADamagedStickIsTakenAsFarAsItGoesAndKeptAside) {
  ASSERT_EQ(import(brindlewater).status, 0);
  const std::string stick = folder / "stick";
  const auto exchange = [&](const std::string& at) {
    return runHere({"exchange", "--data", at.c_str(), "--with", stick.c_str()});
  };
  ASSERT_EQ(exchange(data).status, 0);
  const std::string whole = contentOf(stick);
  const std::string cut = whole.substr(0, whole.find('\n') + 100);
  const std::string blank = folder / "blank";
  writeText(stick, cut);
  Printed printed = exchange(blank);
  EXPECT_EQ(printed.status, 1);
  EXPECT_THAT(printed.err, HasSubstr("Nothing of it was taken"));
  EXPECT_EQ(contentOf(stick), cut) << "left as it is: there was nothing to write";
  // A journal that knows its course writes a whole one, and leaves the damaged one beside it.
  for (const char* name : {"stick.damaged", "stick.damaged-2"}) {
    writeText(stick, cut);
    printed = exchange(data);
    EXPECT_EQ(printed.status, 1);
    EXPECT_THAT(printed.err,
                HasSubstr(std::string("The damaged file is kept as ") + (folder / name)));
    EXPECT_EQ(contentOf(folder / name), cut);
  }
  EXPECT_EQ(exchange(blank).status, 0);
}

TEST_F(Commands, AnOriginFromAFileCountsOnceItIsAccepted) {
  ASSERT_EQ(import(brindlewater).status, 0);
  const std::string stick = folder / "stick";
  const auto exchange = [&](const std::string& with) {
    return runHere({"exchange", "--data", with.c_str(), "--with", stick.c_str()});
  };
  const std::string tablet = folder / "tablet";
  ASSERT_EQ(exchange(data).status, 0);
  ASSERT_EQ(exchange(tablet).status, 0);
  const std::string mark = writeText(
      folder / "seen.geojson",
      R"({"type":"FeatureCollection","features":[{"type":"Feature","geometry":{"type":"Point","coordinates":[-30.00002,40.00002]},
"properties":{"role":"sighting","patch":"t1","kind":"bare","green":"Upper",
"seen":"2027-04-12T06:00:00Z","length_m":1,"width_m":0.5}}]})");
  ASSERT_EQ(runHere({"import", "--data", tablet.c_str(), mark.c_str()}).status, 0);
  ASSERT_EQ(exchange(tablet).status, 0);
  const Printed met = exchange(data);
  EXPECT_THAT(met.err, HasSubstr("1 origin waits"));

  const auto patches = [&] {
    const Printed printed = runHere({"progress", "--data", data.c_str(), "--format", "json"});
    return json::parse(printed.out).at("patches").as_array().size();
  };
  EXPECT_EQ(patches(), 8U);
  // The writer of a file states its origin first.
  const std::string lines = runHere({"export", "--data", tablet.c_str(), "--as", "records"}).out;
  const std::string prefix = lines.substr(lines.find("\"origin\":\"") + 10, 12);
  const Printed accepted = runHere({"accept", "--data", data.c_str(), prefix.c_str()});
  EXPECT_EQ(accepted.status, 0) << accepted.err;
  EXPECT_THAT(accepted.out, StartsWith(prefix));
  EXPECT_EQ(patches(), 9U);
  EXPECT_THAT(runHere({"accept", "--data", data.c_str(), prefix.c_str()}).out,
              HasSubstr("was accepted before"));
}

TEST_F(Commands, AcceptSaysWhichOriginItDoesNotKnow) {
  ASSERT_EQ(import(brindlewater).status, 0);
  EXPECT_THAT(runHere({"accept", "--data", data.c_str(), "ffff"}).err,
              HasSubstr("8 or more digits"));
  const Printed unknown = runHere({"accept", "--data", data.c_str(), "0000000000"});
  EXPECT_EQ(unknown.status, 1);
  EXPECT_EQ(linesIn(unknown.err), 1);
}

TEST_F(Commands, ExportGivesTheFeaturesBack) {
  ASSERT_EQ(import(brindlewater).status, 0);
  const Printed given = runHere({"export", "--data", data.c_str(), "--as", "geojson"});
  EXPECT_EQ(given.status, 0);
  EXPECT_EQ(json::parse(given.out).at("features").as_array().size(), 49U);
  const std::string file = writeText(folder / "again.geojson", given.out);
  EXPECT_EQ(tally(import(file)).at("new"), 0);
}

TEST_F(Commands, ExportToAFileThatCannotBeMadeLeavesNothing) {
  ASSERT_EQ(import(brindlewater).status, 0);
  const std::string nowhere = folder / "no/such/file";
  const Printed printed =
      runHere({"export", "--data", data.c_str(), "--as", "geojson", "--to", nowhere.c_str()});
  EXPECT_EQ(printed.status, 1);
  EXPECT_THAT(printed.err, StartsWith(nowhere));
}

TEST_F(Commands, AFormatOfLaterIsRefusedInWords) {
  ASSERT_EQ(import(brindlewater).status, 0);
  const Printed printed = runHere({"export", "--data", data.c_str(), "--as", "gpx"});
  EXPECT_EQ(printed.status, 1);
  EXPECT_THAT(printed.err, HasSubstr("does not write it yet"));
}

TEST_F(Commands, CheckFindsAWholeJournal) {
  ASSERT_EQ(import(brindlewater).status, 0);
  const Printed printed = runHere({"check", "--data", data.c_str(), "--format", "json"});
  EXPECT_EQ(printed.status, 0) << printed.err;
  const json::object report = json::parse(printed.out).as_object();
  EXPECT_EQ(report.at("whole"), true);
  EXPECT_EQ(report.at("state_matches"), true);
  EXPECT_GE(report.at("records").to_number<int>(), 49);
  EXPECT_EQ(report.at("origins"), 1);
  EXPECT_TRUE(report.at("findings").as_array().empty());
}

TEST_F(Commands, AMissingDirectoryIsAnErrorWhereNothingIsMade) {
  for (const char* command : {"progress", "plan", "round", "check"}) {
    const Printed printed = runHere({command, "--data", data.c_str()});
    EXPECT_EQ(printed.status, 1) << command;
    EXPECT_EQ(linesIn(printed.err), 1) << printed.err;
    EXPECT_TRUE(printed.out.empty());
  }
  EXPECT_FALSE(std::filesystem::exists(data));
}

TEST_F(Commands, ProgressAndPlanPrintInEveryFormat) {
  ASSERT_EQ(import(brindlewater).status, 0);
  for (const char* command : {"progress", "plan"}) {
    for (const char* format : {"text", "json", "csv"}) {
      const Printed printed =
          runHere({command, "--data", data.c_str(), "--on", lookDay.c_str(), "--format", format});
      EXPECT_EQ(printed.status, 0) << command << " " << format;
      EXPECT_THAT(printed.out, testing::AnyOf(HasSubstr("U2"), HasSubstr("Upper 2")))
          << command << " " << format;
      EXPECT_THAT(printed.out, EndsWith("\n"));
      EXPECT_TRUE(printed.err.empty()) << printed.err;
    }
  }
}

TEST_F(Commands, TodayIsTheDefault) {
  ASSERT_EQ(import(brindlewater).status, 0);
  const Printed printed = runHere({"progress", "--data", data.c_str(), "--format", "json"});
  EXPECT_EQ(json::parse(printed.out).at("on"), json::value(lookDay));
}

TEST_F(Commands, TheProgramKeepsResultsAndMessagesApart) {
  const Ended wrong = runServer({"progress"});
  EXPECT_EQ(wrong.status, 2);
  EXPECT_TRUE(wrong.out.empty());
  EXPECT_EQ(linesIn(wrong.err), 1);
  const Ended missing = runServer({"check", "--data", data});
  EXPECT_EQ(missing.status, 1);
  EXPECT_TRUE(missing.out.empty());
  const Ended taken = runServer({"import", "--data", data, "--format", "json", brindlewater});
  EXPECT_EQ(taken.status, 0) << taken.err;
  EXPECT_EQ(json::parse(taken.out).at("new"), 49);
}

TEST_F(Commands, RescueSavesWhatADamagedJournalHolds) {
  ASSERT_EQ(import(brindlewater).status, 0);
  const std::string file = data + "/journal.sqlite";
  const std::string whole = contentOf(file);
  std::string spoilt = whole;
  const auto at = spoilt.find("\"role\"") != std::string::npos ? spoilt.find("\"role\"")
                                                               : spoilt.find("2027-04");
  ASSERT_NE(at, std::string::npos);
  spoilt[at + 2] ^= 1;
  writeText(file, spoilt);
  EXPECT_EQ(runHere({"check", "--data", data.c_str()}).status, 1);
  const std::string fresh = folder / "fresh";
  const Printed printed =
      runHere({"rescue", "--data", data.c_str(), "--to", fresh.c_str(), "--format", "json"});
  EXPECT_EQ(printed.status, 1);
  EXPECT_EQ(linesIn(printed.err), 1) << printed.err;
  EXPECT_EQ(tally(printed).at("records"), 50);  // the features and the origin's own first one
  EXPECT_EQ(tally(printed).at("without_body"), 1);
  EXPECT_EQ(runHere({"check", "--data", fresh.c_str()}).status, 0);
  EXPECT_EQ(contentOf(file), spoilt);
  // Never into a directory that holds something.
  EXPECT_EQ(runHere({"rescue", "--data", data.c_str(), "--to", fresh.c_str()}).status, 1);
}

TEST_F(Commands, AnErasedNameIsGoneWhereverExchangeAndStickGo) {
  const std::string looks = writeText(folder / "looks.geojson", R"({"type":"FeatureCollection",
"features":[{"type":"Feature","geometry":{"type":"Point","coordinates":[-30.00002,40.00002]},"properties":
{"role":"sighting","patch":"T1","kind":"bare","seen":"2027-04-10T06:00:00Z","area_m2":1,"author":"Tilde"}}]})");
  // By this machine's clock: a shed does not start before its own last record.
  ASSERT_EQ(runServer({"import", "--data", data, looks}).status, 0);
  const std::string stick = folder / "stick";
  const std::string byStick = folder / "by_stick";
  const std::string byNet = folder / "by_net";
  const auto passStick = [&] {
    for (const std::string& at : {data, byStick})
      EXPECT_EQ(runHere({"exchange", "--data", at.c_str(), "--with", stick.c_str()}).status, 0);
  };
  passStick();
  {
    const RunningShed shed(data);
    const auto exchange = [&] {
      return runHere({"exchange", "--data", byNet.c_str(), "--with", shed.address().c_str()});
    };
    ASSERT_EQ(exchange().status, 0);
    EXPECT_NE(contentOf(byNet + "/journal.sqlite").find("Tilde"), std::string::npos);
    // Beside the running shed.
    const Printed printed = runHere({"erase", "--data", data.c_str(), "Tilde", "--format", "json"});
    ASSERT_EQ(printed.status, 0) << printed.err;
    EXPECT_EQ(tally(printed).at("erased"), 1);
    EXPECT_EQ(tally(printed).at("rewritten"), 1);
    ASSERT_EQ(exchange().status, 0);
  }
  passStick();
  for (const std::string& at : {data, byNet, byStick}) {
    EXPECT_EQ(runHere({"check", "--data", at.c_str()}).status, 0) << at;
    // Nor in free pages, or in a log.
    EXPECT_EQ(contentOf(at + "/journal.sqlite").find("Tilde"), std::string::npos) << at;
    EXPECT_FALSE(std::filesystem::exists(at + "/journal.sqlite-wal")) << at;
    const Printed given = runHere({"export", "--data", at.c_str(), "--as", "geojson"});
    EXPECT_THAT(given.out, HasSubstr("T1"));
  }
  const Printed again = runHere({"erase", "--data", data.c_str(), "Tilde"});
  EXPECT_EQ(again.status, 1);
  EXPECT_EQ(linesIn(again.err), 1) << again.err;
}

TEST_F(Commands, ABundleHoldsNoNamesPlacesOrTexts) {
  ASSERT_EQ(import(brindlewater).status, 0);
  const std::string file = folder / "bundle.json";
  const Printed printed = runHere({"bundle", "--data", data.c_str(), "--to", file.c_str()});
  ASSERT_EQ(printed.status, 0) << printed.err;
  const std::string text = contentOf(file);
  const json::object bundle = json::parse(text).as_object();
  EXPECT_EQ(bundle.at("records").as_array().size(), 50U);
  EXPECT_EQ(bundle.at("whole"), true);
  for (const char* secret : {"Brindlewater", "Upper", "coordinates", "-30.0", "tmp"})
    EXPECT_EQ(text.find(secret), std::string::npos) << secret;
}

}  // namespace
}  // namespace swardwalk::server
