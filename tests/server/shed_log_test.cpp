#include "server/command/shed_log.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <signal.h>

#include <boost/json.hpp>

#include "tests/server/child.h"
#include "tests/server/course.h"
#include "tests/server/folder.h"

namespace swardwalk::server {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::Not;

std::string said(const std::string& message, const std::unordered_set<std::string>& names = {}) {
  const std::string time = "2027-04-12 06:40:00 ";
  const std::string kept = scrubbed(time + message, names);
  EXPECT_EQ(kept.substr(0, time.size()), time);
  return kept.substr(time.size());
}

TEST(ShedLog, PathsAddressesAndPlacesAreTakenOut) {
  EXPECT_EQ(said("error: /srv/somebody/journal.sqlite: disk full"), "error: * disk full");
  EXPECT_EQ(said("warning: a wrong code from 192.0.2.17"), "warning: a wrong code from *");
  EXPECT_EQ(said("warning: from [2001:db8::7]:443, again"), "warning: from *, again");
  EXPECT_EQ(said("info: at -30.00002 40.000021"), "info: at * *");
}

TEST(ShedLog, WhatTellsTheFaultStays) {
  const std::string line = "info: 475 records came in of device 8139770e in 0.25 s";
  EXPECT_EQ(said(line, {"Upper"}), line);
}

TEST(ShedLog, WordsOfNamesAreTakenOut) {
  std::unordered_set<std::string> names;
  addWords("Ann-Marie Ö. 7 of 12", names);
  EXPECT_THAT(names, testing::UnorderedElementsAre("Ann", "Marie", "Ö", "of"));
  EXPECT_EQ(said("info: Ann (Marie) took 12 of Announced", names),
            "info: * (*) took 12 * Announced");
}

TEST(ShedLog, TheNewestLinesOfBothFilesAreRead) {
  const TestFolder folder;
  EXPECT_THAT(newestLogLines(folder.path(), 3), testing::IsEmpty());
  writeText(folder / "shed.1.log", "1\n2\n");
  writeText(folder / "shed.log", "3\n4\n");
  EXPECT_THAT(newestLogLines(folder.path(), 3), ElementsAre("2", "3", "4"));
}

TEST(ShedLog, ABundleHoldsWhatTheShedSaidWithoutNamesAndPlaces) {
  const TestFolder folder;
  const std::string shedData = folder / "shed";
  const std::string tablet = folder / "tablet";
  ASSERT_EQ(runServer({"import", "--data", tablet, brindlewater}).status, 0);
  {
    RunningShed shed(shedData);
    ASSERT_EQ(runServer({"exchange", "--data", tablet, "--with", shed.address()}).status, 0);
    shed.child().send(SIGTERM);
    EXPECT_EQ(shed.child().finish().status, 0);
  }
  writeText(shedData + "/shed.1.log",
            "2027-04-12 06:40:00 error: " + shedData + "/journal.sqlite: Upper at 40.00021\n");
  const std::string file = folder / "bundle.json";
  ASSERT_EQ(runServer({"bundle", "--data", shedData, "--to", file}).status, 0);
  const std::string text = contentOf(file);
  const auto log = boost::json::serialize(boost::json::parse(text).at("log"));
  EXPECT_THAT(log, HasSubstr("records came in"));
  EXPECT_THAT(log, HasSubstr("2027-04-12 06:40:00 error: * * at *"));
  for (const std::string& secret : {folder.path(), std::string("Upper"), std::string("40.00021")}) {
    EXPECT_THAT(text, Not(HasSubstr(secret)));
  }
}

TEST(ShedLog, AShedWhoseLogCannotBeKeptServesAllTheSame) {
  const TestFolder folder;
  const std::string data = folder / "shed";
  ASSERT_EQ(runServer({"import", "--data", data, brindlewater}).status, 0);
  std::filesystem::create_directory(data + "/shed.log");
  RunningShed shed(data);
  EXPECT_EQ(runServer({"exchange", "--data", folder / "tablet", "--with", shed.address()}).status,
            0);
  shed.child().send(SIGTERM);
  EXPECT_THAT(shed.child().finish().err, HasSubstr("the log is not kept in a file"));
}

}  // namespace
}  // namespace swardwalk::server
