#include <gmock/gmock.h>

#include "tests/common/journal/devices.h"

namespace swardwalk::journal {
namespace {

using testing::HasSubstr;
using testing::Not;

class Waiting : public testing::Test {
 protected:
  Waiting() : shed(folder.file("shed"), 1), stranger(folder.file("stranger"), 2) {
    shed.found();
    stranger.adoptFrom(shed);
    stranger.write("S", "\"stranger\"");
  }

  static bool isAccepted(Device& device, Device& origin) {
    for (const OriginInfo& info : device.journal().origins())
      if (info.origin == origin.journal().origin()) return info.accepted;
    ADD_FAILURE() << "the origin is not listed";
    return false;
  }
  Draft vouchFor(Device& device) {
    Draft draft = noteOn("", hex(device.journal().origin()));
    draft.type = "vouch";
    return draft;
  }

  TempFolder folder;
  Device shed;
  Device stranger;
};

TEST_F(Waiting, X5UnknownOriginIsKeptCountedAndPassedOnButNotFolded) {
  expectTaken(shed.journal(), allRuns(stranger.journal()), TakeStatus::taken, Vouching::waiting);
  EXPECT_FALSE(isAccepted(shed, stranger));
  EXPECT_EQ(shed.journal().recordCount(), 3U);
  EXPECT_EQ(shed.journal().heads().size(), 2U);
  EXPECT_THAT(shed.state(), Not(HasSubstr("S|")));
  EXPECT_EQ(allRuns(shed.journal()).size(), 2U);
  EXPECT_EQ(shed.write("A", "1").counter, 2U);  // a stranger's counter moves nothing
}

TEST_F(Waiting, X5AcceptFoldsWhatWaited) {
  expectTaken(shed.journal(), allRuns(stranger.journal()), TakeStatus::taken, Vouching::waiting);
  ASSERT_TRUE(shed.journal().accept(stranger.journal().origin()));
  EXPECT_TRUE(isAccepted(shed, stranger));
  EXPECT_THAT(shed.state(), HasSubstr("S|1|"));
  stranger.write("S", "\"more\"");
  expectTaken(shed.journal(), allRuns(stranger.journal()), TakeStatus::taken, Vouching::waiting);
  EXPECT_THAT(shed.state(), HasSubstr("S|2|"));
}

TEST_F(Waiting, AcceptingWhoWasNeverMetIsNotFound) {
  const auto accepted = shed.journal().accept(stranger.journal().origin());
  ASSERT_FALSE(accepted);
  EXPECT_EQ(accepted.error().kind, FailureKind::notFound);
}

TEST_F(Waiting, X5RunThatSomebodyVouchesForReleasesWhatWaited) {
  const auto first = allRuns(stranger.journal());
  expectTaken(shed.journal(), first, TakeStatus::taken, Vouching::waiting);
  stranger.write("S", "\"more\"");
  expectTaken(shed.journal(), allRuns(stranger.journal()), TakeStatus::taken, Vouching::accepted);
  EXPECT_THAT(shed.state(), HasSubstr("S|2|"));
}

TEST_F(Waiting, KnownRunThatSomebodyVouchesForReleasesWhatWaited) {
  const auto runs = allRuns(stranger.journal());
  expectTaken(shed.journal(), runs, TakeStatus::taken, Vouching::waiting);
  expectTaken(shed.journal(), runs, TakeStatus::known, Vouching::accepted);
  EXPECT_THAT(shed.state(), HasSubstr("S|1|"));
}

TEST_F(Waiting, X5FounderIsKnownByTheCourseItself) {
  Device reader(folder.file("reader"), 5);
  reader.adoptFrom(shed);
  shed.write("F", "1");
  expectTaken(reader.journal(), allRuns(shed.journal()), TakeStatus::taken, Vouching::waiting);
  EXPECT_TRUE(isAccepted(reader, shed));
  EXPECT_THAT(reader.state(), HasSubstr("F|1|"));
}

TEST_F(Waiting, X5NobodyElseCanClaimToHaveFoundedTheCourse) {
  Device reader(folder.file("reader"), 5);
  reader.adoptFrom(shed);
  Draft claim = noteOn("", "{\"geometry\":null,\"properties\":{\"course\":\"" +
                               hex(*shed.journal().course()) + "\",\"device\":\"\",\"nonce\":\"" +
                               hex(testNonce) + "\"}}");
  claim.type = "origin";
  Device liar(folder.file("liar"), 6);
  liar.adoptFrom(shed);
  liar.write(claim);
  expectTaken(reader.journal(), allRuns(liar.journal()), TakeStatus::taken, Vouching::waiting);
  EXPECT_FALSE(isAccepted(reader, liar));
}

TEST_F(Waiting, X5RecordThatAcceptsFoldsWhatWaitedOneAfterTheOther) {
  // The shed accepts the stranger, and the stranger accepts a third.
  Device third(folder.file("third"), 3);
  third.adoptFrom(shed);
  third.write("T", "\"third\"");
  stranger.write(vouchFor(third));
  Device reader(folder.file("reader"), 5);
  reader.adoptFrom(shed);
  for (Device* waiting : {&third, &stranger})
    expectTaken(reader.journal(), allRuns(waiting->journal()), TakeStatus::taken,
                Vouching::waiting);
  EXPECT_THAT(reader.state(), Not(HasSubstr("T|")));
  shed.write(vouchFor(stranger));
  expectTaken(reader.journal(), allRuns(shed.journal()), TakeStatus::taken, Vouching::waiting);
  EXPECT_THAT(reader.state(), HasSubstr("S|1|"));
  EXPECT_THAT(reader.state(), HasSubstr("T|1|"));

  // The same when everything comes at once, or the decision before those it is about.
  Device together(folder.file("together"), 6);
  together.adoptFrom(shed);
  std::vector<journal::Run> runs;
  for (Device* one : {&third, &stranger, &shed})
    for (journal::Run& run : allRuns(one->journal())) runs.push_back(std::move(run));
  expectTaken(together.journal(), runs, TakeStatus::taken, Vouching::waiting);
  EXPECT_EQ(together.state(), reader.state());
  Device decided(folder.file("decided"), 7);
  decided.adoptFrom(shed);
  for (Device* one : {&shed, &stranger, &third})
    expectTaken(decided.journal(), allRuns(one->journal()), TakeStatus::taken, Vouching::waiting);
  EXPECT_EQ(decided.state(), reader.state());
}

}  // namespace
}  // namespace swardwalk::journal
