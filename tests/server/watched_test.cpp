#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <signal.h>

#include <boost/json.hpp>
#include <regex>

#include "server/shed/vitals.h"
#include "tests/server/child.h"
#include "tests/server/course.h"
#include "tests/server/folder.h"

namespace swardwalk::server {
namespace {

namespace json = boost::json;
using testing::AllOf;
using testing::HasSubstr;
using testing::MatchesRegex;
using testing::Not;
using testing::StartsWith;

/// Reads them by the strict parser of another project: name{labels} value, a line each.
std::string readByAnotherProgram(const TestFolder& folder, const std::string& metrics) {
  const std::string file = writeText(folder / "metrics.txt", metrics);
  return shell(
      "/usr/bin/python3 -c \"\nimport sys\n"
      "from prometheus_client.openmetrics.parser import text_string_to_metric_families as read\n"
      "for family in read(open(sys.argv[1]).read()):\n"
      "  for one in family.samples:\n"
      "    print(one.name, sorted(one.labels.items()), one.value)\n\" " +
      file);
}

std::string fieldOf(const std::string& answer, const std::string& name) {
  std::smatch found;
  const std::regex field("\r\n" + name + ": ([^\r]*)\r\n");
  return std::regex_search(answer, found, field) ? found[1].str() : std::string();
}

TEST(Watched, AnotherProgramReadsTheMetrics) {
  const TestFolder folder;
  ASSERT_EQ(runServer({"import", "--data", folder / "d", brindlewater}).status, 0);
  const RunningShed shed(folder / "d");
  get(shed.port(), "/api/overview");
  get(shed.port(), "/api/overview");
  get(shed.port(), "/nowhere-at-all");
  const std::string answer = get(shed.port(), "/metrics");
  EXPECT_THAT(answer, HasSubstr("Content-Type: application/openmetrics-text; version=1.0.0;"));
  const std::string read = readByAnotherProgram(folder, bodyOf(answer));
  EXPECT_THAT(read, HasSubstr("swardwalk_requests_total [('route', '/api/overview'), "
                              "('status', '200')] 2\n"));
  EXPECT_THAT(read, HasSubstr("swardwalk_requests_total [('route', '-'), ('status', '404')] 1\n"));
  EXPECT_THAT(read, HasSubstr("swardwalk_request_seconds_bucket [('le', '+Inf')] 3\n"));
  EXPECT_THAT(read, HasSubstr("swardwalk_request_seconds_count [] 3\n"));
  EXPECT_THAT(read, HasSubstr("swardwalk_connections [] 1\n"));
  EXPECT_THAT(read, HasSubstr("swardwalk_disk_free_bytes [] "));
  EXPECT_THAT(read, HasSubstr("swardwalk_serving [] 1\n"));
  EXPECT_THAT(read, Not(HasSubstr("nowhere")));
}

TEST(Watched, TheNewestBackupIsSeen) {
  const TestFolder folder;
  std::int64_t now_ms = 0;
  std::filesystem::create_directory(folder / "backups");
  writeText(folder / "backups/2027-04-12.sqlite", "x");
  const auto written = std::filesystem::last_write_time(folder / "backups/2027-04-12.sqlite");
  now_ms = std::chrono::duration_cast<std::chrono::milliseconds>(
               std::chrono::file_clock::to_sys(written).time_since_epoch())
               .count();
  const Vitals vitals(folder.path(), [&] { return now_ms; });
  EXPECT_THAT(vitals.health().body, HasSubstr(R"("backup":"fresh")"));
  EXPECT_THAT(readByAnotherProgram(folder, vitals.metrics().body),
              HasSubstr("swardwalk_last_backup_time_seconds [] "));
  now_ms += 3 * 86'400'000LL;
  EXPECT_THAT(vitals.health().body, HasSubstr(R"("backup":"old")"));
}

TEST(Watched, HealthSaysThatItServesAndNothingMore) {
  const TestFolder folder;
  const RunningShed shed(folder / "d");
  const std::string answer = get(shed.port(), "/health");
  ASSERT_THAT(answer, StartsWith("HTTP/1.1 200"));
  const json::object health = json::parse(bodyOf(answer)).as_object();
  EXPECT_EQ(health.at("health"), "open");
  EXPECT_EQ(health.at("serving"), true);
  EXPECT_EQ(health.at("disk"), "enough");
  EXPECT_EQ(health.at("backup"), "none");
  EXPECT_EQ(health.size(), 4u);
}

TEST(Watched, ADiskThatIsGoneIsTrouble) {
  const TestFolder folder;
  const Vitals vitals(folder / "not there", [] { return std::int64_t{0}; });
  const Response response = vitals.health();
  EXPECT_EQ(response.status, 503u);
  EXPECT_THAT(response.body, HasSubstr(R"("health":"troubled")"));
}

TEST(Watched, EveryAnswerIsNamedAndTheLogNamesItToo) {
  const TestFolder folder;
  std::vector<std::string> ids;
  Ended ended;
  {
    RunningShed shed(folder / "d");
    for (const char* request :
         {"POST /exchange HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\nContent-Length: 1\r\n"
          "Content-Type: application/vnd.swardwalk.exchange\r\n\r\nx",
          "GET /no%0aline?secret=12 HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\n\r\n",
          "nonsense\r\n\r\n"}) {
      const std::string answer = ask(shed.port(), request);
      ids.push_back(fieldOf(answer, "Request-Id"));
      EXPECT_THAT(ids.back(), MatchesRegex("[0-9a-f]{16}")) << answer;
    }
    get(shed.port(), "/health");
    shed.child().send(SIGTERM);
    ended = shed.child().finish();
  }
  EXPECT_THAT(ended.err, HasSubstr("request=" + ids[0] + " method=POST path=/exchange status=400"));
  EXPECT_THAT(ended.err, HasSubstr("request=" + ids[1] + " method=GET path=- status=404"));
  EXPECT_THAT(ended.err, HasSubstr("request=" + ids[2] + " method=GET path=- status=400"));
  EXPECT_THAT(ended.err, Not(HasSubstr("secret")));
  // What only looks is not worth a line.
  EXPECT_THAT(ended.err, Not(HasSubstr("path=/health")));
  EXPECT_NE(ids[0], ids[1]);
}

TEST(Watched, WhatTheJournalsThreadSaysCarriesTheRequestsName) {
  const TestFolder folder;
  RunningShed shed(folder / "d");
  ASSERT_EQ(runServer({"exchange", "--data", folder / "t", "--with", shed.address()}).status, 0);
  shed.child().send(SIGTERM);
  EXPECT_THAT(shed.child().finish().err,
              testing::ContainsRegex("request=[0-9a-f]{16} a blank tablet met a blank shed"));
}

}  // namespace
}  // namespace swardwalk::server
