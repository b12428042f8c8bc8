#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "common/exchange/pairing.h"
#include "server/door/devices.h"
#include "server/door/slowing.h"
#include "server/shed/pair_route.h"
#include "tests/server/folder.h"

namespace swardwalk::server {
namespace {

using std::chrono::milliseconds;
using testing::HasSubstr;

journal::Signer signerOf(std::uint8_t seed) {
  journal::Signer::Seed bytes{};
  bytes.fill(seed);
  return journal::Signer(bytes);
}

constexpr std::int64_t now_ms = 1807531200000;

class DoorDevices : public testing::Test {
 protected:
  DoorDevices() : file(std::move(*DoorFile::open(folder.path()))) {}

  TestFolder folder;
  std::unique_ptr<DoorFile> file;
  Devices devices{*file};
  journal::OriginKey origin = signerOf(1).origin();
};

TEST_F(DoorDevices, ACodeEndsAfterTenMinutes) {
  const auto code = devices.makeCode(now_ms);
  ASSERT_TRUE(code);
  EXPECT_EQ(code->ends_ms, now_ms + 600'000);
  EXPECT_FALSE(devices.pair(code->code, origin, "t", now_ms + 600'000));
  EXPECT_TRUE(devices.pair(code->code, origin, "t", now_ms + 599'999));
}

TEST_F(DoorDevices, AClockThatWasSetBackLeavesNoCodeOpen) {
  const auto code = devices.makeCode(now_ms);
  ASSERT_TRUE(devices.makeCode(now_ms - 3'600'000));
  EXPECT_FALSE(devices.pair(code->code, origin, "t", now_ms - 3'600'000));
}

TEST_F(DoorDevices, SoManyCodesAreOpenAndNoMore) {
  for (int i = 0; i < 32; ++i) ASSERT_TRUE(devices.makeCode(now_ms)) << i;
  EXPECT_FALSE(devices.makeCode(now_ms));
  EXPECT_TRUE(devices.makeCode(now_ms + 600'000));
}

TEST_F(DoorDevices, PairingAgainGivesANewTokenAndEndsTheOldOne) {
  const auto first = devices.pair(devices.makeCode(now_ms)->code, origin, "t", now_ms);
  const auto second = devices.pair(devices.makeCode(now_ms)->code, origin, "t", now_ms);
  ASSERT_TRUE(first && second);
  EXPECT_FALSE(*devices.withToken(*first));
  ASSERT_TRUE(*devices.withToken(*second));
  EXPECT_EQ((*devices.withToken(*second))->origin, origin);
  EXPECT_FALSE(*devices.withToken(""));
}

TEST_F(DoorDevices, AnotherProcessSeesADecisionAtOnce) {
  const auto token = devices.pair(devices.makeCode(now_ms)->code, origin, "t", now_ms);
  auto other = DoorFile::open(folder.path());
  ASSERT_TRUE(Devices(**other).shutOut(origin));
  EXPECT_FALSE(*devices.withToken(*token));
  EXPECT_TRUE(devices.shutOutOrigins()->contains(origin));
}

TEST_F(DoorDevices, OneThatIsMeantByTwoNamesIsAskedFor) {
  for (const std::uint8_t seed : {1, 2}) {
    ASSERT_TRUE(devices.pair(devices.makeCode(now_ms)->code, signerOf(seed).origin(), "t", now_ms));
  }
  const auto all = devices.all();
  EXPECT_EQ(deviceNamed(*all, "t").error().kind, FailureKind::invalid);
  EXPECT_EQ(deviceNamed(*all, journal::hex(origin).substr(0, 8))->origin, origin);
  EXPECT_EQ(deviceNamed(*all, journal::hex(origin).substr(0, 7)).error().kind,
            FailureKind::notFound);
}

/// One shed in this process, asked to pair.
class PairRoute : public testing::Test {
 protected:
  PairRoute() : shed(std::move(*Shed::open(folder.path(), [] { return now_ms; }))) {
    shed->metUnder(fingerprint);
  }

  Response ask(const std::string& body, const std::string& remote = "192.0.2.7") {
    Request request;
    request.remote = remote;
    request.body = body;
    return answerPairing(*shed, request);
  }

  std::string question(const std::string& code, const std::string& met) {
    return exchange::write(exchange::pairingQuestion(signerOf(1), code, "t", met));
  }

  TestFolder folder;
  std::unique_ptr<Shed> shed;
  const std::string fingerprint = std::string(64, 'a');
};

TEST_F(PairRoute, NobodyPairsInAnothersName) {
  auto forged = exchange::pairingQuestion(signerOf(1), shed->devices().makeCode(now_ms)->code, "t",
                                          fingerprint);
  forged.origin = signerOf(2).origin();
  const Response response = ask(exchange::write(forged));
  EXPECT_EQ(response.status, 403U);
  EXPECT_THAT(response.body, HasSubstr("bad_signature"));
}

TEST_F(PairRoute, WhoMetAnotherCertificateIsNotPaired) {
  const std::string code = shed->devices().makeCode(now_ms)->code;
  EXPECT_THAT(ask(question(code, std::string(64, 'b'))).body, HasSubstr("bad_signature"));
  // The code is not used up by it.
  EXPECT_EQ(ask(question(code, fingerprint)).status, 200U);
}

TEST_F(PairRoute, OneWhoGuessesIsSlowedDownAndNobodyElse) {
  for (int i = 0; i < 5; ++i) EXPECT_EQ(ask(question("00000000", fingerprint)).status, 403U);
  const std::string code = shed->devices().makeCode(now_ms)->code;
  const Response slowed = ask(question(code, fingerprint));
  EXPECT_EQ(slowed.status, 429U);
  EXPECT_EQ(slowed.fields.back().first, "Retry-After");
  EXPECT_EQ(ask(question(code, fingerprint), "192.0.2.8").status, 200U);
}

TEST_F(PairRoute, WhatIsNoQuestionIsRefused) {
  const std::string good = question("00000000", fingerprint);
  for (const std::string& bad :
       {std::string(), std::string("[]"), std::string("{}"), good.substr(1),
        "{\"device\":\"" + std::string(5000, 'x') + "\"}", std::string(3000, '[')}) {
    EXPECT_EQ(ask(bad).status, 400U) << bad.substr(0, 40);
  }
}

TEST(Slowing, WaitsAreDoubledUpToTheLongest) {
  Slowing slowing;
  const Slowing::Moment start{};
  for (int i = 0; i < 4; ++i) slowing.failed("a", start);
  EXPECT_EQ(slowing.wait("a", start).count(), 0);
  slowing.failed("a", start);
  EXPECT_EQ(slowing.wait("a", start), milliseconds(1000));
  slowing.failed("a", start);
  EXPECT_EQ(slowing.wait("a", start), milliseconds(2000));
  for (int i = 0; i < 100; ++i) slowing.failed("a", start);
  EXPECT_EQ(slowing.wait("a", start), milliseconds(60'000));
  EXPECT_EQ(slowing.wait("b", start).count(), 0);
  EXPECT_EQ(slowing.wait("a", start + milliseconds(60'000)).count(), 0);
}

TEST(Slowing, ForgetsAfterAWhileAndAfterSuccess) {
  Slowing slowing;
  const Slowing::Moment start{};
  for (int i = 0; i < 10; ++i) slowing.failed("a", start);
  slowing.failed("a", start + milliseconds(600'001));
  EXPECT_EQ(slowing.wait("a", start + milliseconds(600'001)).count(), 0);
  for (int i = 0; i < 10; ++i) slowing.failed("b", start);
  slowing.succeeded("b");
  EXPECT_EQ(slowing.wait("b", start).count(), 0);
}

TEST(Slowing, KeepsTheNewestWhereMoreTryThanItRemembers) {
  SlowingRule rule;
  rule.remembered = 3;
  Slowing slowing(rule);
  const Slowing::Moment start{};
  for (int i = 0; i < 5; ++i) slowing.failed("old", start);
  for (int i = 0; i < 5; ++i) slowing.failed("new", start + milliseconds(1));
  for (const char* other : {"x", "y"}) slowing.failed(other, start + milliseconds(2));
  EXPECT_EQ(slowing.wait("old", start + milliseconds(2)).count(), 0);
  EXPECT_GT(slowing.wait("new", start + milliseconds(2)).count(), 0);
}

}  // namespace
}  // namespace swardwalk::server
