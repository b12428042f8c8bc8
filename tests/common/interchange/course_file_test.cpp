#include "common/interchange/course_file.h"

#include <gtest/gtest.h>

#include <algorithm>

#include "tests/common/interchange/files.h"

namespace swardwalk::interchange {
namespace {

using course::Device;
using course::point;
using course::square;

const std::string north = feature("green", R"({"name":"North"})", square(0, 0, 20));
const std::string seen = feature(
    "sighting", R"({"patch":"N1","kind":"bare","seen":"2027-04-10T06:00:00Z"})", point(3, 3));

TEST(ImportCourseFiles, TakesEveryRoleAndASecondImportAddsNothing) {
  Device device(1, nullptr);
  const std::size_t all = allRoles().size();
  EXPECT_EQ(counts(import(device, allRoles())), fmt::format("{} 0 0", all));
  const std::uint64_t records = device.journal().recordCount();
  EXPECT_EQ(counts(import(device, allRoles())), fmt::format("0 {} 0", all));
  EXPECT_EQ(device.journal().recordCount(), records);
  EXPECT_TRUE(device.state().unusable.empty());
}

TEST(ImportCourseFiles, NamesMayStandLaterInTheFile) {
  Device device(1, nullptr);
  std::vector<std::string> features = allRoles();
  std::reverse(features.begin(), features.end());
  EXPECT_EQ(counts(import(device, features)), fmt::format("{} 0 0", features.size()));
}

TEST(ImportCourseFiles, NamesMayStandInAnotherFileOfTheCallOrInTheJournal) {
  Device device(1, nullptr);
  const std::string mown = feature("mowing", R"({"green":"North","done":"2027-04-12T06:00:00Z"})");
  const std::string closed = feature("closed", R"({"patch":"N1","seen":"2027-04-12T06:00:00Z"})");
  const auto tally = importCourseFiles(
      device.journal(),
      {{"a.geojson", collection({mown})}, {"b.geojson", collection({north, seen})}}, {});
  ASSERT_TRUE(tally);
  EXPECT_EQ(counts(*tally), "3 0 0");
  EXPECT_EQ(counts(import(device, {closed})), "1 0 0");
}

TEST(ImportCourseFiles, ANameThatIsNowhereRefusesTheFeature) {
  const std::vector<std::pair<std::string, std::string>> cases{
      {feature("surround", R"({"green":"East","zone":"bank"})", square(0, 0, 5)),
       "course.geojson, feature 1, green: there is no green \"East\""},
      {feature("sighting",
               R"({"patch":"E1","kind":"bare","seen":"2027-04-10T06:00:00Z","green":"East"})",
               point(0, 0)),
       "green: there is no green \"East\""},
      {feature("sighting",
               R"({"patch":"E1","kind":"bare","seen":"2027-04-10T06:00:00Z",
                   "tapes":[{"mark":"Peg","distance_m":3}]})"),
       "tapes: there is no mark \"Peg\""},
      {feature("frame", R"({"green":"East","seen":"2027-04-10T06:00:00Z","squares_bare":1,
                            "squares":9})"),
       "no green"},
      {feature("closed", R"({"patch":"E1","seen":"2027-04-10T06:00:00Z"})"), "no patch \"E1\""},
      {feature("came_up", R"({"patch":"E1","seen":"2027-04-10T06:00:00Z"})"), "no patch"},
      {feature("choice", R"({"patch":"E1","choice":"leave"})"), "no patch"},
      {feature("repair", R"({"patch":"E1","done":"2027-04-10T06:00:00Z"})"), "no patch"},
      {feature("repair", R"({"green":"East","done":"2027-04-10T06:00:00Z"})"), "no green"},
      {feature("mowing", R"({"green":"East","done":"2027-04-10T06:00:00Z"})"), "no green"},
      {feature("round", R"({"green":"East","started":"2027-04-10T06:00:00Z"})"), "no green"},
      {feature("join", R"({"patch":"N1","same_as":"E1"})"), "no patch \"N1\""},
  };
  for (const auto& [bad, says] : cases) {
    Device device(1, nullptr);
    const ImportTally tally = import(device, {bad});
    EXPECT_EQ(counts(tally), "0 0 1") << bad;
    ASSERT_EQ(tally.refusals.size(), 1u);
    EXPECT_NE(tally.refusals[0].text().find(says), std::string::npos) << tally.refusals[0].text();
  }
}

