#include "common/exchange/photos.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <fstream>

#include "common/journal/digest.h"
#include "tests/common/exchange/party.h"

namespace swardwalk::exchange::testing {
namespace {

using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::IsEmpty;

const std::string digits(64, 'a');

/// A picture of that many bytes, none like its neighbour.
std::string picture(std::size_t bytes, char first) {
  std::string made(bytes, ' ');
  for (std::size_t i = 0; i < bytes; ++i) made[i] = static_cast<char>(first + i * 7 + i / 251);
  return made;
}

TEST(PhotoTarget, IsReadAsItIsWritten) {
  journal::Digest photo;
  photo.fill(0xaa);
  const std::string target = writePhotoTarget({photo, 262'144, 300'000});
  EXPECT_EQ(target, "/photos/" + digits + "?from=262144&of=300000");
  const auto read = parsePhotoTarget(target);
  ASSERT_TRUE(read);
  EXPECT_EQ(read->photo, photo);
  EXPECT_EQ(read->from, 262'144u);
  EXPECT_EQ(read->of, 300'000u);
}

TEST(PhotoTarget, AnythingElseIsRefused) {
  for (const std::string& target :
       {std::string("/photos/"), "/photos/" + digits, "/photos/" + digits + "?from=0",
        "/photos/" + digits + "?from=0&of=", "/photos/" + digits + "?from=-1&of=5",
        "/photos/" + digits + "?from=0&of=5&more=1", "/photos/" + digits + "a?from=0&of=5",
        "/photos/../" + digits.substr(3) + "?from=0&of=5", "/photo/" + digits + "?from=0&of=5",
        "/photos/" + digits + "?from=0&of=99999999999999999999999"}) {
    const auto read = parsePhotoTarget(target);
    ASSERT_FALSE(read) << target;
    EXPECT_EQ(read.error().kind, FailureKind::invalid);
  }
}

TEST(PhotoAnswer, IsReadAsItIsWrittenAndNothingElseIs) {
  EXPECT_EQ(writePhotoAnswer(300'000), R"({"have":300000})");
  EXPECT_EQ(parsePhotoAnswer(writePhotoAnswer(300'000)).value(), 300'000u);
  for (const char* answer : {"", "{}", "[1]", R"({"have":-1})", R"({"have":"1"})", "<html>"}) {
    EXPECT_FALSE(parsePhotoAnswer(answer)) << answer;
  }
}

/// Two folders, and a sender from one into the other.
class Sending : public ::testing::Test {
 protected:
  Folder folder;
  journal::PhotoFolder tablet{folder / "tablet"};
  journal::PhotoFolder shed{folder / "shed"};

  /// As the network would; `parts` many at most. Gives how many went over.
  unsigned send(PhotoSender& sender, unsigned parts = 1000) {
    unsigned sent = 0;
    while (sent < parts) {
      const auto part = sender.next();
      if (!part) break;
      ++sent;
      const auto have =
          shed.take(part->target.photo, part->target.from, part->target.of, part->bytes);
      if (have) {
        sender.taken(*have);
      } else {
        sender.refused(have.error().what);
      }
    }
    return sent;
  }
};

TEST_F(Sending, WhatTheShedMissesArrivesWhole) {
  const std::string large = picture(3 * limits::photoPartBytes + 5, 'a');
  const std::string small = picture(900, 'b');
  const auto one = tablet.add(large).value();
  const auto other = tablet.add(small).value();
  PhotoSender sender(tablet, {{other, 0}, {one, 0}});
  EXPECT_EQ(send(sender), 5u);
  EXPECT_EQ(sender.sent(), 2u);
  EXPECT_THAT(sender.troubles(), IsEmpty());
  EXPECT_EQ(shed.read(one).value(), large);
  EXPECT_EQ(shed.read(other).value(), small);
}

TEST_F(Sending, AnotherSenderGoesOnWhereTheShedHasIt) {
  const std::string large = picture(3 * limits::photoPartBytes, 'a');
  const auto photo = tablet.add(large).value();
  PhotoSender cut(tablet, {{photo, 0}});
  EXPECT_EQ(send(cut, 2), 2u);
  PhotoSender sender(tablet, {{photo, shed.have(photo)}});
  const auto part = sender.next();
  ASSERT_TRUE(part);
  EXPECT_EQ(part->target.from, 2 * limits::photoPartBytes);
  EXPECT_EQ(send(sender), 1u);
  EXPECT_EQ(shed.read(photo).value(), large);
}

TEST_F(Sending, WhatIsNotHereIsLeftToThoseThatHaveIt) {
  PhotoSender sender(tablet, {{journal::blake2b("somebody else's"), 0}});
  EXPECT_EQ(send(sender), 0u);
  EXPECT_THAT(sender.troubles(), IsEmpty());
}

TEST_F(Sending, ADamagedOneIsNotSentAndSaidAndTheOthersAre) {
  const auto bad = tablet.add(picture(50, 'a')).value();
  const auto good = tablet.add(picture(50, 'b')).value();
  std::ofstream(tablet.fileOf(bad)) << "something else";
  PhotoSender sender(tablet, {{bad, 0}, {good, 0}});
  EXPECT_EQ(send(sender), 1u);
  EXPECT_THAT(sender.troubles(), ElementsAre(HasSubstr(journal::hex(bad).substr(0, 8))));
  EXPECT_TRUE(shed.holds(good));
}

TEST_F(Sending, AShedThatNeverGetsOnEndsIt) {
  const auto photo = tablet.add(picture(50, 'a')).value();
  for (const std::uint64_t have : {std::uint64_t{0}, std::uint64_t{51}}) {
    PhotoSender sender(tablet, {{photo, 0}});
    ASSERT_TRUE(sender.next());
    sender.taken(have);
    EXPECT_FALSE(sender.next()) << have;
    EXPECT_EQ(sender.sent(), 0u);
    EXPECT_THAT(sender.troubles(), ElementsAre(HasSubstr("next exchange")));
  }
  // One that says to miss a picture, and to have all of it.
  PhotoSender sender(tablet, {{photo, 50}});
  EXPECT_FALSE(sender.next());
  EXPECT_THAT(sender.troubles(), ElementsAre(HasSubstr("says it has all of it")));
}

TEST_F(Sending, ARefusalNamesThePictureAndTheReason) {
  const auto photo = tablet.add(picture(50, 'a')).value();
  PhotoSender sender(tablet, {{photo, 0}});
  ASSERT_TRUE(sender.next());
  sender.refused("no record here names this picture");
  EXPECT_FALSE(sender.next());
  EXPECT_THAT(sender.troubles(), ElementsAre(HasSubstr("no record here names this picture")));
}

TEST(MissingPhotos, TravelInTheAnswer) {
  Folder folder;
  Party shed(folder, "shed", 1);
  Party tablet(folder, "tablet", 2);
  shed.found();
  exchanged(tablet, shed);
  Asker asker(tablet.journal(), "shed");
  const auto question = asker.next(now_ms);
  ASSERT_TRUE(question && *question);
  AnswerOptions options;
  options.wall_ms = now_ms;
  const auto photo = journal::blake2b("picture");
  options.missing = [&] { return std::vector<MissingPhoto>(200, {photo, 77}); };
  const auto given = answer(shed.journal(), **question, options);
  ASSERT_TRUE(given);
  const auto read = readMessage(write(given->message));
  ASSERT_TRUE(read) << read.error().text();
  ASSERT_TRUE(asker.take(read->hello, now_ms));
  ASSERT_EQ(asker.peerMisses().size(), limits::missingPhotos);
  EXPECT_EQ(asker.peerMisses()[0].photo, photo);
  EXPECT_EQ(asker.peerMisses()[0].have, 77u);
}

TEST(MissingPhotos, AMessageThatSaysThemWronglyIsRefused) {
  Message message;
  message.hello.missing = {{journal::blake2b("picture"), 5}};
  const std::string text = write(message);
  ASSERT_TRUE(readMessage(text));
  const std::string photo = journal::hex(journal::blake2b("picture"));
  for (const std::string& wrong :
       {std::string("7"), std::string("[7]"), "[[\"" + photo + "\"]]", "[[\"" + photo + "\",-1]]",
        "[[\"" + photo.substr(2) + "\",1]]", "[[\"" + photo + "\",1,2]]"}) {
    std::string said = text;
    const std::size_t begin = said.find("[[");
    said.replace(begin, said.find("]]") + 2 - begin, wrong);
    EXPECT_FALSE(readMessage(said)) << said;
  }
}

TEST(MissingPhotos, AskingAgainSaysWhatIsMissingNow) {
  Folder folder;
  Party shed(folder, "shed", 1);
  Party tablet(folder, "tablet", 2);
  shed.found();
  Asker asker(tablet.journal(), "shed");
  std::vector<MissingPhoto> missing{{journal::blake2b("picture"), 0}};
  const auto askAll = [&] {
    unsigned questions = 0;
    for (;;) {
      const auto question = asker.next(now_ms);
      EXPECT_TRUE(question);
      if (!*question) return questions;
      ++questions;
      AnswerOptions options;
      options.wall_ms = now_ms;
      options.missing = [&] { return missing; };
      const auto given = answer(shed.journal(), **question, options);
      EXPECT_TRUE(given && asker.take(given->message.hello, now_ms) &&
                  asker.take(given->message.runs) && asker.finish());
    }
  };
  askAll();
  EXPECT_EQ(asker.peerMisses().size(), 1u);
  missing.clear();
  asker.askAgain();
  EXPECT_EQ(askAll(), 1u);
  EXPECT_THAT(asker.peerMisses(), IsEmpty());
}

}  // namespace
}  // namespace swardwalk::exchange::testing
