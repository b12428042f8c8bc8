#include <gmock/gmock.h>

#include "tests/common/exchange/party.h"

namespace swardwalk::exchange::testing {
namespace {

using ::testing::HasSubstr;
using ::testing::IsEmpty;

std::string fileOf(Party& party) {
  std::string file;
  const auto written = writeAll(party.journal(), now_ms, [&file](std::string_view lines) {
    file += lines;
    return Result<void>{};
  });
  EXPECT_TRUE(written) << written.error().text();
  return file;
}

struct Scene {
  Folder folder;
  Party shed{folder, "shed", 1};
  Party tablet{folder, "tablet", 2};
  Party away{folder, "away", 3};
  Scene() {
    shed.found();
    exchanged(tablet, shed);
    exchanged(away, shed);
    tablet.write(3);
    shed.write(2);
    exchanged(tablet, shed);
    away.write(2);
  }
};

TEST(Stick, CarriesEverythingAndIsIdempotent) {
  Scene scene;
  const std::string file = fileOf(scene.tablet);
  const auto first = readAll(scene.away.journal(), file, journal::Vouching::accepted);
  ASSERT_TRUE(first) << first.error().text();
  EXPECT_EQ(first->received, 6u);
  EXPECT_TRUE(first->whole);
  EXPECT_THAT(first->alarms, IsEmpty());
  const auto second = readAll(scene.away.journal(), file, journal::Vouching::accepted);
  ASSERT_TRUE(second);
  EXPECT_EQ(second->received, 0u);
  const auto back =
      readAll(scene.tablet.journal(), fileOf(scene.away), journal::Vouching::accepted);
  ASSERT_TRUE(back);
  expectSame(scene.tablet, scene.away);
}

TEST(Stick, RecordsOfUnknownOriginsWait) {
  Scene scene;
  const std::string before = scene.away.state();
  const auto read = readAll(scene.away.journal(), fileOf(scene.tablet), journal::Vouching::waiting);
  ASSERT_TRUE(read);
  EXPECT_EQ(scene.away.records(), 1u + 3 + 6);
  bool waits = false;
  for (const journal::OriginInfo& info : scene.away.journal().origins()) {
    if (info.origin == scene.tablet.journal().origin()) waits = !info.accepted;
  }
  EXPECT_TRUE(waits);
}

TEST(Stick, CutAnywhereKeepsWhatCameWholeAndTheNextFileGoesOn) {
  Scene scene;
  const std::string file = fileOf(scene.tablet);
  for (std::size_t cut = 0; cut < file.size(); cut += 53) {
    SCOPED_TRACE("cut at byte " + std::to_string(cut));
    Folder folder;
    Party reader(folder, "reader", 9);
    const auto read = readAll(reader.journal(), std::string_view(file).substr(0, cut),
                              journal::Vouching::accepted);
    if (read) {
      EXPECT_FALSE(read->whole);
      ASSERT_FALSE(read->alarms.empty());
    } else {
      EXPECT_EQ(read.error().kind, FailureKind::invalid);
      EXPECT_FALSE(reader.journal().course());
    }
    ASSERT_TRUE(readAll(reader.journal(), file, journal::Vouching::accepted));
    ASSERT_EQ(reader.state(), scene.tablet.state());
    ASSERT_EQ(reader.journal().vector(), scene.tablet.journal().vector());
  }
}

TEST(Stick, DamageInTheMiddleIsNamedByItsLineAndKeepsWhatStoodBefore) {
  Scene scene;
  std::string file = fileOf(scene.tablet);
  file.insert(file.rfind("{\"run\""), "rubbish\n");
  Party reader(scene.folder, "reader", 9);
  const auto read = readAll(reader.journal(), file, journal::Vouching::accepted);
  ASSERT_TRUE(read);
  EXPECT_FALSE(read->whole);
  EXPECT_GT(read->received, 0u);
  ASSERT_EQ(read->alarms.size(), 1u);
  EXPECT_THAT(read->alarms[0], HasSubstr("line "));
}

TEST(Stick, NonsenseAnotherCourseAndNewerFilesAreRefused) {
  Scene scene;
  auto& journal = scene.shed.journal();
  EXPECT_EQ(readAll(journal, "", journal::Vouching::waiting).error().kind, FailureKind::invalid);
  EXPECT_EQ(readAll(journal, "GIF89a\n", journal::Vouching::waiting).error().kind,
            FailureKind::invalid);
  EXPECT_EQ(readAll(journal, "{\"protocol\":2}\n", journal::Vouching::waiting).error().kind,
            FailureKind::newer);
  Party stranger(scene.folder, "stranger", 9);
  ASSERT_TRUE(stranger.journal().found({7}, now_ms, "stranger"));
  const auto refused = readAll(journal, fileOf(stranger), journal::Vouching::waiting);
  ASSERT_FALSE(refused);
  EXPECT_EQ(refused.error().kind, FailureKind::refused);
}

TEST(Stick, ABlankJournalHasNothingToWrite) {
  Folder folder;
  Party blank(folder, "blank", 1);
  const auto written = writeAll(blank.journal(), now_ms, [](auto) { return Result<void>{}; });
  ASSERT_FALSE(written);
  EXPECT_EQ(written.error().kind, FailureKind::notFound);
}

TEST(Stick, StopsWhereTheFileCannotBeWritten) {
  Scene scene;
  int left = 2;
  const auto written =
      writeAll(scene.tablet.journal(), now_ms, [&left](std::string_view) -> Result<void> {
        if (left-- > 0) return {};
        return fail(FailureKind::full, "stick", "it is full", "use a larger one");
      });
  ASSERT_FALSE(written);
  EXPECT_EQ(written.error().kind, FailureKind::full);
}

TEST(Stick, HoldsEveryBranchOnceBeyondWhereTheyPart) {
  Scene scene;
  Party twin = scene.tablet.copy("twin");
  twin.write(2);
  scene.tablet.write(3);
  exchanged(scene.tablet, scene.shed);
  exchanged(twin, scene.shed);
  const std::string file = fileOf(scene.shed);
  EXPECT_THAT(file,
              HasSubstr("{\"end\":true,\"records\":" + std::to_string(scene.shed.records()) + "}"));
  Party reader(scene.folder, "reader", 9);
  ASSERT_TRUE(readAll(reader.journal(), file, journal::Vouching::accepted));
  expectSame(reader, scene.shed);
}

}  // namespace
}  // namespace swardwalk::exchange::testing
