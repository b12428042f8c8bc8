#include <gtest/gtest.h>

#include <random>

#include "common/exchange/message.h"

namespace swardwalk::exchange {
namespace {

const std::string zeros(64, '0');
const std::string helloLine = "{\"protocol\":1,\"vector\":\"" + zeros + "\",\"wall_ms\":0}\n";
const std::string recordLine = "[1,2,0,0,\"\",\"note\",1,\"\"]\t{}\n";

std::string runLine(std::uint64_t records, std::uint64_t after = 0) {
  return "{\"run\":\"" + zeros + "\",\"after\":" + std::to_string(after) + ",\"base\":\"" + zeros +
         "\",\"records\":" + std::to_string(records) + ",\"head\":\"" + zeros +
         "\",\"signature\":\"" + zeros + zeros + "\"}\n";
}

std::string endLine(std::uint64_t records) { return writeEnd(records); }

void expectBroken(const std::string& text, const std::string& where) {
  const auto read = readMessage(text);
  ASSERT_FALSE(read) << text;
  EXPECT_EQ(read.error().kind, FailureKind::invalid) << text;
  EXPECT_EQ(read.error().where, where) << read.error().text();
  EXPECT_FALSE(read.error().what.empty());
}

TEST(Reader, NamesTheLineThatBreaksTheProtocol) {
  expectBroken("\n", "line 1 of the message");
  expectBroken("[]\n", "line 1 of the message");
  expectBroken("{}\n", "line 1 of the message");
  expectBroken("{\"protocol\":0}\n", "line 1 of the message");
  expectBroken("{\"protocol\":1,\"wall_ms\":0}\n", "line 1 of the message");
  expectBroken("{\"protocol\":1,\"wall_ms\":1.5,\"vector\":\"" + zeros + "\"}\n",
               "line 1 of the message");
  expectBroken(helloLine + "\n", "line 2 of the message");
  expectBroken(helloLine + "hello\n", "line 2 of the message");
  expectBroken(helloLine + recordLine, "line 2 of the message");
  expectBroken(helloLine + runLine(0), "line 2 of the message");
  expectBroken(helloLine + runLine(journal::limits::runRecords + 1), "line 2 of the message");
  expectBroken(helloLine + runLine(1, 9223372036854775807u), "line 2 of the message");
  expectBroken(helloLine + "{\"run\":\"" + zeros + "\"}\n", "line 2 of the message");
  expectBroken(helloLine + runLine(2) + recordLine + endLine(1), "line 4 of the message");
  expectBroken(helloLine + runLine(1) + recordLine + endLine(2), "line 4 of the message");
  expectBroken(helloLine + runLine(1) + recordLine + endLine(1) + "{}\n", "line 5 of the message");
  expectBroken(helloLine + runLine(1) + "[\n", "line 3 of the message");
  expectBroken(helloLine + "{\"end\":false,\"records\":0}\n", "line 2 of the message");
}

TEST(Reader, SaysHowLongAKeyMustBe) {
  const auto read = readMessage("{\"protocol\":1,\"wall_ms\":0,\"vector\":\"abc\"}\n");
  ASSERT_FALSE(read);
  EXPECT_NE(read.error().what.find("vector must be 64 hexadecimal digits"), std::string::npos);
}

TEST(Reader, SaysThatAMessageWasCut) {
  expectBroken("", "message");
  expectBroken(helloLine, "message");
  expectBroken(helloLine + endLine(0).substr(0, 10), "message");
}

TEST(Reader, SkipsUnknownKeysAndUnknownObjectsBetweenRuns) {
  std::string hello = helloLine;
  hello.insert(1, "\"hat\":[1,{\"a\":null}],");
  std::string run = runLine(1);
  run.insert(1, "\"colour\":\"green\",");
  const auto read =
      readMessage(hello + "{\"photo\":\"abc\"}\n" + run + recordLine + "{\"photo\":1}\n" +
                  "{\"end\":true,\"records\":1,\"thanks\":true}\n");
  ASSERT_TRUE(read) << read.error().text();
  EXPECT_EQ(read->runs.size(), 1u);
}

TEST(Reader, RefusesANewerProtocolInWords) {
  const auto read = readMessage("{\"protocol\":2,\"vector\":\"other\"}\nwhatever\n");
  ASSERT_FALSE(read);
  EXPECT_EQ(read.error().kind, FailureKind::newer);
  EXPECT_NE(read.error().what.find("protocol 2"), std::string::npos);
}

TEST(Reader, StopsForGoodAndKeepsWhatWasWhole) {
  MessageReader reader;
  ASSERT_FALSE(reader.take(helloLine + runLine(1) + recordLine + "nonsense\n"));
  EXPECT_FALSE(reader.take(endLine(1)));
  EXPECT_FALSE(reader.ended());
  EXPECT_EQ(reader.takeRuns().size(), 1u);
  EXPECT_TRUE(reader.takeRuns().empty());
}

TEST(Reader, GivesTheSameForEveryWayOfCuttingTheBytes) {
  const std::string text =
      helloLine + runLine(2) + recordLine + recordLine + runLine(1) + recordLine + endLine(3);
  for (std::size_t step : {std::size_t{1}, std::size_t{7}, std::size_t{100}, text.size()}) {
    MessageReader reader;
    for (std::size_t i = 0; i < text.size(); i += step) {
      ASSERT_TRUE(reader.take(std::string_view(text).substr(i, step)));
    }
    EXPECT_TRUE(reader.ended());
    EXPECT_EQ(reader.takeRuns().size(), 2u);
  }
}

TEST(Reader, LimitsEveryCount) {
  const std::string head = "[\"" + zeros + "\",1,\"" + zeros + "\"]";
  const auto list = [&head](const char* name, std::size_t count) {
    std::string line = helloLine;
    std::string entries = std::string(1, '"') + name + "\":[" + head;
    for (std::size_t i = 1; i < count; ++i) entries += "," + head;
    line.insert(1, entries + "],");
    return line;
  };
  EXPECT_TRUE(readMessage(list("heads", limits::heads) + endLine(0)));
  expectBroken(list("heads", limits::heads + 1), "line 1 of the message");
  EXPECT_TRUE(readMessage(list("held", limits::heads) + endLine(0)));
  expectBroken(list("held", limits::heads + 1), "line 1 of the message");
  EXPECT_TRUE(readMessage(list("points", limits::points) + endLine(0)));
  expectBroken(list("points", limits::points + 1), "line 1 of the message");

  std::string text = helloLine;
  const std::string full = [] {
    std::string run = runLine(journal::limits::runRecords);
    for (std::size_t i = 0; i < journal::limits::runRecords; ++i) run += recordLine;
    return run;
  }();
  for (std::size_t records = 0; records < limits::messageRecords;
       records += journal::limits::runRecords) {
    text += full;
  }
  EXPECT_TRUE(readMessage(text + endLine(limits::messageRecords)));
  expectBroken(text + runLine(1),
               "line " + std::to_string(limits::messageRecords + 6) + " of the message");
  MessageReader file(Bounds::file);
  EXPECT_TRUE(file.take(text + runLine(1) + recordLine));
}

TEST(Reader, LimitsEveryLength) {
  // Without a line feed in sight, the limit holds before memory does.
  MessageReader hello;
  EXPECT_TRUE(hello.take(std::string(limits::helloBytes, ' ')));
  EXPECT_FALSE(hello.take(" "));
  MessageReader line;
  ASSERT_TRUE(line.take(helloLine));
  EXPECT_TRUE(line.take(std::string(limits::lineBytes, '{')));
  EXPECT_FALSE(line.take(" "));

  const std::string large = recordLine.substr(0, recordLine.size() - 3) +
                            std::string(journal::limits::bodyBytes, 'x') + "\n";
  std::string run = runLine(17);
  for (int i = 0; i < 17; ++i) run += large;
  expectBroken(helloLine + run, "line 19 of the message");

  MessageReader whole;
  ASSERT_TRUE(whole.take(helloLine));
  const std::string unknown = "{\"x\":\"" + std::string(limits::lineBytes - 100, 'x') + "\"}\n";
  std::size_t taken = helloLine.size();
  while (taken + unknown.size() <= limits::messageBytes) {
    ASSERT_TRUE(whole.take(unknown));
    taken += unknown.size();
  }
  EXPECT_FALSE(whole.take(unknown));
}

TEST(Reader, SurvivesEveryCutAndEveryFlippedByte) {
  const std::string text = helloLine + runLine(2) + recordLine + recordLine + endLine(2);
  for (std::size_t i = 0; i < text.size(); ++i) {
    EXPECT_FALSE(readMessage(text.substr(0, i)));
    for (const char byte : {'\0', '"', '{', '[', ']', ',', '\n', '\t', '9', '\xff'}) {
      std::string changed = text;
      changed[i] = byte;
      MessageReader reader;
      static_cast<void>(reader.take(changed));
      for (const journal::Run& run : reader.takeRuns()) EXPECT_EQ(run.records.size(), 2u);
    }
  }
}

TEST(Reader, SurvivesNonsense) {
  std::mt19937 random(3);  // fixed, so that a failure comes again
  const std::string pieces[] = {helloLine, runLine(1), runLine(2), recordLine, endLine(1), "\n",
                                "{",       "[",        "\"",       "\t",       "\xc3",     zeros};
  for (int i = 0; i < 3000; ++i) {
    std::string text = random() % 2 ? helloLine : "";
    for (unsigned n = random() % 8; n > 0; --n) text += pieces[random() % std::size(pieces)];
    MessageReader reader;
    const auto taken = reader.take(text);
    if (!taken) {
      EXPECT_FALSE(taken.error().what.empty());
    }
    for (const journal::Run& run : reader.takeRuns()) EXPECT_FALSE(run.records.empty());
  }
}

}  // namespace
}  // namespace swardwalk::exchange
