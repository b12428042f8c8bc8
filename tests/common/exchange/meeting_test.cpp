#include <gmock/gmock.h>

#include <cstring>
#include <limits>

#include "common/journal/digest.h"
#include "tests/common/exchange/party.h"

namespace swardwalk::exchange::testing {
namespace {

using ::testing::HasSubstr;

TEST(Meeting, ABlankAskerAdoptsTheAnswerersCourse) {
  Folder folder;
  Party shed(folder, "shed", 1), tablet(folder, "tablet", 2);
  shed.found();
  shed.write(3);
  const auto meeting = exchanged(tablet, shed);
  EXPECT_EQ(meeting.roundTrips, 1u);
  EXPECT_EQ(tablet.journal().course(), shed.journal().course());
  expectSame(tablet, shed);
}

TEST(Meeting, ABlankAnswererAdoptsTheAskersCourse) {
  Folder folder;
  Party shed(folder, "shed", 1), tablet(folder, "tablet", 2);
  tablet.found();
  tablet.write(3);
  exchanged(tablet, shed);
  EXPECT_EQ(shed.journal().course(), tablet.journal().course());
  expectSame(tablet, shed);
}

TEST(Meeting, TwoBlankSidesSaySo) {
  Folder folder;
  Party shed(folder, "shed", 1), tablet(folder, "tablet", 2);
  const auto meeting = meet(tablet, shed);
  ASSERT_FALSE(meeting);
  EXPECT_EQ(meeting.error().kind, FailureKind::notFound);
  shed.found();  // what the shed then does
  exchanged(tablet, shed);
  expectSame(tablet, shed);
}

// Found by the simulation: one garbled digit, and a blank tablet was of a course that nobody has.
TEST(Meeting, ABlankSideTakesNoCourseThatWasGarbledOnTheWay) {
  Folder folder;
  Party shed(folder, "shed", 1);
  shed.found();
  shed.write(2);
  Message letter;
  letter.hello.course = shed.journal().course();
  letter.hello.course->front() ^= 1;
  letter.hello.heads = shed.journal().heads();
  const std::vector<journal::Run> runs{*shed.journal().run(shed.journal().heads()[0], 0)};

  Party tablet(folder, "tablet", 2);
  Asker asker(tablet.journal(), "shed");
  ASSERT_TRUE(asker.next(now_ms));
  ASSERT_TRUE(asker.take(letter.hello, now_ms));
  EXPECT_FALSE(tablet.journal().course());
  EXPECT_EQ(asker.take(runs).error().kind, FailureKind::invalid);
  EXPECT_FALSE(tablet.journal().course());
  exchanged(tablet, shed);
  expectSame(tablet, shed);

  Party blank(folder, "blank", 3);
  const auto named = answer(blank.journal(), letter, {});
  ASSERT_TRUE(named) << named.error().text();
  EXPECT_FALSE(blank.journal().course());
  letter.runs = runs;
  EXPECT_EQ(answer(blank.journal(), letter, {}).error().kind, FailureKind::invalid);
  EXPECT_FALSE(blank.journal().course());
  EXPECT_EQ(readAll(blank.journal(), write(letter), journal::Vouching::waiting).error().kind,
            FailureKind::invalid);
  EXPECT_FALSE(blank.journal().course());
  exchanged(shed, blank);
  expectSame(blank, shed);
}

TEST(Meeting, AnotherCourseIsRefusedWithNothingTaken) {
  Folder folder;
  Party shed(folder, "shed", 1), stranger(folder, "stranger", 2);
  shed.found();
  ASSERT_TRUE(stranger.journal().found({7}, now_ms, "stranger"));
  stranger.write(2);
  const std::string before = shed.state();
  const auto vector = shed.journal().vector();
  const auto meeting = meet(stranger, shed);
  ASSERT_FALSE(meeting);
  EXPECT_EQ(meeting.error().kind, FailureKind::refused);
  EXPECT_THAT(meeting.error().text(), HasSubstr("another course"));

  // Even records that are pushed at once.
  Message push;
  push.hello.course = stranger.journal().course();
  push.hello.heads = stranger.journal().heads();
  push.runs.push_back(*stranger.journal().run(stranger.journal().heads()[0], 0));
  EXPECT_FALSE(answer(shed.journal(), push, {}));
  EXPECT_EQ(shed.state(), before);
  EXPECT_EQ(shed.journal().vector(), vector);

  // And an answer of another course.
  Asker asker(stranger.journal(), "shed");
  ASSERT_TRUE(asker.next(now_ms));
  Hello hello;
  hello.course = shed.journal().course();
  const auto taken = asker.take(hello, now_ms);
  ASSERT_FALSE(taken);
  EXPECT_EQ(taken.error().kind, FailureKind::refused);
  EXPECT_FALSE(asker.take({*shed.journal().run(shed.journal().heads()[0], 0)}));
  EXPECT_EQ(stranger.records(), 3u);
}

TEST(Meeting, ANewerProtocolIsRefusedWithNothingTaken) {
  Folder folder;
  Party shed(folder, "shed", 1), tablet(folder, "tablet", 2);
  shed.found();
  Asker asker(tablet.journal(), "shed");
  auto question = asker.next(now_ms);
  (**question).hello.protocol = 2;
  const auto given = answer(shed.journal(), **question, {});
  ASSERT_FALSE(given);
  EXPECT_EQ(given.error().kind, FailureKind::newer);
  for (const bool same : {false, true}) {
    Hello hello;
    hello.protocol = 2;
    hello.same = same;
    hello.course = shed.journal().course();
    const auto taken = asker.take(hello, now_ms);
    ASSERT_FALSE(taken);
    EXPECT_EQ(taken.error().kind, FailureKind::newer);
  }
  EXPECT_FALSE(tablet.journal().course());
}

TEST(Meeting, RecordsWithoutACourseAreRefused) {
  Folder folder;
  Party shed(folder, "shed", 1), tablet(folder, "tablet", 2);
  shed.found();
  exchanged(tablet, shed);
  tablet.write(1);
  Asker asker(tablet.journal(), "shed");
  auto question = asker.next(now_ms);
  (**question).hello.course.reset();
  const auto given = answer(shed.journal(), **question, {});
  ASSERT_FALSE(given);
  EXPECT_EQ(given.error().kind, FailureKind::invalid);
  EXPECT_EQ(shed.records(), 1u);
}

TEST(Meeting, TheClocksDifferenceIsMeasuredFromTheMiddleOfTheRound) {
  Folder folder;
  Party shed(folder, "shed", 1), tablet(folder, "tablet", 2);
  shed.found();
  const auto measured = [&](std::int64_t sent_ms, std::int64_t peer_ms, std::int64_t back_ms) {
    Asker asker(tablet.journal(), "shed");
    auto question = asker.next(sent_ms);
    AnswerOptions options;
    options.wall_ms = peer_ms;
    auto given = answer(shed.journal(), **question, options);
    EXPECT_TRUE(asker.take(given->message.hello, back_ms));
    return asker.tally().peerClockAhead_ms;
  };
  EXPECT_EQ(measured(1000, 151'100, 1200), 150'000);
  EXPECT_EQ(measured(now_ms, now_ms - 86'400'000, now_ms), -86'400'000);
  EXPECT_EQ(measured(-5, std::numeric_limits<std::int64_t>::max(), 10), std::nullopt);
  EXPECT_EQ(measured(5, std::numeric_limits<std::int64_t>::min(), 10), std::nullopt);
}

TEST(Meeting, RecordsOfUnknownOriginsWaitWhereTheCallerSaysSo) {
  Folder folder;
  Party shed(folder, "shed", 1), tablet(folder, "tablet", 2);
  shed.found();
  exchanged(tablet, shed);
  tablet.write(2);
  const std::string before = shed.state();
  ASSERT_TRUE(meet(tablet, shed, journal::Vouching::waiting));
  EXPECT_EQ(shed.records(), 4u);
  EXPECT_EQ(shed.state(), before);  // X5: kept, and not folded
  ASSERT_TRUE(shed.journal().accept(tablet.journal().origin()));
  expectSame(tablet, shed);
}

TEST(Meeting, AnswersKeepToTheirLimitsAndSayThatThereIsMore) {
  Folder folder;
  Party shed(folder, "shed", 1), tablet(folder, "tablet", 2);
  shed.found();
  for (int i = 0; i < 3; ++i) shed.write(1000, "x", true);
  Asker asker(tablet.journal(), "shed");
  auto question = asker.next(now_ms);
  AnswerOptions options;
  options.maxRecords = 1500;
  const auto given = answer(shed.journal(), **question, options);
  ASSERT_TRUE(given);
  EXPECT_TRUE(given->message.hello.more);
  std::size_t records = 0;
  for (const journal::Run& run : given->message.runs) records += run.records.size();
  EXPECT_GT(records, 0u);
  EXPECT_LE(records, 1500u);
}

TEST(Meeting, LargeBodiesStayWithinOneMessagesBytes) {
  Folder folder;
  Party shed(folder, "shed", 1), tablet(folder, "tablet", 2);
  shed.found();
  const std::string large(60'000, 'x');
  for (int i = 0; i < 30; ++i) shed.write(10, large, true);
  Asker asker(tablet.journal(), "shed");
  auto question = asker.next(now_ms);
  const auto given = answer(shed.journal(), **question, {});
  ASSERT_TRUE(given);
  EXPECT_TRUE(given->message.hello.more);
  const std::string text = write(given->message);
  EXPECT_LE(text.size(), limits::messageBytes);
  EXPECT_GT(text.size(), limits::messageBytes / 2);
  EXPECT_TRUE(readMessage(text));
  exchanged(tablet, shed);
  expectSame(tablet, shed);
}

/// Record 1 of an origin that nobody met, as its own device would send it.
journal::Run firstRunOf(std::uint32_t number, const journal::CourseId& course) {
  journal::Signer::Seed seed{};
  std::memcpy(seed.data(), &number, sizeof(number));
  const journal::Signer signer(seed);
  journal::Run run;
  run.origin = signer.origin();
  run.base = journal::genesisDigest(course);
  journal::Record record;
  record.origin = run.origin;
  record.number = 1;
  record.counter = 1;
  record.content.type = "note";
  record.content.body = R"({"text":"a stranger"})";
  record.bodyDigest = journal::blake2b(record.content.body);
  run.head = journal::recordDigest(run.base, record);
  run.signature = signer.signHead(course, {run.origin, 1, run.head});
  run.records.push_back(std::move(record));
  return run;
}

TEST(Meeting, MoreOriginsThanAMessageCanStateAreNotTaken) {
  // S1: otherwise a flood of keys would keep the shed from ever stating its heads again.
  Folder folder;
  Party shed(folder, "shed", 1);
  shed.found();
  Message question;
  question.hello.course = shed.journal().course();
  question.hello.heads.emplace();
  for (std::uint32_t i = 0; i < limits::heads; ++i) {
    question.runs.push_back(firstRunOf(i + 1000, *shed.journal().course()));
  }
  const auto given = answer(shed.journal(), question, {});
  ASSERT_TRUE(given) << given.error().text();
  EXPECT_EQ(given->received, limits::heads - 1);
  ASSERT_EQ(given->message.hello.troubles.size(), 1u);
  EXPECT_EQ(given->message.hello.troubles[0].error, "over_limit");
  EXPECT_EQ(shed.journal().heads().size(), limits::heads);
  EXPECT_TRUE(readMessage(write(given->message)));
  // Who is known goes on all the same.
  shed.write(2);
  Party tablet(folder, "tablet", 2);
  exchanged(tablet, shed);
  EXPECT_EQ(tablet.journal().vector(), shed.journal().vector());
}

TEST(Meeting, MoreBranchesOfAnOriginThanCopiesExplainAreNotTaken) {
  Folder folder;
  Party shed(folder, "shed", 1), tablet(folder, "tablet", 2);
  shed.found();
  exchanged(tablet, shed);
  tablet.write(1);
  Message question;
  question.hello.course = shed.journal().course();
  question.hello.heads.emplace();
  for (std::size_t i = 0; i < limits::branches + 2; ++i) {
    Party copy = tablet.copy("copy" + std::to_string(i));
    copy.write(1);
    for (const journal::Head& head : copy.journal().heads()) {
      if (head.origin != copy.journal().origin()) continue;
      question.runs.push_back(*copy.journal().run(head, 0));
    }
  }
  const auto given = answer(shed.journal(), question, {});
  ASSERT_TRUE(given) << given.error().text();
  EXPECT_EQ(given->message.hello.troubles.size(), 2u);
  EXPECT_EQ(shed.journal().heads().size(), 1 + limits::branches);
  // What is here already is not refused when it comes again (X1).
  const auto again = answer(shed.journal(), question, {});
  ASSERT_TRUE(again);
  EXPECT_EQ(again->message.hello.troubles.size(), 2u);
  expectWhole(shed);
}

}  // namespace
}  // namespace swardwalk::exchange::testing
