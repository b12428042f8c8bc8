#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <signal.h>

#include <atomic>
#include <boost/json.hpp>
#include <filesystem>
#include <fstream>
#include <thread>

#include "tests/server/child.h"
#include "tests/server/course.h"
#include "tests/server/folder.h"

namespace swardwalk::server {
namespace {

namespace fs = std::filesystem;
namespace json = boost::json;
using testing::HasSubstr;

class Backup : public testing::Test {
 protected:
  Backup() { EXPECT_EQ(runServer({"import", "--data", shed, brindlewater}).status, 0); }

  Ended backUp() { return runServer({"backup", "--data", shed, "--to", file}); }
  Ended restoreTo(const std::string& data) {
    return runServer({"restore", "--data", data, "--from", file});
  }
  std::string sighting(const std::string& patch) {
    return writeText(folder / (patch + ".geojson"),
                     R"({"type":"FeatureCollection","features":[{"type":"Feature",
"geometry":{"type":"Point","coordinates":[-30.00002,40.00002]},
"properties":{"role":"sighting","patch":")" +
                         patch + R"(","kind":"bare","green":"Upper","seen":"2027-04-12T06:00:00Z",
"length_m":1,"width_m":0.5}}]})");
  }
  json::value progressOf(const std::string& data) {
    const Ended ended =
        runServer({"progress", "--data", data, "--on", lookDay, "--format", "json"});
    EXPECT_EQ(ended.status, 0) << ended.err;
    return json::parse(ended.out);
  }
  json::value checkOf(const std::string& data) {
    return json::parse(runServer({"check", "--data", data, "--format", "json"}).out);
  }

  /// In the middle of what somebody wrote.
  void damage(const std::string& journal) {
    const std::size_t at = contentOf(journal).find("\"seen\"");
    ASSERT_NE(at, std::string::npos);
    std::fstream bytes(journal, std::ios::in | std::ios::out | std::ios::binary);
    bytes.seekp(static_cast<std::streamoff>(at));
    for (int i = 0; i < 300; ++i) bytes.put('x');
  }

  TestFolder folder;
  std::string shed = folder / "shed";
  std::string file = folder / "kept.sqlite";
};

TEST_F(Backup, RestoredElsewhereGivesTheSameAnswers) {
  const Ended made = backUp();
  ASSERT_EQ(made.status, 0) << made.err;
  EXPECT_THAT(made.out, HasSubstr("it is whole"));
  const std::string other = folder / "other";
  const Ended restored = restoreTo(other);
  ASSERT_EQ(restored.status, 0) << restored.err;
  EXPECT_THAT(restored.out, HasSubstr("there was nothing to replace"));
  EXPECT_EQ(progressOf(other), progressOf(shed));
  EXPECT_EQ(checkOf(other).at("whole"), true);
  EXPECT_FALSE(fs::exists(file + "-wal")) << "a backup is one file";
}

TEST_F(Backup, IsRestoredIntoAFolderThatIsThereAndEmpty) {
  ASSERT_EQ(backUp().status, 0);
  const std::string other = folder / "other";
  ASSERT_TRUE(fs::create_directory(other));
  const Ended restored = restoreTo(other);
  EXPECT_EQ(restored.status, 0) << restored.err;
  EXPECT_EQ(checkOf(other).at("whole"), true);
}

TEST_F(Backup, UnderLoadIsWholeAndExchangesMendTheRest) {
  RunningShed serving(shed);
  std::atomic<bool> enough{false};
  std::thread writer([&] {
    for (int i = 0; !enough; ++i) {
      EXPECT_EQ(runServer({"import", "--data", shed, sighting(fmt::format("w{}", i))}).status, 0);
    }
  });
  for (int i = 0; i < 4; ++i) {
    const Ended made = backUp();
    EXPECT_EQ(made.status, 0) << made.err;
  }
  enough = true;
  writer.join();
  const std::string tablet = folder / "tablet";
  ASSERT_EQ(runServer({"exchange", "--data", tablet, "--with", serving.address()}).status, 0);
  const json::value before = progressOf(shed);
  serving.child().send(SIGTERM);
  EXPECT_EQ(serving.child().finish().status, 0);

  // The disk died: the shed is restored, and a tablet that met it after the backup comes.
  fs::remove_all(shed);
  ASSERT_EQ(restoreTo(shed).status, 0);
  EXPECT_EQ(checkOf(shed).at("whole"), true);
  RunningShed again(shed);
  ASSERT_EQ(runServer({"exchange", "--data", tablet, "--with", again.address()}).status, 0);
  EXPECT_EQ(progressOf(shed), before);
  EXPECT_EQ(checkOf(shed).at("whole"), true);
}

