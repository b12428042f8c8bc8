#include <gmock/gmock.h>

#include <fstream>
#include <map>
#include <sstream>

#include "common/exchange/compression.h"
#include "common/exchange/photos.h"
#include "tests/common/exchange/party.h"

// The examples of PROTOCOL.md are what this code says, byte for byte, and this code reads
// them. A later version must read them too: they are never renewed, only added to.
namespace swardwalk::exchange::testing {
namespace {

using Examples = std::map<std::string, std::string>;

/// The blocks of the document that are marked as lines, by name.
Examples documented() {
  std::ifstream file(std::string(SWARDWALK_SOURCE) + "/common/exchange/PROTOCOL.md");
  Examples examples;
  std::string line;
  std::string* open = nullptr;
  while (std::getline(file, line)) {
    if (line.starts_with("```lines ")) {
      open = &examples[line.substr(9)];
    } else if (line == "```") {
      open = nullptr;
    } else if (open) {
      *open += line + "\n";
    }
  }
  return examples;
}

/// Plays the story of the document: the shed, a tablet, a copy of it and their meetings.
class Story {
 public:
  Story() {
    shed_.found();
    const auto [firstQuestion, firstAnswer] = ask(tablet_, shed_);
    examples_["first question"] = firstQuestion;
    examples_["first answer"] = firstAnswer;

    const auto [nothingNew, same] = ask(tablet_, shed_);
    examples_["nothing new"] = nothingNew;
    examples_["same"] = same;

    tablet_.write(1);
    shed_.write(1);
    const auto [push, pull] = ask(tablet_, shed_);
    examples_["push"] = push;
    examples_["held and pull"] = pull;

    const auto [unknownVector, itsHeads] = askWithUnknownVector();
    examples_["unknown vector"] = unknownVector;
    examples_["heads only"] = itsHeads;

    Party copy = tablet_.copy("copy");
    tablet_.write(3);
    ask(tablet_, shed_);
    fork(copy);
    refuse();
    eraseOne();
    miss();
  }

  const Examples& examples() const { return examples_; }

 private:
  struct Turn {
    std::string question;
    std::string answer;
  };

  Turn ask(Party& asker, Party& answerer, const std::string& peer = "shed") {
    Asker machine(asker.journal(), peer);
    const auto question = machine.next(now_ms);
    EXPECT_TRUE(question && *question);
    AnswerOptions options;
    options.wall_ms = now_ms + 1500;
    const auto given = answer(answerer.journal(), **question, options);
    EXPECT_TRUE(given);
    EXPECT_TRUE(machine.take(given->message.hello, now_ms));
    EXPECT_TRUE(machine.take(given->message.runs));
    EXPECT_TRUE(machine.finish());
    return {write(**question), write(given->message)};
  }

  /// Nothing is remembered of a vector that the answerer never had.
  Turn askWithUnknownVector() {
    Message question;
    question.hello.course = tablet_.journal().course();
    question.hello.vector.fill(0x11);
    question.hello.wall_ms = now_ms;
    AnswerOptions options;
    options.wall_ms = now_ms + 1500;
    const auto given = answer(shed_.journal(), question, options);
    EXPECT_TRUE(given);
    return {write(question), write(given->message)};
  }

  /// The copied tablet has written under the same key, and remembers nothing.
  void fork(Party& copy) {
    copy.write(1, "copy");
    EXPECT_TRUE(copy.journal().setNote("peer:shed", ""));
    Asker machine(copy.journal(), "shed");
    const auto question = machine.next(now_ms);
    AnswerOptions options;
    options.wall_ms = now_ms + 1500;
    const auto given = answer(shed_.journal(), **question, options);
    EXPECT_TRUE(given);
    examples_["forked head"] = write(**question);
    examples_["ladder"] = write(given->message);
    EXPECT_TRUE(machine.take(given->message.hello, now_ms));
    EXPECT_TRUE(machine.take(given->message.runs));
    EXPECT_TRUE(machine.finish());
    const auto second = machine.next(now_ms);
    EXPECT_TRUE(second && *second);
    examples_["other branch"] = write(**second);
  }

  /// A gap, and records that somebody else signed.
  void refuse() {
    tablet_.write(3);
    const journal::Head head = headOf(tablet_);
    Message question;
    question.hello.course = tablet_.journal().course();
    question.hello.origin = tablet_.journal().origin();
    question.hello.vector = tablet_.journal().vector();
    question.hello.heads = tablet_.journal().heads();
    question.hello.wall_ms = now_ms;
    AnswerOptions options;
    options.wall_ms = now_ms + 1500;
    question.runs = {*tablet_.journal().run(head, head.number - 1)};
    const auto gap = answer(shed_.journal(), question, options);
    EXPECT_TRUE(gap);
    examples_["gap"] = write(gap->message);
    question.runs = {*tablet_.journal().run(head, head.number - 3)};
    question.runs[0].signature[0] ^= 1;
    const auto forged = answer(shed_.journal(), question, options);
    EXPECT_TRUE(forged);
    examples_["bad signature"] = write(forged->message);
  }

  void eraseOne() {
    std::optional<journal::Digest> digest;
    EXPECT_TRUE(shed_.journal().forEach([&](const journal::Record& record) {
      if (record.origin == shed_.journal().origin() && record.number == 2) digest = record.digest;
      return true;
    }));
    EXPECT_TRUE(shed_.journal().erase(*digest));
    EXPECT_TRUE(shed_.journal().forEach([&](const journal::Record& record) {
      if (record.digest == *digest) examples_["erased record"] = writeRecord(record) + "\n";
      return true;
    }));
  }

