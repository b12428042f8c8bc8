// data/exchange-v* are what clients of earlier versions said (record-exchange). Whatever
// changes, today's server still answers them in a way that they understand.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <boost/json.hpp>
#include <filesystem>

#include "common/exchange/compression.h"
#include "common/exchange/message.h"
#include "tests/server/child.h"
#include "tests/server/course.h"
#include "tests/server/folder.h"

namespace swardwalk::server {
namespace {

namespace fs = std::filesystem;
namespace json = boost::json;

std::string kept(const std::string& name) { return SWARDWALK_TEST_DATA "/exchange-v1/" + name; }

std::vector<std::string> linesOf(const std::string& packed) {
  const auto text = exchange::decompress(packed, exchange::limits::messageBytes);
  EXPECT_TRUE(text) << text.error().text();
  std::vector<std::string> lines;
  std::istringstream stream(text.value_or(""));
  for (std::string line; std::getline(stream, line);) lines.push_back(line);
  return lines;
}

/// One question on a connection of its own; the body of the answer.
std::string askShed(const RunningShed& shed, const std::string& question) {
  const std::string head =
      "POST /exchange HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\n"
      "Content-Type: application/vnd.swardwalk.exchange+zstd\r\nContent-Length: ";
  const std::string answer =
      ask(shed.port(), head + std::to_string(question.size()) + "\r\n\r\n" + question);
  EXPECT_TRUE(answer.starts_with("HTTP/1.1 200")) << answer.substr(0, 300);
  return bodyOf(answer);
}

/// What the client of then reads in a first line: all that stood there, but for the clock's
/// time. A later server may say more, which it skips.
void expectSaysAsMuch(const std::string& now, const std::string& then) {
  const json::value today = json::parse(now);
  const json::value earlier = json::parse(then);
  for (const auto& [key, value] : earlier.as_object()) {
    const std::string name(key.data(), key.size());
    ASSERT_TRUE(today.as_object().contains(key)) << name;
    if (name == "wall_ms") continue;
    EXPECT_EQ(today.at(key), value) << name;
  }
}

std::uint64_t recordsOf(const std::string& data) {
  const Ended ended = runServer({"check", "--data", data, "--format", "json"});
  EXPECT_EQ(ended.status, 0) << ended.err;
  return json::parse(ended.out).at("records").to_number<std::uint64_t>();
}

TEST(Compatibility, AVersion1ClientIsAnsweredAsItWasThen) {
  const TestFolder folder;
  const std::string data = folder / "shed";
  fs::create_directory(data);
  fs::copy_file(kept("journal.sqlite"), data + "/journal.sqlite");
  fs::copy_file(kept("origin.key"), data + "/origin.key");
  fs::permissions(data + "/origin.key", fs::perms::owner_read | fs::perms::owner_write);
  {
    const RunningShed shed(data);
    for (const char* number : {"1", "2", "3"}) {
      SCOPED_TRACE(number);
      const std::string question = contentOf(kept(std::string(number) + "-question.zst"));
      const auto then = linesOf(contentOf(kept(std::string(number) + "-answer.zst")));
      const auto now = linesOf(askShed(shed, question));
      ASSERT_FALSE(now.empty());
      expectSaysAsMuch(now.front(), then.front());
      EXPECT_EQ(std::vector(now.begin() + 1, now.end()), std::vector(then.begin() + 1, then.end()));
    }
  }
  EXPECT_EQ(recordsOf(data), 52U);
}

TEST(Compatibility, AVersion1StickIsReadWhole) {
  const TestFolder folder;
  fs::copy_file(kept("stick"), folder / "stick");
  const Ended read = runServer({"exchange", "--data", folder / "shed", "--with", folder / "stick"});
  ASSERT_EQ(read.status, 0) << read.err;
  EXPECT_EQ(recordsOf(folder / "shed"), 52U);
}

TEST(Compatibility, ANewerQuestionIsToldWhichProtocolIsSpokenHere) {
  const TestFolder folder;
  const RunningShed shed(folder / "shed");
  const std::string question = "{\"protocol\":2,\"anything\":[]}\n";
  const std::string answer =
      ask(shed.port(),
          "POST /exchange HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\n"
          "Content-Type: application/vnd.swardwalk.exchange\r\nContent-Length: " +
              std::to_string(question.size()) + "\r\n\r\n" + question);
  EXPECT_TRUE(answer.starts_with("HTTP/1.1 400")) << answer;
  const json::value refusal = json::parse(bodyOf(answer));
  EXPECT_EQ(refusal.at("error"), "newer_protocol");
  EXPECT_EQ(refusal.at("protocol"), exchange::protocolVersion);
}

}  // namespace
}  // namespace swardwalk::server
