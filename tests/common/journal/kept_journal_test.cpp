// data/journal-v1.sqlite was made by format version 1 (make_journal_v1.cpp) and is read by
// every version from then on.
#include <gmock/gmock.h>

#include "common/journal/digest.h"
#include "tests/common/journal/devices.h"

namespace swardwalk::journal {
namespace {

class KeptJournal : public testing::Test {
 protected:
  KeptJournal() {
    std::filesystem::copy_file(SWARDWALK_TEST_DATA "/journal-v1.sqlite", folder.file("j"));
  }
  TempFolder folder;
};

TEST_F(KeptJournal, Version1IsWholeAndHoldsWhatItHeld) {
  Device shed(folder.file("j"), 1);
  const auto report = shed.journal().check();
  ASSERT_TRUE(report) << report.error().text();
  EXPECT_TRUE(report->whole);
  EXPECT_TRUE(report->stateMatches);
  EXPECT_EQ(report->records, 11U);
  EXPECT_EQ(report->origins, 3U);
  std::vector<std::string> heads;
  for (const Head& head : shed.journal().heads())
    heads.push_back(hex(head.origin) + " " + std::to_string(head.number) + " " + hex(head.digest));
  EXPECT_THAT(heads, testing::ElementsAre(
                         "8139770ea87d175f56a35466c34c7ecccb8d8a91b4ee37a25df60f5b8fc9b394 4 "
                         "6386e0446f20998b85590e70d10f4b15223b33833cb14736509a14ac33c5a807",
                         "8139770ea87d175f56a35466c34c7ecccb8d8a91b4ee37a25df60f5b8fc9b394 4 "
                         "885dc68109a2022f79c3e203020bcf77750e596515b1c441649bb9f4d4fd763d",
                         "8a88e3dd7409f195fd52db2d3cba5d72ca6709bf1d94121bf3748801b40f6f5c 3 "
                         "6d18524ef7794d49893d26f3baad25c4f3d0409ffffbdff48346272b87bd73f4",
                         "ed4928c628d1c2c6eae90338905995612959273a5c63f93636c14614ac8737d1 2 "
                         "6170d0952fe4b2bd681b55c6ab4ebf96f94e5d95591e91ba36958c11c6ace937"));
  EXPECT_EQ(hex(shed.journal().vector()),
            "2e035a8ca98b61d9c0d27a3327b3b3b6a12221dd2431efcfa73c25e2e312d30b");
  EXPECT_EQ(shed.journal().note("peer shed"), "0");
}

TEST_F(KeptJournal, Version1FoldsToTheSameState) {
  Device shed(folder.file("j"), 1);
  const std::string state = shed.state();
  EXPECT_EQ(hex(blake2b(state)), "b2dbd89487731861a258dc4b3a81fa423fa96c1ec0c56c1fcca1e4f852c0c0c8")
      << state;
}

TEST_F(KeptJournal, Version1GivesItsRecordsToOthersAndIsWrittenOn) {
  Device shed(folder.file("j"), 1);
  Device tablet(folder.file("t"), 4);
  tablet.adoptFrom(shed);
  ASSERT_TRUE(tablet.journal().take(allRuns(shed.journal()), Vouching::accepted));
  EXPECT_EQ(tablet.journal().vector(), shed.journal().vector());
  EXPECT_TRUE(tablet.journal().check()->whole);
  EXPECT_EQ(shed.write("A", "\"later\"").number, 4U);
  EXPECT_TRUE(shed.journal().check()->whole);
}

}  // namespace
}  // namespace swardwalk::journal
