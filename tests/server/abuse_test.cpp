#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <boost/json.hpp>
#include <fstream>
#include <random>
#include <thread>

#include "common/exchange/compression.h"
#include "common/exchange/message.h"
#include "server/limits.h"
#include "tests/server/child.h"
#include "tests/server/course.h"
#include "tests/server/folder.h"
#include "tests/server/knock.h"

// Whoever knocks wrongly gets a clear refusal or a closed connection; the shed's memory stays
// bounded, and others are served in the meantime.
namespace swardwalk::server {
namespace {

using testing::AnyOf;
using testing::HasSubstr;
using testing::Not;
using testing::StartsWith;

// The sanitizers hold freed memory back.
#if defined(__SANITIZE_ADDRESS__) || defined(__SANITIZE_THREAD__)
constexpr bool memoryCounts = false;
#else
constexpr bool memoryCounts = true;
#endif
constexpr long mostMemory_kB = 96 * 1024;

class Abuse : public testing::Test {
 protected:
  Abuse() {
    EXPECT_EQ(runServer({"import", "--data", folder_ / "shed", brindlewater}).status, 0);
    shed_ = std::make_unique<RunningShed>(folder_ / "shed");
  }

  unsigned short port() const { return shed_->port(); }
  Knock knock() const { return Knock(port()); }

  std::vector<Knock> knocks(int count) const {
    std::vector<Knock> many;
    for (int i = 0; i < count; ++i) many.push_back(knock());
    return many;
  }

  /// The whole answer to bytes after which nothing more comes.
  std::string answerTo(const std::string& bytes) const {
    Knock one = knock();
    one.sayAll(bytes);
    return one.hearAll();
  }

  /// A tablet exchanges, the page is shown, and the shed did not grow.
  void expectOthersServed() {
    EXPECT_THAT(get(port(), "/health"), StartsWith("HTTP/1.1 200"));
    const Ended ended =
        runServer({"exchange", "--data", folder_ / "tablet", "--with", shed_->address()});
    EXPECT_EQ(ended.status, 0) << ended.err;
    if (memoryCounts) {
      EXPECT_LT(mostMemoryUsed_kB(), mostMemory_kB);
    }
  }

 private:
  long mostMemoryUsed_kB() {
    std::ifstream status(fmt::format("/proc/{}/status", shed_->child().id()));
    std::string word;
    long size_kB = 0;
    while (status >> word) {
      if (word == "VmHWM:") status >> size_kB;
    }
    EXPECT_GT(size_kB, 0);
    return size_kB;
  }

