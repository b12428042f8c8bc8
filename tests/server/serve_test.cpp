#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <signal.h>

#include <boost/json.hpp>

#include "tests/server/child.h"
#include "tests/server/course.h"
#include "tests/server/folder.h"

namespace swardwalk::server {
namespace {

namespace json = boost::json;
using testing::HasSubstr;
using testing::StartsWith;

Ended exchangeWith(const std::string& data, const std::string& address) {
  return runServer({"exchange", "--data", data, "--with", address, "--format", "json"});
}

json::value progressOf(const std::string& data) {
  const Ended ended = runServer({"progress", "--data", data, "--on", lookDay, "--format", "json"});
  EXPECT_EQ(ended.status, 0) << ended.err;
  return json::parse(ended.out);
}

/// A tablet's own sighting, as a course file.
std::string sightingFile(const TestFolder& folder, const std::string& patch) {
  return writeText(folder / (patch + ".geojson"),
                   R"({"type":"FeatureCollection","features":[{"type":"Feature",
"geometry":{"type":"Point","coordinates":[-30.00002,40.00002]},
"properties":{"role":"sighting","patch":")" +
                       patch + R"(","kind":"bare","green":"Upper","seen":"2027-04-12T06:00:00Z",
"length_m":1,"width_m":0.5}}]})");
}

TEST(Serve, ThreeDirectoriesKnowTheSameAfterTheyMet) {
  const TestFolder folder;
  const std::string shedData = folder / "shed";
  ASSERT_EQ(runServer({"import", "--data", shedData, brindlewater}).status, 0);
  RunningShed shed(shedData);
  const std::string a = folder / "a";
  const std::string b = folder / "b";
  const Ended first = exchangeWith(a, shed.address());
  ASSERT_EQ(first.status, 0) << first.err;
  EXPECT_GE(json::parse(first.out).at("received").to_number<int>(), 49);
  ASSERT_EQ(exchangeWith(b, shed.address() + "/").status, 0);

  ASSERT_EQ(runServer({"import", "--data", a, sightingFile(folder, "a1")}).status, 0);
  ASSERT_EQ(runServer({"import", "--data", b, sightingFile(folder, "b1")}).status, 0);
  const Ended sent = exchangeWith(a, shed.address());
  ASSERT_EQ(sent.status, 0) << sent.err;
  EXPECT_GE(json::parse(sent.out).at("sent").to_number<int>(), 1);
  ASSERT_EQ(exchangeWith(b, shed.address()).status, 0);
  ASSERT_EQ(exchangeWith(a, shed.address()).status, 0);
  const Ended nothingNew = exchangeWith(b, shed.address());
  EXPECT_EQ(json::parse(nothingNew.out).at("sent"), 0);
  EXPECT_EQ(json::parse(nothingNew.out).at("received"), 0);

  const json::value atShed = progressOf(shedData);
  EXPECT_EQ(atShed.at("patches").as_array().size(), 10U);
  EXPECT_EQ(progressOf(a), atShed);
  EXPECT_EQ(progressOf(b), atShed);
  for (const std::string& data : {shedData, a, b}) {
    EXPECT_EQ(runServer({"check", "--data", data}).status, 0) << data;
  }
}

TEST(Serve, AnotherServerOfTheCourseGetsAllThatATabletHolds) {
  const TestFolder folder;
  const std::string tablet = folder / "tablet";
  ASSERT_EQ(runServer({"import", "--data", tablet, brindlewater}).status, 0);
  ASSERT_EQ(runServer({"import", "--data", tablet, sightingFile(folder, "t1")}).status, 0);
  for (const char* name : {"first", "second"}) {
    const std::string data = folder / name;
    RunningShed shed(data);
    const Ended ended = exchangeWith(tablet, shed.address());
    ASSERT_EQ(ended.status, 0) << ended.err;
    EXPECT_EQ(progressOf(data), progressOf(tablet)) << name;
  }
}

TEST(Serve, AnExchangeGoesOnAfterTheShedWasKilledInIt) {
  const TestFolder folder;
  const std::string shedData = folder / "shed";
  ASSERT_EQ(runServer({"import", "--data", shedData, brindlewater}).status, 0);
  const std::string tablet = folder / "tablet";
  std::string address;
  {
    RunningShed shed(shedData);
    ASSERT_EQ(exchangeWith(tablet, shed.address()).status, 0);
    ASSERT_EQ(runServer({"import", "--data", tablet, sightingFile(folder, "t1")}).status, 0);
    // The tablet's program is on its way when the shed dies: it is served, or it is cut.
    Child exchanging({"exchange", "--data", tablet, "--with", shed.address()});
    shed.child().send(SIGKILL);
    const Ended cut = exchanging.finish();
    EXPECT_TRUE(cut.status == 0 || cut.status == 1) << cut.err;
    address = shed.address();
  }
  const Ended gone = exchangeWith(tablet, address);
  EXPECT_EQ(gone.status, 1);
  EXPECT_THAT(gone.err, HasSubstr("cannot be reached"));

  RunningShed again(shedData);
  ASSERT_EQ(exchangeWith(tablet, again.address()).status, 0);
  EXPECT_EQ(progressOf(shedData), progressOf(tablet));
  EXPECT_EQ(progressOf(shedData).at("patches").as_array().size(), 9U);
  EXPECT_EQ(runServer({"check", "--data", shedData}).status, 0);
  EXPECT_EQ(runServer({"check", "--data", tablet}).status, 0);
}