  /// The shed misses a picture that a record names, and has its first part.
  void miss() {
    Asker machine(tablet_.journal(), "shed");
    const auto question = machine.next(now_ms);
    EXPECT_TRUE(question && *question);
    AnswerOptions options;
    options.wall_ms = now_ms + 1500;
    journal::Digest photo;
    photo.fill(0x22);
    options.missing = [&] { return std::vector<MissingPhoto>{{photo, 262'144}}; };
    const auto given = answer(shed_.journal(), **question, options);
    EXPECT_TRUE(given);
    examples_["a photo is missing"] = write(given->message);
  }

  journal::Head headOf(Party& party) {
    for (const journal::Head& head : party.journal().heads()) {
      if (head.origin == party.journal().origin()) return head;
    }
    return {};
  }

  Folder folder_;
  Party shed_{folder_, "shed", 1};
  Party tablet_{folder_, "tablet", 2};
  Examples examples_;
};

TEST(Protocol, ExamplesAreWhatThisCodeSays) {
  const Examples now = Story().examples();
  const Examples before = documented();
  for (const auto& [name, text] : now) {
    const auto found = before.find(name);
    if (found == before.end()) {
      ADD_FAILURE() << "PROTOCOL.md has no example\n```lines " << name << "\n" << text << "```";
    } else {
      EXPECT_EQ(found->second, text) << name;
    }
  }
  for (const auto& [name, text] : before) EXPECT_TRUE(now.contains(name)) << name;
}

TEST(Protocol, ExamplesAreReadBack) {
  for (const auto& [name, text] : documented()) {
    if (name == "erased record") {
      const auto record = parseRecord(std::string_view(text).substr(0, text.size() - 1));
      ASSERT_TRUE(record) << record.error().text();
      EXPECT_TRUE(record->erased);
      continue;
    }
    const auto message = readMessage(text);
    ASSERT_TRUE(message) << name << ": " << message.error().text();
    EXPECT_EQ(write(*message), text) << name;
  }
}

TEST(Protocol, ExamplesAreTakenByAJournal) {
  // Digests and signatures in the document hold: a fresh journal takes its records.
  Folder folder;
  Party reader(folder, "reader", 9);
  const Examples examples = documented();
  const auto first = readMessage(examples.at("first answer"));
  const auto push = readMessage(examples.at("push"));
  ASSERT_TRUE(first && push);
  ASSERT_TRUE(reader.journal().adopt(*first->hello.course));
  for (const Message* message : {&*first, &*push}) {
    const auto outcomes = reader.journal().take(message->runs, journal::Vouching::accepted);
    ASSERT_TRUE(outcomes);
    for (const journal::TakeOutcome& outcome : *outcomes) {
      EXPECT_EQ(outcome.status, journal::TakeStatus::taken);
    }
  }
  EXPECT_EQ(reader.journal().heads(), *push->hello.heads);
  EXPECT_EQ(reader.journal().vector(), push->hello.vector);
  expectWhole(reader);
}

TEST(Protocol, LimitsAreAsDocumented) {
  std::ifstream file(std::string(SWARDWALK_SOURCE) + "/common/exchange/PROTOCOL.md");
  std::stringstream content;
  content << file.rdbuf();
  const std::string text = content.str();
  const auto row = [](const char* name, std::size_t value) {
    std::string digits;
    const std::string plain = std::to_string(value);
    for (std::size_t i = 0; i < plain.size(); ++i) {
      if (i > 0 && (plain.size() - i) % 3 == 0) digits += ',';
      digits += plain[i];
    }
    return std::string("| ") + name + " | " + digits + " |";
  };
  EXPECT_THAT(text, ::testing::HasSubstr(row("first line, bytes", limits::helloBytes)));
  EXPECT_THAT(text, ::testing::HasSubstr(row("every other line, bytes", limits::lineBytes)));
  EXPECT_THAT(text, ::testing::HasSubstr(row("records in a message", limits::messageRecords)));
  EXPECT_THAT(text, ::testing::HasSubstr(row("bytes of a message", limits::messageBytes)));
  EXPECT_THAT(text, ::testing::HasSubstr(row("heads; held", limits::heads)));
  EXPECT_THAT(text, ::testing::HasSubstr(row("branches of one origin", limits::branches)));
  EXPECT_THAT(text, ::testing::HasSubstr(row("points", limits::points)));
  EXPECT_THAT(text, ::testing::HasSubstr(row("troubles", limits::troubles)));
  EXPECT_THAT(text, ::testing::HasSubstr(row("missing pictures", limits::missingPhotos)));
  EXPECT_THAT(text, ::testing::HasSubstr(row("a picture, bytes", journal::limits::photoBytes)));
  EXPECT_THAT(text,
              ::testing::HasSubstr(row("a part of a picture, bytes", limits::photoPartBytes)));
  EXPECT_THAT(text, ::testing::HasSubstr(row("error or reason, bytes", limits::reasonBytes)));
  EXPECT_THAT(text, ::testing::HasSubstr(row("records in a run", journal::limits::runRecords)));
  EXPECT_THAT(text, ::testing::HasSubstr(row("bytes of bodies in a run of two records or more",
                                             journal::limits::runBodyBytes)));
  EXPECT_THAT(text, ::testing::HasSubstr(row("body, bytes", journal::limits::bodyBytes)));
  EXPECT_THAT(text, ::testing::HasSubstr(plainType));
  EXPECT_THAT(text, ::testing::HasSubstr(zstdType));
}

}  // namespace
}  // namespace swardwalk::exchange::testing
