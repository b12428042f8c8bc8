#include "server/http/session.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <boost/asio/co_spawn.hpp>
#include <boost/asio/detached.hpp>
#include <boost/asio/io_context.hpp>

#include "server/shed/router.h"
#include "tests/server/memory_transport.h"

namespace swardwalk::server {
namespace {

namespace asio = boost::asio;
using testing::HasSubstr;
using testing::Not;
using testing::StartsWith;

/// Refuses by the real rules, and answers with what it was asked.
class Echo final : public RequestHandler {
 public:
  Welcome welcome(const Request& request, std::optional<std::uint64_t> declaredBytes) override {
    return {refuseByHeader(request, Caller{Door::open, false, {}, {}}, declaredBytes),
            mostBodyBytes(request), false};
  }
  asio::awaitable<Response> handle(Request request) override {
    ++requests;
    Response response;
    response.body = request.target + " " + request.body + std::string(moreBytes, '.');
    co_return response;
  }
  int requests = 0;
  std::size_t moreBytes = 0;
};

class Session : public testing::Test {
 protected:
  Session() {
    limits.headerBytes = 1024;
    limits.bodyBytes = 64;
    // Passed at once: what is tested is what happens then, not when.
    limits.idle = limits.header = limits.body = std::chrono::milliseconds(1);
  }

  std::string run(const std::string& says) {
    peer->says = says;
    state->transport = std::make_unique<MemoryTransport>(context, peer);
    auto session = runSession(state, echo, limits, memory());
    asio::co_spawn(context, std::move(session), [](std::exception_ptr problem) {
      if (problem) std::rethrow_exception(problem);
    });
    context.run();
    return peer->hears;
  }

  std::shared_ptr<SessionMemory> memory() {
    if (!memory_) memory_ = std::make_shared<SessionMemory>(limits);
    return memory_;
  }

