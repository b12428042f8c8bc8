#include <gmock/gmock.h>

#include <algorithm>
#include <numeric>
#include <random>
#include <tuple>
#include <utility>

#include "common/exchange/answer_taker.h"
#include "tests/common/exchange/party.h"

// X1: an exchange may be cut at any byte, repeated, or doubled.
namespace swardwalk::exchange::testing {
namespace {

/// What can be read before a cut.
struct Prefix {
  std::optional<Hello> hello;
  std::vector<journal::Run> runs;
  bool ended = false;
};

Prefix prefixOf(std::string_view text) {
  MessageReader reader;
  Prefix prefix;
  // A cut inside a line leaves it unread; nothing in a good prefix breaks the protocol.
  EXPECT_TRUE(reader.take(text));
  prefix.hello = reader.hello();
  prefix.runs = reader.takeRuns();
  prefix.ended = reader.ended();
  return prefix;
}

/// What the receiver can make of a prefix. Two cuts that give it the same lead to the same,
/// so that one of them is played to its end.
auto essence(const Prefix& prefix) {
  return std::tuple(prefix.hello.has_value(), prefix.runs.size(), prefix.ended);
}

/// Two sides that each have something for the other, in several runs.
struct Scene {
  Folder folder;
  Party shed{folder, "shed", 1};
  Party tablet{folder, "tablet", 2};
  Party other{folder, "other", 3};

  Scene() {
    shed.found();
    exchanged(tablet, shed);
    exchanged(other, shed);
    tablet.write(2);
    other.write(2);
    shed.write(1);
    exchanged(other, shed);
  }
  std::size_t total() { return 1 + 3 + 3 + 1; }

  std::string question() {
    Asker asker(tablet.journal(), "shed");
    return write(**asker.next(now_ms));
  }