TEST_F(Backup, KeepsWhatItReplacesAndWritesOnUnderANewOrigin) {
  ASSERT_EQ(backUp().status, 0);
  ASSERT_EQ(runServer({"import", "--data", shed, sighting("later")}).status, 0);
  const json::value later = progressOf(shed);
  const Ended restored = runServer({"restore", "--data", shed, "--from", file, "--format", "json"});
  ASSERT_EQ(restored.status, 0) << restored.err;
  const std::string kept(json::parse(restored.out).at("replaced").as_string());
  EXPECT_EQ(progressOf(kept), later);
  EXPECT_NE(progressOf(shed), later);

  // What both wrote after the backup meets again, and nobody is called a forger (X3).
  ASSERT_EQ(runServer({"import", "--data", shed, sighting("anew")}).status, 0);
  EXPECT_EQ(checkOf(shed).at("origins"), 2);
  RunningShed serving(shed);
  const Ended met = runServer({"exchange", "--data", kept, "--with", serving.address()});
  EXPECT_EQ(met.status, 0) << met.err;
  EXPECT_EQ(progressOf(kept), progressOf(shed));
  EXPECT_EQ(progressOf(shed).at("patches").as_array().size(),
            later.at("patches").as_array().size() + 1);

  ASSERT_EQ(runServer({"backup", "--data", kept, "--to", file}).status, 0);
}

TEST_F(Backup, ADirectoryThatIsServedIsNotRestored) {
  ASSERT_EQ(backUp().status, 0);
  RunningShed serving(shed);
  const json::value before = progressOf(shed);
  const Ended refused = restoreTo(shed);
  EXPECT_EQ(refused.status, 1);
  EXPECT_THAT(refused.err, HasSubstr("stop the server"));
  EXPECT_FALSE(fs::exists(shed + "/replaced-1"));
  EXPECT_EQ(progressOf(shed), before);
}

TEST_F(Backup, ADamagedOneIsRefusedAndNothingIsTouched) {
  ASSERT_EQ(backUp().status, 0);
  damage(file);
  const json::value before = progressOf(shed);
  const Ended refused = restoreTo(shed);
  EXPECT_EQ(refused.status, 1);
  EXPECT_THAT(refused.err, HasSubstr("use another backup"));
  EXPECT_EQ(progressOf(shed), before);
  EXPECT_FALSE(fs::exists(shed + "/replaced-1"));
}

TEST_F(Backup, OfAnotherCourseIsRefused) {
  ASSERT_EQ(backUp().status, 0);
  const std::string other = folder / "other";
  ASSERT_EQ(runServer({"import", "--data", other, brindlewater}).status, 0);
  const Ended refused = restoreTo(other);
  EXPECT_EQ(refused.status, 1);
  EXPECT_THAT(refused.err, HasSubstr("another course"));
}

TEST_F(Backup, OfADamagedJournalLeavesTheLastGoodOne) {
  ASSERT_EQ(backUp().status, 0);
  const auto size = fs::file_size(file);
  damage(shed + "/journal.sqlite");
  EXPECT_EQ(backUp().status, 1);
  EXPECT_EQ(fs::file_size(file), size);
  EXPECT_FALSE(fs::exists(file + ".part"));
  ASSERT_EQ(restoreTo(shed).status, 0);
  EXPECT_EQ(checkOf(shed).at("whole"), true);
}

TEST_F(Backup, WhatIsNotThereIsSaid) {
  EXPECT_THAT(runServer({"backup", "--data", folder / "nobody", "--to", file}).err,
              HasSubstr("there is no journal in this directory"));
  EXPECT_THAT(runServer({"restore", "--data", shed, "--from", folder / "nothing"}).err,
              HasSubstr("there is no such backup"));
}

}  // namespace
}  // namespace swardwalk::server
