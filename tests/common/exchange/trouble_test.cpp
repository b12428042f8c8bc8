#include <gmock/gmock.h>

#include "tests/common/exchange/party.h"

namespace swardwalk::exchange::testing {
namespace {

using ::testing::HasSubstr;
using ::testing::IsEmpty;

/// A shed that lacks records of two tablets, which both travel through `carrier`.
struct Scene {
  Folder folder;
  Party shed{folder, "shed", 1};
  Party carrier{folder, "carrier", 2};
  Party other{folder, "other", 3};

  Scene() {
    shed.found();
    exchanged(carrier, shed);
    exchanged(other, shed);
    other.write(3);
    exchanged(carrier, other);
    carrier.write(3);
  }

  Message question() {
    Asker asker(carrier.journal(), "shed");
    return **asker.next(now_ms);
  }

  journal::Run& runOf(Message& message, Party& party) {
    for (journal::Run& run : message.runs) {
      if (run.origin == party.journal().origin()) return run;
    }
    ADD_FAILURE() << "no run of " << party.name();
    return message.runs.front();
  }

  void expectOnlyThatOriginStopped(const Message& question, const std::string& error) {
    const auto given = answer(shed.journal(), question, {});
    ASSERT_TRUE(given) << given.error().text();
    EXPECT_EQ(given->received, 4u);
    ASSERT_EQ(given->message.hello.troubles.size(), 1u);
    EXPECT_EQ(given->message.hello.troubles[0].error, error);
    EXPECT_EQ(given->message.hello.troubles[0].origin, other.journal().origin());
    EXPECT_EQ(given->message.hello.held.size(), 1u);
    EXPECT_EQ(given->message.hello.held[0].origin, carrier.journal().origin());
    ASSERT_EQ(given->alarms.size(), 1u);
    EXPECT_THAT(given->alarms[0], HasSubstr("left out"));
    expectWhole(shed);
    // The missing records come from anybody who has them.
    exchanged(other, shed);
    exchanged(carrier, shed);
    expectSame(carrier, shed);
  }
};

TEST(Trouble, AWrongDigestStopsThatOriginOnly) {
  Scene scene;
  Message question = scene.question();
  scene.runOf(question, scene.other).records[1].content.body += " ";
  scene.expectOnlyThatOriginStopped(question, "wrong_digest");
}

TEST(Trouble, ABadSignatureStopsThatOriginOnly) {
  Scene scene;
  Message question = scene.question();
  scene.runOf(question, scene.other).signature[5] ^= 1;
  scene.expectOnlyThatOriginStopped(question, "bad_signature");
}

TEST(Trouble, NobodyWritesInAnothersName) {
  // X5: the carrier's own records, sent as the other's.
  Scene scene;
  Message question = scene.question();
  journal::Run forged = scene.runOf(question, scene.carrier);
  forged.origin = scene.other.journal().origin();
  scene.runOf(question, scene.other) = forged;
  const auto given = answer(scene.shed.journal(), question, {});
  ASSERT_TRUE(given);
  EXPECT_EQ(given->message.hello.troubles.size(), 1u);
  EXPECT_EQ(given->received, 4u);
}

TEST(Trouble, ABrokenLimitOfTheEnvelopeStopsThatOriginOnly) {
  Scene scene;
  Message question = scene.question();
  scene.runOf(question, scene.other).records[0].content.type = "Not A Type";
  scene.expectOnlyThatOriginStopped(question, "over_limit");
}

TEST(Trouble, TheAskerIsToldAndTheExchangeEnds) {
  Scene scene;
  Asker asker(scene.carrier.journal(), "shed");
  unsigned rounds = 0;
  while (true) {
    auto question = asker.next(now_ms);
    ASSERT_TRUE(question);
    if (!*question) break;
    ASSERT_LT(++rounds, 5u);
    for (journal::Run& run : (**question).runs) {
      if (run.origin == scene.other.journal().origin()) run.signature[0] ^= 1;
    }
    auto given = answer(scene.shed.journal(), **question, {});
    ASSERT_TRUE(given);
    ASSERT_TRUE(asker.take(given->message.hello, now_ms));
    ASSERT_TRUE(asker.take(given->message.runs));
    ASSERT_TRUE(asker.finish());
  }
  EXPECT_EQ(asker.tally().sent, 4u);
  ASSERT_EQ(asker.tally().alarms.size(), 1u);
  EXPECT_THAT(asker.tally().alarms[0], HasSubstr("safe"));
  EXPECT_EQ(notYetHeldBy(scene.carrier.journal(), "shed"), 4u);
}

TEST(Trouble, ABadAnswerStopsThatOriginOnlyAndTheExchangeEnds) {
  Scene scene;
  exchanged(scene.carrier, scene.shed);
  Party fresh(scene.folder, "fresh", 8);
  Asker asker(fresh.journal(), "shed");
  unsigned rounds = 0;
  while (true) {
    auto question = asker.next(now_ms);
    ASSERT_TRUE(question);
    if (!*question) break;
    ASSERT_LT(++rounds, 5u);
    auto given = answer(scene.shed.journal(), **question, {});
    ASSERT_TRUE(given);
    for (journal::Run& run : given->message.runs) {
      if (run.origin == scene.other.journal().origin()) run.records[0].counter += 1;
    }
    ASSERT_TRUE(asker.take(given->message.hello, now_ms));
    ASSERT_TRUE(asker.take(given->message.runs));
    ASSERT_TRUE(asker.finish());
  }
  EXPECT_EQ(asker.tally().alarms.size(), 1u);
  EXPECT_EQ(fresh.records(), scene.shed.records() - 4);
  expectWhole(fresh);
  exchanged(fresh, scene.shed);
  expectSame(fresh, scene.shed);
}

TEST(Trouble, WrongMemoryIsAGapAndThePeersHeadsSetItRight) {
  Scene scene;
  exchanged(scene.carrier, scene.shed);
  // A fresh shed under the old one's name: the carrier believes that it holds everything.
  Party fresh(scene.folder, "fresh", 8);
  exchanged(fresh, scene.other);
  ASSERT_TRUE(
      scene.carrier.journal().setNote("peer:fresh", *scene.carrier.journal().note("peer:shed")));
  scene.carrier.write(1);
  const Meeting meeting = exchanged(scene.carrier, fresh);
  EXPECT_THAT(meeting.lines[1], HasSubstr("\"error\":\"gap\""));
  EXPECT_EQ(meeting.roundTrips, 2u);
  EXPECT_THAT(meeting.tally.alarms, IsEmpty());
  expectSame(scene.carrier, fresh);
}

TEST(Trouble, DamagedNotesCostARoundTripAndNothingElse) {
  Scene scene;
  exchanged(scene.carrier, scene.shed);
  ASSERT_TRUE(scene.carrier.journal().setNote("peer:shed", "[[1,2"));
  scene.carrier.write(1);
  const Meeting meeting = exchanged(scene.carrier, scene.shed);
  EXPECT_EQ(meeting.roundTrips, 2u);
  EXPECT_EQ(meeting.tally.sent, 1u);
  expectSame(scene.carrier, scene.shed);
}

}  // namespace
}  // namespace swardwalk::exchange::testing