  void expectRecovers() {
    const Meeting meeting = exchanged(tablet, shed);
    EXPECT_LE(meeting.roundTrips, 2u);
    EXPECT_THAT(meeting.tally.alarms, ::testing::IsEmpty());
    ASSERT_EQ(tablet.journal().vector(), shed.journal().vector());
    ASSERT_EQ(tablet.state(), shed.state());
    ASSERT_EQ(tablet.records(), total());
    const Meeting next = exchanged(tablet, shed);
    ASSERT_EQ(next.roundTrips, 1u);
    ASSERT_EQ(next.tally.sent + next.tally.received, 0u);
  }
};

TEST(Cut, AQuestionThatIsCutAnywhereChangesNothingOrTakesWholeRuns) {
  const std::string question = Scene().question();
  std::optional<decltype(essence({}))> last;
  int played = 0;
  for (std::size_t cut = 0; cut <= question.size(); ++cut) {
    SCOPED_TRACE("cut at byte " + std::to_string(cut));
    const Prefix prefix = prefixOf(std::string_view(question).substr(0, cut));
    if (std::exchange(last, essence(prefix)) == essence(prefix)) continue;
    ++played;
    Scene scene;
    ASSERT_EQ(scene.question(), question);
    // A server that gets half a question may keep its whole runs; its answer is lost.
    if (prefix.hello) {
      ASSERT_TRUE(answer(scene.shed.journal(), {*prefix.hello, prefix.runs}, {}));
    }
    EXPECT_EQ(notYetHeldBy(scene.tablet.journal(), "shed"), 3u);  // X2
    scene.expectRecovers();
    if (::testing::Test::HasFatalFailure()) return;
  }
  EXPECT_GE(played, 3);  // nothing, the first line, its run, the end
}

TEST(Cut, AnAnswerThatIsCutAnywhereLosesAndDoublesNothing) {
  const auto answered = [](Scene& scene, Asker& asker) {
    const auto question = asker.next(now_ms);
    EXPECT_TRUE(question && *question);
    const auto given = answer(scene.shed.journal(), **question, {});
    EXPECT_TRUE(given);
    return write(given->message);
  };
  Scene first;
  Asker firstAsker(first.tablet.journal(), "shed");
  const std::string text = answered(first, firstAsker);
  std::optional<decltype(essence({}))> last;
  int played = 0;
  for (std::size_t cut = 0; cut < text.size(); ++cut) {
    SCOPED_TRACE("cut at byte " + std::to_string(cut));
    const Prefix prefix = prefixOf(std::string_view(text).substr(0, cut));
    EXPECT_FALSE(prefix.ended);
    if (std::exchange(last, essence(prefix)) == essence(prefix)) continue;
    ++played;
    Scene scene;
    Asker asker(scene.tablet.journal(), "shed");
    ASSERT_EQ(answered(scene, asker), text);
    if (prefix.hello) {
      ASSERT_TRUE(asker.take(*prefix.hello, now_ms));
      ASSERT_TRUE(asker.take(prefix.runs));
    }
    scene.expectRecovers();
    if (::testing::Test::HasFatalFailure()) return;
  }
  EXPECT_GE(played, 4);  // nothing, the first line, one run, two runs
}

TEST(Cut, OfACompressedAnswerThatIsCutEveryRunThatCameWholeIsKept) {
  // Letters drawn at random, so that compression leaves several blocks to cut between.
  std::mt19937 draw(7);
  std::string noise(50'000, ' ');
  Scene scene;
  exchanged(scene.tablet, scene.shed);
  for (std::uint8_t key = 4; key < 8; ++key) {
    Party crew(scene.folder, "crew" + std::to_string(key), key);
    exchanged(crew, scene.shed);
    for (int i = 0; i < 4; ++i) {
      for (char& letter : noise) letter = static_cast<char>('!' + draw() % 90 + 1);
      std::ranges::replace(noise, '\\', 'x');
      std::ranges::replace(noise, '"', 'x');
      crew.write(1, noise);
    }
    exchanged(crew, scene.shed);
  }
  std::vector<std::uint64_t> received;
  while (scene.tablet.journal().vector() != scene.shed.journal().vector()) {
    Asker asker(scene.tablet.journal(), "shed");
    const auto question = asker.next(now_ms);
    ASSERT_TRUE(question && *question);
    const auto given = answer(scene.shed.journal(), **question, {});
    ASSERT_TRUE(given);
    const std::string bytes = compress(write(given->message));
    const std::size_t cut = std::min<std::size_t>(bytes.size(), 400'000);
    AnswerTaker taker(asker);
    for (std::size_t at = 0; at < cut; at += 1000) {
      ASSERT_TRUE(taker.take(bytes.substr(at, std::min<std::size_t>(1000, cut - at)), now_ms));
    }
    EXPECT_EQ(taker.finish().has_value(), cut == bytes.size());
    received.push_back(asker.tally().received);
    ASSERT_LT(received.size(), 10u) << "every try brings some nearer";
  }
  EXPECT_GE(received.size(), 2u);
  EXPECT_GT(received.front(), 0u);
  EXPECT_EQ(std::accumulate(received.begin(), received.end(), std::uint64_t{0}), 4u * (4u + 1u))
      << "each record once, the ones with which the four begin among them";
  expectSame(scene.tablet, scene.shed);
}

TEST(Cut, AfterACutThePeerIsNotGivenItsOwnRecordsBack) {
  Scene scene;
  exchanged(scene.tablet, scene.shed);
  scene.shed.write(1);
  scene.other.write(3);
  exchanged(scene.other, scene.shed);
  {
    Asker asker(scene.tablet.journal(), "shed");
    const auto question = asker.next(now_ms);
    const auto given = answer(scene.shed.journal(), **question, {});
    ASSERT_GT(given->message.runs.size(), 1u);
    ASSERT_TRUE(asker.take(given->message.hello, now_ms));
    ASSERT_TRUE(asker.take({given->message.runs.front()}));
  }
  const Meeting meeting = exchanged(scene.tablet, scene.shed);
  EXPECT_EQ(meeting.roundTrips, 1u);
  EXPECT_EQ(meeting.tally.sent, 0u);
  expectSame(scene.tablet, scene.shed);
}

TEST(Cut, ARepeatedQuestionAddsNothing) {
  Scene scene;
  const auto question = readMessage(scene.question());
  const auto first = answer(scene.shed.journal(), *question, {});
  const auto second = answer(scene.shed.journal(), *question, {});
  ASSERT_TRUE(first && second);
  EXPECT_EQ(first->received, 3u);
  EXPECT_EQ(second->received, 0u);
  EXPECT_EQ(write(first->message), write(second->message));
  scene.expectRecovers();
}

TEST(Cut, ADoubledAnswerAddsNothing) {
  Scene scene;
  Asker asker(scene.tablet.journal(), "shed");
  const auto question = asker.next(now_ms);
  const auto given = answer(scene.shed.journal(), **question, {});
  ASSERT_TRUE(asker.take(given->message.hello, now_ms));
  ASSERT_TRUE(asker.take(given->message.runs));
  const std::uint64_t received = asker.tally().received;
  ASSERT_TRUE(asker.take(given->message.runs));
  EXPECT_EQ(asker.tally().received, received);
  ASSERT_TRUE(asker.finish());
  EXPECT_FALSE(*asker.next(now_ms));
  scene.expectRecovers();
}

TEST(Cut, AnOldAnswerThatArrivesLateDoesNoHarm) {
  Scene scene;
  const auto old = answer(scene.shed.journal(), *readMessage(scene.question()), {});
  scene.tablet.write(1);
  exchanged(scene.tablet, scene.shed);
  scene.tablet.write(1);
  Asker asker(scene.tablet.journal(), "shed");
  ASSERT_TRUE(asker.next(now_ms));
  ASSERT_TRUE(asker.take(old->message.hello, now_ms));
  ASSERT_TRUE(asker.take(old->message.runs));
  ASSERT_TRUE(asker.finish());
  const Meeting meeting = exchanged(scene.tablet, scene.shed);
  EXPECT_THAT(meeting.tally.alarms, ::testing::IsEmpty());
  expectSame(scene.tablet, scene.shed);
}

TEST(Cut, AnAnswerOutOfTurnIsRefused) {
  Scene scene;
  Asker asker(scene.tablet.journal(), "shed");
  EXPECT_FALSE(asker.take(std::vector<journal::Run>{}));
  EXPECT_FALSE(asker.finish());
}

}  // namespace
}  // namespace swardwalk::exchange::testing