  TestFolder folder_;
  std::unique_ptr<RunningShed> shed_;
};

std::string head(std::string_view line, std::string_view fields = {}) {
  return fmt::format("{} HTTP/1.1\r\nHost: localhost\r\n{}\r\n", line, fields);
}

std::string post(std::string_view path, std::string_view type, const std::string& body) {
  return head(fmt::format("POST {}", path),
              fmt::format("Connection: close\r\nContent-Type: {}\r\nContent-Length: {}\r\n", type,
                          body.size())) +
         body;
}

TEST_F(Abuse, WhoSendsSlowlyKeepsNobodyOut) {
  std::vector<Knock> slow = knocks(300);
  const std::string request = head("GET /api/overview");
  for (std::size_t i = 0; i < 10; ++i) {
    for (Knock& one : slow) one.say(request.substr(i, 1));
    if (i % 4 == 0) expectOthersServed();
  }
  expectOthersServed();
}

TEST_F(Abuse, WhoSendsABodySlowlyKeepsNobodyOut) {
  std::vector<Knock> slow = knocks(300);
  const std::string request =
      head("POST /exchange",
           fmt::format("Content-Type: {}\r\nContent-Length: 16000000\r\n", exchange::zstdType));
  for (Knock& one : slow) one.say(request + "x");
  expectOthersServed();
}

TEST_F(Abuse, ConnectionsThatSayNothingKeepNobodyOut) {
  const std::vector<Knock> silent = knocks(400);
  expectOthersServed();
}

TEST_F(Abuse, ManyLargeBodiesAtOnceDoNotFillTheMemory) {
  std::vector<Knock> many = knocks(20);
  const std::string body(exchange::limits::messageBytes, 'x');
  const std::string begun = head(
      "POST /exchange",
      fmt::format("Content-Type: {}\r\nContent-Length: {}\r\n", exchange::zstdType, body.size()));
  std::vector<std::size_t> said(many.size());
  for (std::size_t i = 0; i < many.size(); ++i) many[i].say(begun);
  // All bodies come together, and none to its end.
  // As long as it takes: under a sanitizer they are read slowly.
  bool someRefused = false;
  for (int round = 0; round < 160 && !someRefused; ++round) {
    for (std::size_t i = 0; i < many.size(); ++i) {
      if (said[i] < body.size() / 2)
        said[i] += many[i].say(std::string_view(body).substr(0, 100'000));
    }
    if (round < 100) continue;
    someRefused =
        std::any_of(many.begin(), many.end(), [](Knock& one) { return one.isEndedOrAnswered(); });
    std::this_thread::sleep_for(std::chrono::milliseconds(2));
  }
  EXPECT_TRUE(someRefused);
  many.clear();
  expectOthersServed();
}

TEST_F(Abuse, HugeHeadersAreRefused) {
  EXPECT_THAT(answerTo("GET / HTTP/1.1\r\nHost: localhost\r\nX: " + std::string(3'000'000, 'x')),
              AnyOf("", StartsWith("HTTP/1.1 431 ")));
  std::string many = "GET / HTTP/1.1\r\nHost: localhost\r\n";
  for (int i = 0; i < 10'000; ++i) many += fmt::format("X-{}: x\r\n", i);
  EXPECT_THAT(answerTo(many + "\r\n"), AnyOf("", StartsWith("HTTP/1.1 431 ")));
  EXPECT_THAT(answerTo(std::string(3'000'000, 'G')), AnyOf("", StartsWith("HTTP/1.1 4")));
  EXPECT_THAT(answerTo("GET /" + std::string(10'000, 'x') + " HTTP/1.1\r\nHost: localhost\r\n\r\n"),
              StartsWith("HTTP/1.1 414 "));
  EXPECT_THAT(
      answerTo("GET / HTTP/1.1\r\nHost: localhost\r\nX: " + std::string(17'000, 'x') + "\r\n\r\n"),
      StartsWith("HTTP/1.1 431 "));
  expectOthersServed();
}

TEST_F(Abuse, HugeHeadersOfChunksAreRefused) {
  const std::string begun =
      head("POST /exchange",
           fmt::format("Content-Type: {}\r\nTransfer-Encoding: chunked\r\n", exchange::zstdType));
  EXPECT_THAT(answerTo(begun + "1;x=" + std::string(50'000, 'x')), StartsWith("HTTP/1.1 431 "));
  EXPECT_THAT(answerTo(begun + "0\r\nX: " + std::string(50'000, 'x')), StartsWith("HTTP/1.1 431 "));
  EXPECT_THAT(answerTo(begun + std::string(50'000, '0')), StartsWith("HTTP/1.1 4"));
  expectOthersServed();
}

TEST_F(Abuse, DeepAndHugeJsonIsRefused) {
  const std::string json = "application/json";
  for (const char* path : {"/pair", "/sign-in", "/api/choose", "/api/shut-out"}) {
    EXPECT_THAT(answerTo(post(path, json, std::string(4000, '['))), StartsWith("HTTP/1.1 4"))
        << path;
    EXPECT_THAT(answerTo(post(path, json, std::string(200'000, '['))), StartsWith("HTTP/1.1 413 "))
        << path;
  }
  std::string deep;
  for (int i = 0; i < 100'000; ++i) deep += "{\"x\":[";
  EXPECT_THAT(answerTo(post("/exchange", exchange::plainType, deep + "\n")),
              AllOf(StartsWith("HTTP/1.1 400 "), HasSubstr("bad_message")));
  const std::string line = "{\"protocol\":1,\"x\":\"" + std::string(3'000'000, 'x') + "\"}\n";
  EXPECT_THAT(answerTo(post("/exchange", exchange::plainType, line)),
              AllOf(StartsWith("HTTP/1.1 400 "), HasSubstr("bad_message")));
  expectOthersServed();
}

TEST_F(Abuse, ACompressedMessageThatGrowsBeyondItsLimitIsRefused) {
  const std::string bomb = exchange::compress(std::string(300'000'000, ' '));
  ASSERT_LT(bomb.size(), 100'000u);
  for (int i = 0; i < 3; ++i) {
    EXPECT_THAT(answerTo(post("/exchange", exchange::zstdType, bomb)),
                AllOf(StartsWith("HTTP/1.1 400 "), HasSubstr("bad_message")));
  }
  expectOthersServed();
}

TEST_F(Abuse, AnotherTypeAndAnotherMethodAreRefused) {
  for (const char* type : {"text/plain", "application/x-www-form-urlencoded", "", "text/xml"}) {
    EXPECT_THAT(answerTo(post("/exchange", type, "x")), StartsWith("HTTP/1.1 415 ")) << type;
    EXPECT_THAT(answerTo(post("/sign-in", type, "{}")), StartsWith("HTTP/1.1 415 ")) << type;
  }
  for (const char* method : {"PUT", "DELETE", "PATCH", "OPTIONS", "TRACE", "CONNECT", "POST", "get",
                             "PROPFIND", "X-OWN"}) {
    EXPECT_THAT(answerTo(head(fmt::format("{} /api/plan", method), "Connection: close\r\n")),
                AnyOf(StartsWith("HTTP/1.1 405 "), StartsWith("HTTP/1.1 400 ")))
        << method;
  }
  expectOthersServed();
}

TEST_F(Abuse, PathTricksLeadNowhere) {
  for (const char* path : {"/../etc/passwd",
                           "/assets/../index.html",
                           "/assets/../../etc/passwd",
                           "/assets/%2e%2e/%2e%2e/etc/passwd",
                           "/assets//etc/passwd",
                           "//etc/passwd",
                           "/%2fetc/passwd",
                           "/..%5c..%5cetc",
                           "/assets/..;/x",
                           "/assets/%00",
                           "/photo/../../journal.db",
                           "/photo/%2e%2e%2fjournal.db",
                           "/journal.db",
                           "/door.db",
                           "/origin.key",
                           "/tls.pem",
                           "/shed.log",
                           "/health/",
                           "/health/../journal.db",
                           "/HEALTH",
                           "/api/greens/%zz",
                           "/?/../x/y",
                           "*",
                           "http://localhost/journal.db",
                           "localhost:80"}) {
    const std::string answer = answerTo(head(fmt::format("GET {}", path), "Connection: close\r\n"));
    if (std::string_view(path) == "/?/../x/y") {
      EXPECT_THAT(answer, StartsWith("HTTP/1.1 200 "));  // the page, whatever its query is
    } else {
      EXPECT_THAT(answer, AnyOf(StartsWith("HTTP/1.1 404 "), StartsWith("HTTP/1.1 400 "))) << path;
    }
    EXPECT_THAT(answer, Not(HasSubstr("root:"))) << path;
  }
  EXPECT_THAT(answerTo(head("GET http://evil.example/", "Connection: close\r\n")),
              StartsWith("HTTP/1.1 421 "));
  expectOthersServed();
}

/// RFC 9112: what a request may not look like. Whatever follows must not count as a second one.
TEST_F(Abuse, WhatNoRequestMayLookLikeIsRefusedAndEndsTheConnection) {
  const std::string second = "GET /health HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\n\r\n";
  const std::string type = fmt::format("Content-Type: {}\r\n", exchange::zstdType);
  const auto body = [&](std::string_view fields, std::string_view version = "HTTP/1.1") {
    return fmt::format("POST /exchange {}\r\nHost: localhost\r\n{}{}\r\n", version, type, fields);
  };
  const std::vector<std::pair<const char*, std::string>> wrong{
      {"two lengths (6.3)", body("Content-Length: 4\r\nContent-Length: 5\r\n") + "body"},
      {"two lengths in a list (6.3)", body("Content-Length: 4, 5\r\n") + "body"},
      {"length and chunks (6.3)",
       body("Content-Length: 4\r\nTransfer-Encoding: chunked\r\n") + "0\r\n\r\n"},
      {"chunks and length (6.3)",
       body("Transfer-Encoding: chunked\r\nContent-Length: 4\r\n") + "0\r\n\r\n"},
      {"another coding (6.1)", body("Transfer-Encoding: gzip, chunked\r\n") + "0\r\n\r\n"},
      {"chunked twice (6.1)",
       body("Transfer-Encoding: chunked\r\nTransfer-Encoding: chunked\r\n") + "0\r\n\r\n"},
      {"chunks that are not last (6.1)", body("Transfer-Encoding: chunked, x\r\n") + "0\r\n\r\n"},
      {"chunks in version 1.0 (6.1)",
       body("Transfer-Encoding: chunked\r\n", "HTTP/1.0") + "0\r\n\r\n"},
      {"a negative length (8.6)", body("Content-Length: -1\r\n")},
      {"a length that is too large (8.6)", body("Content-Length: 99999999999999999999\r\n")},
      {"a length in other digits (8.6)", body("Content-Length: 0x4\r\n") + "body"},
      {"a chunk of no length (7.1)", body("Transfer-Encoding: chunked\r\n") + "x\r\n\r\n"},
      {"a chunk that is too large (7.1)",
       body("Transfer-Encoding: chunked\r\n") + "ffffffffffffffff\r\nx"},
      {"a chunk beyond 64 bits (7.1)",
       body("Transfer-Encoding: chunked\r\n") + "1ffffffffffffffff\r\nx"},
      {"no host (3.2)", "GET /health HTTP/1.1\r\n\r\n"},
      {"two hosts (3.2)", "GET /health HTTP/1.1\r\nHost: localhost\r\nHost: evil\r\n\r\n"},
      {"a space before the colon (5.1)", "GET /health HTTP/1.1\r\nHost : localhost\r\n\r\n"},
      {"a field with no name (5)", "GET /health HTTP/1.1\r\nHost: localhost\r\n: x\r\n\r\n"},
      {"a folded line first (5.2)", "GET /health HTTP/1.1\r\n Host: localhost\r\n\r\n"},
      {"a control character (5.5)",
       std::string("GET /health HTTP/1.1\r\nHost: local") + '\x01' + "host\r\n\r\n"},
      {"a zero byte (5.5)",
       std::string("GET /health HTTP/1.1\r\nHost: localhost\r\nX: a") + '\0' + "b\r\n\r\n"},
      {"a bare carriage return (2.2)", "GET /health HTTP/1.1\rHost: localhost\r\n\r\n"},
      {"another version (2.3)", "GET /health HTTP/3.0\r\nHost: localhost\r\n\r\n"},
      {"no version (2.3)", "GET /health\r\n\r\n"},
      {"the preface of HTTP/2", "PRI * HTTP/2.0\r\n\r\nSM\r\n\r\n"},
      {"two spaces (3)", "GET  /health HTTP/1.1\r\nHost: localhost\r\n\r\n"},
  };
  for (const auto& [what, request] : wrong) {
    const std::string answer = answerTo(request + second);
    EXPECT_THAT(answer, AnyOf(StartsWith("HTTP/1.1 4"), StartsWith("HTTP/1.1 501 "))) << what;
    EXPECT_EQ(answer.find("HTTP/1.1", 1), std::string::npos) << what << '\n' << answer;
  }
  expectOthersServed();
}

TEST_F(Abuse, GarbageIsRefused) {
  std::mt19937 random(1);
  for (int i = 0; i < 200; ++i) {
    std::string bytes(1 + random() % 3000, ' ');
    for (char& byte : bytes) byte = static_cast<char>(random());
    bytes += "\r\n\r\n";
    EXPECT_THAT(answerTo(bytes), StartsWith("HTTP/1.1 4"));
  }
  expectOthersServed();
}

TEST_F(Abuse, RequestsThatAreCutLeaveNothing) {
  const std::string whole = post("/exchange", exchange::plainType, "{\"protocol\":1");
  for (std::size_t bytes = 0; bytes < whole.size(); bytes += 7) {
    for (int i = 0; i < 5; ++i) knock().say(whole.substr(0, bytes));
  }
  expectOthersServed();
}

TEST_F(Abuse, WhoNeverReadsKeepsNobodyOut) {
  std::vector<Knock> deaf = knocks(60);
  std::string requests;
  for (int i = 0; i < 2000; ++i) requests += head("GET /api/overview") + head("GET /");
  for (Knock& one : deaf) one.say(requests);
  expectOthersServed();
  for (Knock& one : deaf) one.say(requests);
  expectOthersServed();
}

TEST_F(Abuse, OneConnectionAsksOneThingAfterTheOther) {
  // Ten thousand requests at once are answered in their order, without being held.
  Knock one = knock();
  std::string requests;
  for (int i = 0; i < 10'000; ++i) requests += head("GET /health");
  std::size_t said = 0;
  while (said < requests.size()) {
    const std::size_t more = one.say(std::string_view(requests).substr(said));
    if (more == 0) break;
    said += more;
  }
  expectOthersServed();
}

}  // namespace
}  // namespace swardwalk::server
