#include <SQLiteCpp/SQLiteCpp.h>
#include <gmock/gmock.h>

#include <fstream>
#include <sstream>

#include "common/journal/lost_bodies.h"
#include "common/journal/rescue.h"
#include "tests/common/exchange/party.h"

// What a rescue had to leave out comes back from whoever still has it.
namespace swardwalk::exchange::testing {
namespace {

using ::testing::IsEmpty;
using ::testing::SizeIs;

constexpr const char* damagedText = "a wet morning 2";

class LostBody : public ::testing::Test {
 protected:
  LostBody() {
    shed.found();
    exchanged(tablet, shed);
    tablet.write(3, "a wet morning");
    shed.write(1);
    exchanged(tablet, shed);
    whole = shed.state();
    shed.close();
    spoil(folder / "shed.sqlite");
    const auto saved = journal::rescue(folder / "shed.sqlite", folder / "", rescued.journal());
    EXPECT_TRUE(saved) << saved.error().text();
    EXPECT_EQ(saved->bodies, 1U);
    EXPECT_NE(rescued.state(), whole);
    EXPECT_THAT(lost(), SizeIs(1));
  }

  static void spoil(const std::string& file) {
    std::stringstream content;
    content << std::ifstream(file, std::ios::binary).rdbuf();
    std::string bytes = content.str();
    const auto place = bytes.find(damagedText);
    ASSERT_NE(place, std::string::npos);
    bytes[place] ^= 1;
    std::ofstream(file, std::ios::binary) << bytes;
  }
  std::vector<journal::LostBody> lost() { return journal::lostBodies(rescued.journal()); }
  void expectBack() {
    EXPECT_EQ(rescued.state(), whole);
    EXPECT_THAT(lost(), IsEmpty());
    expectWhole(rescued);
  }
  /// Erases the damaged record's body with `party`, which nobody is told.
  static void forget(Party& party) {
    const journal::Head point = pointOf(party);
    ASSERT_TRUE(party.journal().erase(point.digest));
  }
  static journal::Head pointOf(Party& party) {
    journal::Head point;
    EXPECT_TRUE(party.journal().forEach([&](const journal::Record& record) {
      if (record.content.body.find(damagedText) == std::string::npos) return true;
      point = {record.origin, record.number, record.digest};
      return false;
    }));
    return point;
  }

  Folder folder;
  Party shed{folder, "shed", 1};
  Party tablet{folder, "tablet", 2};
  Party rescued{folder, "rescued", 9};
  std::string whole;
};

TEST_F(LostBody, ComesBackWhenTheRescuedOneAsks) {
  exchanged(rescued, tablet);
  expectBack();
  EXPECT_EQ(exchanged(rescued, tablet).roundTrips, 1U) << "nothing is asked for any more";
}

TEST_F(LostBody, ComesBackWhenATabletAsksThatThoughtTheShedHadIt) {
  // Under the shed's name, as after a rescue: the tablet believes to know what it holds.
  const auto meetRescued = [&] {
    Asker asker(tablet.journal(), "shed");
    unsigned rounds = 0;
    while (auto question = asker.next(now_ms).value()) {
      ASSERT_LT(++rounds, 10U) << "the exchange does not end";
      const auto given = answer(rescued.journal(), *question, {});
      ASSERT_TRUE(given) << given.error().text();
      ASSERT_TRUE(asker.take(given->message.hello, now_ms));
      ASSERT_TRUE(asker.take(given->message.runs));
      ASSERT_TRUE(asker.finish());
    }
  };
  meetRescued();
  expectBack();
  expectSame(rescued, tablet);
}

TEST_F(LostBody, ComesBackFromAStick) {
  std::string file;
  ASSERT_TRUE(writeAll(tablet.journal(), now_ms, [&file](std::string_view lines) {
    file += lines;
    return Result<void>{};
  }));
  ASSERT_TRUE(readAll(rescued.journal(), file, journal::Vouching::waiting));
  expectBack();
}

TEST_F(LostBody, IsAskedForOnceWhereNobodyHasItAndStillTakenLater) {
  Party other(folder, "other", 3);
  exchanged(other, tablet);
  const journal::Head point = pointOf(tablet);
  forget(tablet);
  exchanged(rescued, tablet);
  ASSERT_THAT(lost(), SizeIs(1));
  EXPECT_EQ(lost()[0], (journal::LostBody{point, true}));
  expectSame(rescued, tablet);
  EXPECT_EQ(exchanged(rescued, tablet).roundTrips, 1U);

  std::string file;
  ASSERT_TRUE(writeAll(other.journal(), now_ms, [&file](std::string_view lines) {
    file += lines;
    return Result<void>{};
  }));
  ASSERT_TRUE(readAll(rescued.journal(), file, journal::Vouching::waiting));
  EXPECT_EQ(rescued.state(), whole);
  EXPECT_THAT(lost(), IsEmpty());
}

TEST_F(LostBody, ARecordNeverChangesOtherwiseAfterwards) {
  exchanged(rescued, tablet);
  EXPECT_THROW(rescued.journal().database().exec("UPDATE records SET body = x'31'"),
               SQLite::Exception);
  EXPECT_TRUE(rescued.journal().erase(pointOf(rescued).digest));
}

TEST(LostBodies, ANoteThatMakesNoSenseIsLeftOut) {
  const std::string key(64, 'a');
  const std::string good = key + " 7 " + key;
  const auto lost = journal::parseLostBodies("x\n\n" + key + " 7\n" + key + " x " + key + "\n" +
                                             key + "  " + key + "\n" + good + " asked\n" + good);
  ASSERT_THAT(lost, SizeIs(2));
  EXPECT_TRUE(lost[0].asked);
  EXPECT_FALSE(lost[1].asked);
  EXPECT_EQ(lost[1].point.number, 7U);
  EXPECT_EQ(journal::writeLostBodies(lost), good + " asked\n" + good + "\n");
}

}  // namespace
}  // namespace swardwalk::exchange::testing