  Limits limits;
  std::shared_ptr<SessionMemory> memory_;
  Echo echo;
  std::shared_ptr<MemoryTransport::Peer> peer = std::make_shared<MemoryTransport::Peer>();
  asio::io_context context;  ///< outlives the transport, whose timers are the context's
  std::shared_ptr<SessionState> state = std::make_shared<SessionState>();
};

const std::string get = "GET /api/plan HTTP/1.1\r\nHost: localhost\r\n\r\n";

std::string post(const std::string& body, const std::string& more = {}) {
  return "POST /exchange HTTP/1.1\r\nHost: localhost\r\nContent-Type: " +
         std::string(exchange::zstdType) + "\r\nContent-Length: " + std::to_string(body.size()) +
         "\r\n" + more + "\r\n" + body;
}

TEST_F(Session, AnswersARequestAndEndsWithTheConnection) {
  const std::string heard = run(get);
  EXPECT_THAT(heard, StartsWith("HTTP/1.1 200 OK\r\n"));
  EXPECT_THAT(heard, HasSubstr("\r\n\r\n/api/plan "));
  EXPECT_THAT(heard, Not(HasSubstr("Connection: close")));
  EXPECT_TRUE(peer->closed);
}

TEST_F(Session, AnswersRequestsThatComeTogetherInTheirOrder) {
  const std::string heard = run(get + post("one") + get);
  EXPECT_EQ(echo.requests, 3);
  const std::size_t first = heard.find("/api/plan");
  const std::size_t second = heard.find("/exchange one");
  EXPECT_LT(first, second);
  EXPECT_LT(second, heard.find("/api/plan", second));
}

TEST_F(Session, TakesARequestThatComesByteByByte) {
  peer->blockBytes = 1;
  EXPECT_THAT(run(post("body") + get), HasSubstr("/exchange body"));
  EXPECT_EQ(echo.requests, 2);
}

TEST_F(Session, TakesAChunkedBody) {
  const std::string heard =
      run("POST /exchange HTTP/1.1\r\nHost: localhost\r\nContent-Type: " +
          std::string(exchange::zstdType) +
          "\r\nTransfer-Encoding: chunked\r\n\r\n4\r\nchun\r\n3\r\nked\r\n0\r\n\r\n");
  EXPECT_THAT(heard, HasSubstr("/exchange chunked"));
}

TEST_F(Session, SaysContinueToThoseWhoWaitForIt) {
  EXPECT_THAT(run(post("body", "Expect: 100-continue\r\n")),
              StartsWith("HTTP/1.1 100 Continue\r\n\r\nHTTP/1.1 200 OK"));
}

TEST_F(Session, EndsWhenThePeerAsksForIt) {
  const std::string heard =
      run("GET /health HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\n\r\n" + get);
  EXPECT_EQ(echo.requests, 1);
  EXPECT_THAT(heard, HasSubstr("Connection: close"));
}

TEST_F(Session, RefusesWhatIsNoHttpAndCloses) {
  const std::string heard = run("\x16\x03\x01 hello\r\n\r\n");
  EXPECT_THAT(heard, StartsWith("HTTP/1.1 400 "));
  EXPECT_THAT(heard, HasSubstr(R"("error":"bad_request")"));
  EXPECT_THAT(heard, HasSubstr("Connection: close"));
  EXPECT_EQ(echo.requests, 0);
  EXPECT_TRUE(peer->finished);
}

TEST_F(Session, RefusesAHeaderBeyondItsLimit) {
  const std::string heard =
      run("GET / HTTP/1.1\r\nHost: localhost\r\nX: " + std::string(2000, 'x') + "\r\n\r\n");
  EXPECT_THAT(heard, StartsWith("HTTP/1.1 431 "));
  EXPECT_EQ(echo.requests, 0);
}

TEST_F(Session, RefusesAnAddressBeyondItsLimit) {
  limits.targetBytes = 100;
  EXPECT_THAT(run("GET /" + std::string(200, 'x') + " HTTP/1.1\r\nHost: localhost\r\n\r\n"),
              StartsWith("HTTP/1.1 414 "));
}

TEST_F(Session, RefusesABodyBeyondItsLimitBeforeItComes) {
  const std::string heard = run(post(std::string(65, 'x')));
  EXPECT_THAT(heard, StartsWith("HTTP/1.1 413 "));
  EXPECT_EQ(echo.requests, 0);
}

TEST_F(Session, RefusesAChunkedBodyBeyondItsLimit) {
  EXPECT_THAT(run("POST /exchange HTTP/1.1\r\nHost: localhost\r\nContent-Type: " +
                  std::string(exchange::zstdType) + "\r\nTransfer-Encoding: chunked\r\n\r\n60\r\n" +
                  std::string(0x60, 'x') + "\r\n0\r\n\r\n"),
              StartsWith("HTTP/1.1 413 "));
}

TEST_F(Session, RefusesAChunkedBodyBeyondTheLimitOfItsAddress) {
  limits.bodyBytes = 1'000'000;
  const std::string head =
      "POST /sign-in HTTP/1.1\r\nHost: localhost\r\nContent-Type: application/json\r\n"
      "Transfer-Encoding: chunked\r\n\r\n1000\r\n" +
      std::string(4096, 'x');
  EXPECT_THAT(run(head + "\r\n1\r\nx\r\n0\r\n\r\n"), StartsWith("HTTP/1.1 413 "));
  EXPECT_EQ(echo.requests, 0);
}

TEST_F(Session, TakesAChunkedBodyUpToTheLimitOfItsAddress) {
  limits.bodyBytes = 1'000'000;
  EXPECT_THAT(run("POST /sign-in HTTP/1.1\r\nHost: localhost\r\nContent-Type: application/json\r\n"
                  "Transfer-Encoding: chunked\r\n\r\n1000\r\n" +
                  std::string(4096, 'x') + "\r\n0\r\n\r\n"),
              StartsWith("HTTP/1.1 200 "));
}

TEST_F(Session, SendsABodyAwayWhileThoseOfOthersFillTheMemory) {
  limits.bodiesBytes = 100;
  {
    Budget::Share others(memory()->bodies);
    ASSERT_TRUE(others.growTo(98));
    const std::string heard = run(post("body"));
    EXPECT_THAT(heard, StartsWith("HTTP/1.1 503 "));
    EXPECT_THAT(heard, HasSubstr("Retry-After: 2\r\n"));
    EXPECT_THAT(heard, HasSubstr(R"("error":"busy")"));
    EXPECT_EQ(echo.requests, 0);
  }
  EXPECT_EQ(memory()->bodies.taken(), 0u);
}

TEST_F(Session, GivesTheMemoryOfABodyBack) {
  limits.bodiesBytes = 10;
  run(post("12345678") + post("12345678"));
  EXPECT_EQ(echo.requests, 2);
  EXPECT_EQ(memory()->bodies.taken(), 0u);
}

TEST_F(Session, WritesAnAnswerInPieces) {
  echo.moreBytes = 100'000;
  limits.pieceBytes = 30'000;
  const std::string heard = run(get);
  EXPECT_EQ(peer->writes, 4);
  EXPECT_THAT(heard, HasSubstr("Content-Length: 100010\r\n"));
  EXPECT_TRUE(heard.ends_with("\r\n\r\n/api/plan " + std::string(100'000, '.')));
  EXPECT_EQ(memory()->answers.taken(), 0u);
}

TEST_F(Session, CutsWhoReadsNothing) {
  echo.moreBytes = 100'000;
  limits.pieceBytes = 30'000;
  limits.writing = std::chrono::milliseconds(1);
  peer->takesBytes = 40'000;
  run(get + get);
  EXPECT_EQ(echo.requests, 1);
  EXPECT_LT(peer->hears.size(), 70'000u);
  EXPECT_TRUE(peer->closed);
  EXPECT_EQ(memory()->answers.taken(), 0u);
}

TEST_F(Session, HoldsALongAnswerBackWhileThoseOfOthersFillTheMemory) {
  echo.moreBytes = 100'000;
  limits.answersBytes = 150'000;
  Budget::Share others(memory()->answers);
  ASSERT_TRUE(others.growTo(60'000));
  const std::string heard = run(get + "HEAD /health HTTP/1.1\r\nHost: localhost\r\n\r\n");
  EXPECT_THAT(heard, StartsWith("HTTP/1.1 503 "));
  EXPECT_THAT(heard, HasSubstr("Retry-After: "));
  EXPECT_THAT(heard, HasSubstr("HTTP/1.1 200 "));  // a header is no long answer
  EXPECT_EQ(memory()->answers.taken(), 60'000u);
}

TEST_F(Session, RefusesABodyWhereNoneBelongs) {
  EXPECT_THAT(run("GET / HTTP/1.1\r\nHost: localhost\r\nContent-Length: 3\r\n\r\nabc"),
              StartsWith("HTTP/1.1 413 "));
}

TEST_F(Session, RefusesAnotherTypeBeforeTheBody) {
  EXPECT_THAT(run("POST /exchange HTTP/1.1\r\nHost: localhost\r\nContent-Type: text/plain\r\n"
                  "Content-Length: 3\r\n\r\nabc"),
              StartsWith("HTTP/1.1 415 "));
}

TEST_F(Session, TellsASlowHeaderThatItIsTooSlow) {
  peer->staysSilent = true;
  EXPECT_THAT(run("GET / HTT"), StartsWith("HTTP/1.1 408 "));
  EXPECT_TRUE(peer->closed);
}

TEST_F(Session, TellsASlowBodyThatItIsTooSlow) {
  peer->staysSilent = true;
  std::string cut = post("whole body");
  cut.resize(cut.size() - 3);
  EXPECT_THAT(run(cut), StartsWith("HTTP/1.1 408 "));
  EXPECT_EQ(echo.requests, 0);
}

TEST_F(Session, EndsASilentConnectionWithoutAWord) {
  peer->staysSilent = true;
  EXPECT_EQ(run(""), "");
  EXPECT_TRUE(peer->closed);
}

TEST_F(Session, TakesNoRequestThatWasCut) {
  std::string cut = post("whole body");
  cut.resize(cut.size() - 3);
  EXPECT_EQ(run(cut), "");
  EXPECT_EQ(echo.requests, 0);
}

TEST_F(Session, EndsWhenThePeerIsGone) {
  peer->isGone = true;
  run(get + get);
  EXPECT_EQ(echo.requests, 1);
  EXPECT_TRUE(peer->closed);
}

TEST_F(Session, AnswersHeadWithoutABody) {
  const std::string heard = run("HEAD /health HTTP/1.1\r\nHost: localhost\r\n\r\n");
  EXPECT_THAT(heard, HasSubstr("Content-Length: 8\r\n"));
  EXPECT_THAT(heard, testing::EndsWith("\r\n\r\n"));
}

TEST_F(Session, FinishesWhatIsUnderWayWhenItIsStopped) {
  // Stopped between the request and its answer.
  class Stopping final : public RequestHandler {
   public:
    explicit Stopping(SessionState& state) : state_(state) {}
    Welcome welcome(const Request&, std::optional<std::uint64_t>) override { return {}; }
    asio::awaitable<Response> handle(Request) override {
      state_.stop();
      co_return Response{};
    }
    SessionState& state_;
  };
  Stopping stopping(*state);
  peer->says = get + get;
  state->transport = std::make_unique<MemoryTransport>(context, peer);
  auto session = runSession(state, stopping, limits, memory());
  asio::co_spawn(context, std::move(session), asio::detached);
  context.run();
  EXPECT_THAT(peer->hears, StartsWith("HTTP/1.1 200 OK"));
  EXPECT_THAT(peer->hears, HasSubstr("Connection: close"));
  EXPECT_EQ(peer->hears.find("HTTP/1.1", 1), std::string::npos);
}

}  // namespace
}  // namespace swardwalk::server