TEST(ImportCourseFiles, MaterialsThatAreNowhereRefuseARepairAndAFeeding) {
  for (const char* material : {"fill", "seed_lot", "feed"}) {
    Device device(1, nullptr);
    const auto tally = import(
        device, {north, seen,
                 feature("repair", fmt::format(R"({{"patch":"N1","done":"2027-04-11T06:00:00Z",
                                                    "{}":"Unknown"}})",
                                               material))});
    EXPECT_EQ(counts(tally), "0 0 1");
    EXPECT_EQ(tally.refusals.at(0).text(),
              fmt::format("course.geojson, feature 3, {0}: there is no {0} \"Unknown\"; correct "
                          "the name, or import what it names in the same call",
                          material));
  }
  Device device(1, nullptr);
  EXPECT_EQ(counts(import(device, {north, feature("feeding",
                                                  R"({"green":"North","feed":"Unknown",
                                                      "done":"2027-04-11T06:00:00Z",
                                                      "product_kg":5})")})),
            "0 0 1");
}

TEST(ImportCourseFiles, NothingOfTheCallIsTakenWhereOneIsRefused) {
  Device device(1, nullptr);
  const std::string state = device.stateText();
  const auto tally = importCourseFiles(
      device.journal(),
      {{"good.geojson", collection({north})},
       {"bad.geojson", collection({seen, feature("fairway", R"({"name":"x"})")})}},
      {});
  ASSERT_TRUE(tally);
  EXPECT_EQ(counts(*tally), "0 0 1");
  EXPECT_EQ(tally->refusals.at(0).where, "bad.geojson, feature 2, role");
  EXPECT_EQ(device.stateText(), state);
}

TEST(ImportCourseFiles, SkipBadTakesTheGoodOnesAndWhatLeansOnNoBadOne) {
  Device device(1, nullptr);
  const std::string badGreen =
      feature("green", R"({"name":"East","stage":"old"})", square(0, 0, 5));
  const std::string leaning = feature(
      "sighting", R"({"patch":"E1","kind":"bare","seen":"2027-04-10T06:00:00Z","green":"East"})",
      point(0, 0));
  const std::string leaningOnThat =
      feature("closed", R"({"patch":"E1","seen":"2027-04-11T06:00:00Z"})");
  const auto tally = import(device, {leaningOnThat, badGreen, leaning, north, seen}, true);
  EXPECT_EQ(counts(tally), "2 0 3");
  EXPECT_EQ(device.state().patches.size(), 1u);
}

TEST(ImportCourseFiles, FilesThatAreNoCourseFileAreRefusedInWords) {
  const std::vector<std::pair<std::string, std::string>> cases{
      {"", "a.json, line 1, column 1: the JSON text ends too early"},
      {"{\n\"type\": nothing}", "a.json, line 2"},
      {"[]", "a.json: not a FeatureCollection"},
      {north, "a.json: not a FeatureCollection"},
      {R"({"type":"FeatureCollection"})", "a.json: it has no list of features"},
      {R"({"type":"FeatureCollection","features":[7]})", "a.json, feature 1: not a Feature"},
      {R"({"type":"FeatureCollection","features":[{"type":"Feature","geometry":null,
          "properties":null}]})",
       "feature 1: properties are missing"},
      {R"({"type":"FeatureCollection","features":[{"type":"Feature","geometry":null,
          "properties":{}}]})",
       "feature 1, role: missing"},
      {collection({feature("withdraw", R"({"record":"00"})")}), "\"withdraw\" is not known"},
      {std::string(1'000'000, '['), "more than 64 deep"},
  };
  for (const auto& [bytes, says] : cases) {
    Device device(1, nullptr);
    const auto tally = importCourseFiles(device.journal(), {{"a.json", bytes}}, {});
    ASSERT_TRUE(tally);
    EXPECT_EQ(counts(*tally), "0 0 1");
    EXPECT_NE(tally->refusals.at(0).text().find(says), std::string::npos)
        << tally->refusals.at(0).text();
  }
}

TEST(ImportCourseFiles, TakesAFileThatBeginsWithAByteOrderMark) {
  Device device(1, nullptr);
  const auto tally =
      importCourseFiles(device.journal(), {{"a", "\xEF\xBB\xBF" + collection({north})}}, {});
  EXPECT_EQ(counts(*tally), "1 0 0");
}

TEST(ImportCourseFiles, AnEmptyCollectionIsTakenAndWritesNothing) {
  Device device(1, nullptr);
  const auto records = device.journal().recordCount();
  EXPECT_EQ(counts(import(device, {})), "0 0 0");
  EXPECT_EQ(device.journal().recordCount(), records);
}

TEST(ImportCourseFiles, KeepsAuthorAndClockOfTheCall) {
  Device device(1, nullptr);
  ImportOptions options;
  options.wall_ms = 42;
  options.author = {9};
  ASSERT_TRUE(importCourseFiles(device.journal(), {{"a", collection({north})}}, options));
  journal::Record last;
  ASSERT_TRUE(device.journal().forEach([&](const journal::Record& record) {
    last = record;
    return true;
  }));
  EXPECT_EQ(last.content.wall_ms, 42);
  EXPECT_EQ(last.content.author, options.author);
}

}  // namespace
}  // namespace swardwalk::interchange