TEST(Serve, ATabletThatWasKilledInAnExchangeGoesOn) {
  const TestFolder folder;
  const std::string shedData = folder / "shed";
  ASSERT_EQ(runServer({"import", "--data", shedData, brindlewater}).status, 0);
  RunningShed shed(shedData);
  const std::string tablet = folder / "tablet";
  {
    Child exchanging({"exchange", "--data", tablet, "--with", shed.address()});
    exchanging.send(SIGKILL);
  }
  const Ended done = exchangeWith(tablet, shed.address());
  EXPECT_EQ(done.status, 0) << done.err;
  EXPECT_EQ(progressOf(tablet), progressOf(shedData));
}

TEST(Serve, RecordsOfAnotherCourseAreRefused) {
  const TestFolder folder;
  const std::string shedData = folder / "shed";
  const std::string stranger = folder / "stranger";
  ASSERT_EQ(runServer({"import", "--data", shedData, brindlewater}).status, 0);
  ASSERT_EQ(runServer({"import", "--data", stranger, brindlewater}).status, 0);
  const json::value before = progressOf(shedData);
  RunningShed shed(shedData);
  const Ended refused = exchangeWith(stranger, shed.address());
  EXPECT_EQ(refused.status, 1);
  EXPECT_THAT(refused.err, HasSubstr("course"));
  EXPECT_EQ(progressOf(shedData), before);
}

TEST(Serve, ABlankTabletAndABlankShedBeginACourse) {
  const TestFolder folder;
  RunningShed shed(folder / "shed");
  const std::string tablet = folder / "tablet";
  const Ended met = exchangeWith(tablet, shed.address());
  EXPECT_EQ(met.status, 0) << met.err;
  ASSERT_EQ(runServer({"import", "--data", tablet, brindlewater}).status, 0);
  ASSERT_EQ(exchangeWith(tablet, shed.address()).status, 0);
  EXPECT_EQ(progressOf(folder / "shed"), progressOf(tablet));
}

TEST(Serve, ShowsThePageAndItsAnswers) {
  const TestFolder folder;
  ASSERT_EQ(runServer({"import", "--data", folder / "shed", brindlewater}).status, 0);
  RunningShed shed(folder / "shed", {"--on", lookDay});
  EXPECT_THAT(get(shed.port(), "/"), HasSubstr("<title>Swardwalk</title>"));
  EXPECT_THAT(get(shed.port(), "/health"), StartsWith("HTTP/1.1 200"));
  const json::value overview = json::parse(bodyOf(get(shed.port(), "/api/overview")));
  EXPECT_EQ(overview.at("top").at("course"), "Brindlewater");
  EXPECT_THAT(get(shed.port(), "/nowhere"), HasSubstr(R"("error":"not_found")"));
}

TEST(Serve, SpeaksOnlyHttpsOnANetworkAddress) {
  const TestFolder folder;
  Child shed({"serve", "--data", folder / "shed", "--listen", "0.0.0.0:0"});
  EXPECT_THAT(shed.readLine(), StartsWith("Shed open at https://0.0.0.0:"));
}

TEST(Serve, SaysThatAPortIsTaken) {
  const TestFolder folder;
  RunningShed shed(folder / "shed");
  const Ended refused = runServer({"serve", "--data", folder / "other", "--listen",
                                   "127.0.0.1:" + std::to_string(shed.port())});
  EXPECT_EQ(refused.status, 1);
  EXPECT_THAT(refused.err, HasSubstr("another program listens there already"));
}

TEST(Serve, ClosesInOrderOnBothSignals) {
  for (const int signal : {SIGINT, SIGTERM}) {
    const TestFolder folder;
    RunningShed shed(folder / "shed");
    ASSERT_THAT(get(shed.port(), "/health"), StartsWith("HTTP/1.1 200"));
    shed.child().send(signal);
    const Ended ended = shed.child().finish();
    EXPECT_EQ(ended.status, 0) << signal;
    EXPECT_THAT(ended.err, HasSubstr("closed"));
  }
}

TEST(Serve, CommandsWorkBesideIt) {
  const TestFolder folder;
  const std::string data = folder / "shed";
  RunningShed shed(data, {"--on", lookDay});
  ASSERT_EQ(runServer({"import", "--data", data, brindlewater}).status, 0);
  const json::value shown = json::parse(bodyOf(get(shed.port(), "/api/progress")));
  EXPECT_EQ(shown, progressOf(data));
  EXPECT_EQ(runServer({"check", "--data", data}).status, 0);
}

}  // namespace
}  // namespace swardwalk::server
