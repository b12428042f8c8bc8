#include "common/exchange/message.h"

#include <gtest/gtest.h>

#include <limits>

namespace swardwalk::exchange {
namespace {

template <class Bytes>
Bytes filled(std::uint8_t value) {
  Bytes bytes;
  bytes.fill(value);
  return bytes;
}

journal::Record record(std::string body = R"({"area_m2":1.84})") {
  journal::Record record;
  record.counter = 77;
  record.content.author = filled<journal::PersonId>(0xab);
  record.content.type = "sighting";
  record.content.version = 2;
  record.content.subject = "N7";
  record.content.body = std::move(body);
  record.content.wall_ms = 1'776'000'000'123;
  record.content.clockSource = journal::ClockSource::shed;
  record.content.clockOffset_ms = -4500;
  return record;
}

journal::Run run(std::uint64_t after, std::size_t count) {
  journal::Run run;
  run.origin = filled<journal::OriginKey>(1);
  run.after = after;
  run.base = filled<journal::Digest>(2);
  run.head = filled<journal::Digest>(3);
  run.signature = filled<journal::Signature>(4);
  for (std::size_t i = 0; i < count; ++i) run.records.push_back(record());
  return run;
}

void expectSameContent(const journal::Record& one, const journal::Record& other) {
  EXPECT_EQ(one.counter, other.counter);
  EXPECT_EQ(one.content.author, other.content.author);
  EXPECT_EQ(one.content.type, other.content.type);
  EXPECT_EQ(one.content.version, other.content.version);
  EXPECT_EQ(one.content.subject, other.content.subject);
  EXPECT_EQ(one.content.body, other.content.body);
  EXPECT_EQ(one.content.wall_ms, other.content.wall_ms);
  EXPECT_EQ(one.content.clockSource, other.content.clockSource);
  EXPECT_EQ(one.content.clockOffset_ms, other.content.clockOffset_ms);
  EXPECT_EQ(one.erased, other.erased);
  if (one.erased) {
    EXPECT_EQ(one.bodyDigest, other.bodyDigest);
  }
}

void expectComesBack(const journal::Record& before) {
  const std::string line = writeRecord(before);
  EXPECT_EQ(line.find('\n'), std::string::npos);
  const auto after = parseRecord(line);
  ASSERT_TRUE(after) << after.error().text();
  expectSameContent(before, *after);
  EXPECT_EQ(writeRecord(*after), line);
}

TEST(RecordLine, IsHeaderTabAndTheBodysOwnBytes) {
  EXPECT_EQ(writeRecord(record()),
            "[77,1776000000123,1,-4500,\"abababababababababababababababab\",\"sighting\",2,"
            "\"N7\"]\t{\"area_m2\":1.84}");
}

TEST(RecordLine, NobodyIsAnEmptyAuthor) {
  journal::Record before = record();
  before.content.author = {};
  EXPECT_NE(writeRecord(before).find(",\"\",\"sighting\""), std::string::npos);
  expectComesBack(before);
}

TEST(RecordLine, KeepsBodiesByteForByte) {
  // Spaces, key order, number spellings, tabs and carriage returns are the origin's own.
  for (const std::string body :
       {"{ \"b\" : 1.50e+00, \"a\":\t\"x\" }\r", "", "\"\xc3\xa4\xe2\x82\xac\"", "{\"a\":\"\\n\"}",
        "no JSON at all", "\xff\xfe"}) {
    expectComesBack(record(body));
  }
}

TEST(RecordLine, KeepsSubjectsThatNeedEscapes) {
  for (const std::string& subject :
       {std::string("tab\there"), std::string("line\nfeed"), std::string("quote\" back\\slash"),
        std::string("nul\0!", 5), std::string("\xc3\xa4\xf0\x9f\x8c\xb1"), std::string()}) {
    journal::Record before = record();
    before.content.subject = subject;
    EXPECT_EQ(writeRecord(before).find('\t'), writeRecord(before).rfind('\t')) << subject;
    expectComesBack(before);
  }
}

TEST(RecordLine, KeepsWholeNumbersExactly) {
  journal::Record before = record();
  for (const std::int64_t value :
       {std::int64_t{0}, std::int64_t{9'007'199'254'740'993}, std::int64_t{-1},
        std::numeric_limits<std::int64_t>::max(), std::numeric_limits<std::int64_t>::min()}) {
    before.content.wall_ms = value;
    before.content.clockOffset_ms = value;
    if (value >= 0) before.counter = static_cast<std::uint64_t>(value);
    expectComesBack(before);
  }
}

TEST(RecordLine, ErasedKeepsTheBodysDigestAndNothingElse) {
  journal::Record before = record("");
  before.erased = true;
  before.bodyDigest = filled<journal::Digest>(9);
  EXPECT_TRUE(
      writeRecord(before).ends_with(",\"N7\",\"" + journal::hex(before.bodyDigest) + "\"]\t"));
  expectComesBack(before);
}

TEST(RecordLine, NonsenseIsRefusedInWords) {
  const std::string good = writeRecord(record());
  const std::string rest = "\"\",\"note\",1,\"\"]\t{}";
  for (const std::string& line :
       {std::string(),
        std::string("\t"),
        std::string("[]\t{}"),
        std::string("{}\t{}"),
        good.substr(0, good.find('\t')),
        "[1,2,0,0," + rest + "",
        "[-1,2,0,0," + rest,
        "[1.0,2,0,0," + rest,
        "[1e3,2,0,0," + rest,
        "[18446744073709551615,2,0,0," + rest,
        "[1,2,256,0," + rest,
        "[1,2,0,null," + rest,
        "[1,99999999999999999999,0,0," + rest,
        std::string("[1,2,0,0,\"ab\",\"note\",1,\"\"]\t{}"),
        std::string("[1,2,0,0,\"\",\"note\",65536,\"\"]\t{}"),
        std::string("[1,2,0,0,\"\",7,1,\"\"]\t{}"),
        std::string("[1,2,0,0,\"\",\"note\",1,7]\t{}"),
        std::string("[1,2,0,0,\"\",\"note\",1,\"\",\"ab\"]\t"),
        std::string("[1,2,0,0,\"\",\"note\",1,\"\",\"") + std::string(64, 'a') + "\"]\tbody",
        "[1,2,0,0,\"\",\"note\",1,\"" + std::string(20000, 'x') + "\"]\t{}",
        "[[[[[" + good}) {
    if (line == "[1,2,0,0," + rest) continue;
    const auto parsed = parseRecord(line);
    ASSERT_FALSE(parsed) << line;
    EXPECT_EQ(parsed.error().kind, FailureKind::invalid);
    EXPECT_FALSE(parsed.error().what.empty());
  }
}

TEST(Message, EveryPartComesBack) {
  Message before;
  Hello& hello = before.hello;
  hello.course = filled<journal::CourseId>(5);
  hello.origin = filled<journal::OriginKey>(6);
  hello.vector = filled<journal::Digest>(7);
  hello.wall_ms = -12;
  hello.more = true;
  const journal::Head head{hello.origin, 12, filled<journal::Digest>(8)};
  hello.heads = {head, {hello.origin, 13, filled<journal::Digest>(9)}};
  hello.points = {{hello.origin, 11, filled<journal::Digest>(10)}};
  hello.held = {head};
  hello.troubles = {{hello.origin, 4, "bad_signature", "somebody \"else\" signed"}};
  before.runs = {run(4, 3), run(0, 1)};
  const std::string text = write(before);

  const auto after = readMessage(text);
  ASSERT_TRUE(after) << after.error().text();
  EXPECT_EQ(after->hello.course, hello.course);
  EXPECT_EQ(after->hello.origin, hello.origin);
  EXPECT_EQ(after->hello.vector, hello.vector);
  EXPECT_EQ(after->hello.wall_ms, hello.wall_ms);
  EXPECT_TRUE(after->hello.more);
  EXPECT_FALSE(after->hello.same);
  EXPECT_EQ(after->hello.heads, hello.heads);
  EXPECT_EQ(after->hello.points, hello.points);
  EXPECT_EQ(after->hello.held, hello.held);
  ASSERT_EQ(after->hello.troubles.size(), 1u);
  EXPECT_EQ(after->hello.troubles[0].origin, hello.origin);
  EXPECT_EQ(after->hello.troubles[0].after, 4u);
  EXPECT_EQ(after->hello.troubles[0].error, "bad_signature");
  EXPECT_EQ(after->hello.troubles[0].reason, "somebody \"else\" signed");
  ASSERT_EQ(after->runs.size(), 2u);
  EXPECT_EQ(after->runs[0].after, 4u);
  EXPECT_EQ(after->runs[0].base, before.runs[0].base);
  EXPECT_EQ(after->runs[0].head, before.runs[0].head);
  EXPECT_EQ(after->runs[0].signature, before.runs[0].signature);
  ASSERT_EQ(after->runs[0].records.size(), 3u);
  expectSameContent(after->runs[0].records[2], record());
  EXPECT_EQ(after->runs[0].records[2].number, 7u);
  EXPECT_EQ(write(*after), text);
}

TEST(Message, SameAnswerIsShort) {
  Message message;
  message.hello.same = true;
  message.hello.wall_ms = 5;
  EXPECT_EQ(write(message),
            "{\"protocol\":1,\"wall_ms\":5,\"same\":true}\n{\"end\":true,\"records\":0}\n");
  const auto read = readMessage(write(message));
  ASSERT_TRUE(read);
  EXPECT_TRUE(read->hello.same);
}

TEST(Message, BlankAskerStatesAnEmptyListOfHeads) {
  Message message;
  message.hello.heads.emplace();
  const auto read = readMessage(write(message));
  ASSERT_TRUE(read);
  EXPECT_FALSE(read->hello.course);
  ASSERT_TRUE(read->hello.heads);
  EXPECT_TRUE(read->hello.heads->empty());
}

TEST(Message, WriterKeepsTroublesBelowTheirLimits) {
  Message message;
  for (std::size_t i = 0; i < limits::troubles + 5; ++i) {
    std::string reason;
    while (reason.size() < limits::reasonBytes + 50) reason += "\xe2\x82\xac";
    message.hello.troubles.push_back({{}, i, "gap", reason});
  }
  const auto read = readMessage(write(message));
  ASSERT_TRUE(read) << read.error().text();
  EXPECT_EQ(read->hello.troubles.size(), limits::troubles);
  EXPECT_LE(read->hello.troubles[0].reason.size(), limits::reasonBytes);
  EXPECT_GT(read->hello.troubles[0].reason.size(), limits::reasonBytes - 3);
}

}  // namespace
}  // namespace swardwalk::exchange
