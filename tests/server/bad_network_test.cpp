#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <boost/json.hpp>
#include <cstdlib>

#include "common/course/course_fold.h"
#include "common/exchange/answer_taker.h"
#include "common/exchange/compression.h"
#include "common/exchange/exchange.h"
#include "common/journal/folder.h"
#include "server/http/exchange_client.h"
#include "server/http/wire.h"
#include "tests/server/child.h"
#include "tests/server/course.h"
#include "tests/server/folder.h"
#include "tests/server/proxy.h"

// Real connections that a bad network cuts, delays and repeats (X1).
namespace swardwalk::server {
namespace {

namespace json = boost::json;

Ended exchangeOver(const std::string& data, const std::string& address) {
  return runServer({"exchange", "--data", data, "--with", address, "--format", "json"});
}

/// How many records a whole journal holds.
std::uint64_t recordsIn(const std::string& data) {
  const Ended ended = runServer({"check", "--data", data, "--format", "json"});
  EXPECT_EQ(ended.status, 0) << ended.err;
  return json::parse(ended.out).at("records").to_number<std::uint64_t>();
}

/// How far apart cuts are. By hand at every byte: SWARDWALK_EVERY_BYTE=1, some minutes.
std::size_t stepOf(std::size_t usual) {
  return std::getenv("SWARDWALK_EVERY_BYTE") != nullptr ? 1 : usual;
}

/// The exchange of the command line, with a patience of one's own.
Result<void> exchangeWith(const std::string& data, const std::string& address,
                          const ClientLimits& limits) {
  course::CourseFold fold;
  auto journal = journal::openFolder(data, journal::Missing::make, fold);
  if (!journal) return tl::unexpected(journal.error());
  const std::string host = address.substr(std::string("http://").size());
  const auto shed = parseEndpoint(host);
  ExchangeClient client(plainWire(*shed, limits), host);
  exchange::Asker asker(*journal, exchange::shedName);
  for (;;) {
    const auto question = asker.next(0);
    if (!question) return tl::unexpected(question.error());
    if (!*question) return {};
    exchange::AnswerTaker taker(asker);
    auto done = client.post(exchange::compress(exchange::write(**question)),
                            [&](std::string_view bytes) { return taker.take(bytes, 0); });
    if (done) done = taker.finish();
    if (!done) return done;
  }
}

class BadNetwork : public testing::Test {
 protected:
  BadNetwork() {
    EXPECT_EQ(runServer({"import", "--data", shedData, brindlewater}).status, 0);
    // Nobody reads its log here, and many requests would fill the pipe.
    shed =
        std::make_unique<RunningShed>(shedData, std::vector<std::string>{"--log-level", "error"});
    port = shed->port();
  }

  TestFolder folder;
  std::string shedData = folder / "shed";
  std::unique_ptr<RunningShed> shed;
  std::uint16_t port = 0;
};

TEST_F(BadNetwork, AnswersCutAnywhereLoseNothingAndEachTryGoesOn) {
  std::size_t whole = 0;
  {
    Proxy proxy(port, {});
    ASSERT_EQ(exchangeOver(folder / "measured", proxy.address()).status, 0);
    whole = proxy.answerBytes();
  }
  ASSERT_GT(whole, 1000U);
  const std::uint64_t all = recordsIn(folder / "measured");
  const std::string tablet = folder / "tablet";
  // One tablet all along: what one try kept, the next one builds on.
  for (std::size_t cut = 1; cut < whole; cut += stepOf(whole / 12)) {
    Trouble trouble;
    trouble.cutAnswerAfter = cut;
    Proxy proxy(port, trouble);
    const Ended ended = exchangeOver(tablet, proxy.address());
    EXPECT_TRUE(ended.status == 0 || ended.status == 1) << ended.err;
    EXPECT_NE(ended.err, "") << cut;
  }
  ASSERT_EQ(exchangeOver(tablet, shed->address()).status, 0);
  EXPECT_EQ(recordsIn(tablet), all);
}

TEST_F(BadNetwork, QuestionsCutAnywhereLoseNothingOfTheTabletsOwn) {
  const std::string tablet = folder / "tablet";
  ASSERT_EQ(exchangeOver(tablet, shed->address()).status, 0);
  const std::uint64_t before = recordsIn(tablet);
  ASSERT_EQ(runServer({"import", "--data", tablet,
                       writeText(folder / "rain.geojson",
                                 R"({"type":"FeatureCollection","features":[{"type":"Feature",
"geometry":null,"properties":{"role":"rain","on":"2027-04-12","mm":5}}]})")})
                .status,
            0);
  for (std::size_t cut = 1; cut < 700; cut += stepOf(90)) {
    Trouble trouble;
    trouble.cutQuestionAfter = cut;
    Proxy proxy(port, trouble);
    EXPECT_EQ(exchangeOver(tablet, proxy.address()).status, 1) << cut;
  }
  ASSERT_EQ(exchangeOver(tablet, shed->address()).status, 0);
  // The rain, and before it the first record of the tablet's own origin.
  EXPECT_EQ(recordsIn(tablet), before + 2);
  shed.reset();
  EXPECT_EQ(recordsIn(shedData), before + 2);
}

TEST_F(BadNetwork, OneThatStallsAnywhereIsGivenUpAndTheNextTryGoesOn) {
  const std::string tablet = folder / "tablet";
  std::size_t asked = 0;
  std::size_t answered = 0;
  {
    Proxy proxy(port, {});
    ASSERT_TRUE(exchangeWith(folder / "measured", proxy.address(), {}));
    asked = proxy.questionBytes();
    answered = proxy.answerBytes();
  }
  const auto stalls = [&](const Trouble& trouble) {
    Proxy proxy(port, trouble);
    ClientLimits impatient;
    impatient.silence = std::chrono::milliseconds(300);
    const auto done = exchangeWith(tablet, proxy.address(), impatient);
    ASSERT_FALSE(done);
    EXPECT_THAT(done.error().text(), testing::HasSubstr("it did not answer in time"));
  };
  for (std::size_t at = 1; at < asked; at += asked / 3) {
    Trouble trouble;
    trouble.stall = true;
    trouble.cutQuestionAfter = at;
    stalls(trouble);
  }
  for (std::size_t at = 1; at < answered; at += answered / 5) {
    Trouble trouble;
    trouble.stall = true;
    trouble.cutAnswerAfter = at;
    stalls(trouble);
  }
  ASSERT_TRUE(exchangeWith(tablet, shed->address(), {}));
  EXPECT_EQ(recordsIn(tablet), recordsIn(folder / "measured"));
}

TEST_F(BadNetwork, ASlowNetworkIsEnough) {
  Trouble trouble;
  trouble.pieceBytes = 200;
  trouble.pause_ms = 10;  // 20 kB/s
  Proxy proxy(port, trouble);
  const std::string tablet = folder / "tablet";
  ASSERT_EQ(exchangeOver(tablet, proxy.address()).status, 0);
  EXPECT_GT(recordsIn(tablet), 49U);
}

TEST_F(BadNetwork, ARepeatedQuestionAddsNothing) {
  const std::string tablet = folder / "tablet";
  ASSERT_EQ(runServer({"import", "--data", tablet, brindlewater}).status, 0);
  const std::string other = folder / "other";
  RunningShed blank(other);
  {
    Trouble trouble;
    trouble.repeatQuestion = true;
    Proxy proxy(blank.port(), trouble);
    ASSERT_EQ(exchangeOver(tablet, proxy.address()).status, 0);
  }
  EXPECT_EQ(recordsIn(other), recordsIn(tablet));
}

}  // namespace
}  // namespace swardwalk::server
