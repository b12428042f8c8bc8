#include "server/http/crowd.h"

#include <gtest/gtest.h>

#include <deque>

#include "server/http/budget.h"

namespace swardwalk::server {
namespace {

class Crowd : public testing::Test {
 protected:
  /// Each served one second after the one before.
  Guest& guest(const std::string& address, bool known = false) {
    Guest one;
    one.address = address;
    one.known = known;
    one.served += std::chrono::seconds(guests_.size());
    return guests_.emplace_back(one);
  }

  Admission ask(const std::string& address, std::size_t most, std::size_t mostOfAddress) {
    std::vector<Guest*> here;
    for (Guest& one : guests_) here.push_back(&one);
    return admit(here, address, most, mostOfAddress);
  }

 private:
  std::deque<Guest> guests_;
};

TEST_F(Crowd, WhereThereIsRoomNobodyLeaves) {
  guest("192.0.2.1");
  const Admission one = ask("192.0.2.1", 2, 2);
  EXPECT_TRUE(one.admitted);
  EXPECT_EQ(one.leaves, nullptr);
}

TEST_F(Crowd, TheStalestMakesRoom) {
  Guest& first = guest("192.0.2.1");
  Guest& second = guest("192.0.2.2");
  EXPECT_EQ(ask("192.0.2.3", 2, 2).leaves, &first);
  first.served = second.served + std::chrono::seconds(1);
  EXPECT_EQ(ask("192.0.2.3", 2, 2).leaves, &second);
}

TEST_F(Crowd, StrangersLeaveBeforeThoseWhomTheShedKnows) {
  guest("192.0.2.1", true);
  Guest& stranger = guest("192.0.2.2");
  EXPECT_EQ(ask("192.0.2.3", 2, 2).leaves, &stranger);
}

TEST_F(Crowd, WhereAllAreKnownTheStalestOfThemMakesRoom) {
  Guest& first = guest("192.0.2.1", true);
  guest("192.0.2.2", true);
  EXPECT_EQ(ask("192.0.2.3", 2, 2).leaves, &first);
}

TEST_F(Crowd, WhoIsBeingAnsweredNeverLeaves) {
  guest("192.0.2.1").working = true;
  Guest& known = guest("192.0.2.2", true);
  EXPECT_EQ(ask("192.0.2.3", 2, 2).leaves, &known);
  known.working = true;
  EXPECT_FALSE(ask("192.0.2.3", 2, 2).admitted);
}

TEST_F(Crowd, AnAddressWithItsShareMakesRoomAmongItsOwn) {
  guest("192.0.2.1");
  Guest& own = guest("192.0.2.2", true);
  guest("192.0.2.2", true);
  const Admission one = ask("192.0.2.2", 100, 2);
  EXPECT_TRUE(one.admitted);
  EXPECT_EQ(one.leaves, &own);
  EXPECT_EQ(ask("192.0.2.3", 100, 2).leaves, nullptr);
}

TEST_F(Crowd, WhoWasSentAwayIsNotCountedAndNotSentAgain) {
  guest("192.0.2.1").leaving = true;
  Guest& second = guest("192.0.2.1");
  EXPECT_EQ(ask("192.0.2.1", 2, 2).leaves, nullptr);
  guest("192.0.2.1");
  EXPECT_EQ(ask("192.0.2.1", 2, 2).leaves, &second);
}

TEST(MemoryBudget, IsSpentByAllTogetherAndComesBack) {
  Budget budget(100);
  Budget::Share first(budget);
  EXPECT_TRUE(first.growTo(60));
  {
    Budget::Share second(budget);
    EXPECT_TRUE(second.growTo(40));
    EXPECT_FALSE(second.growTo(41));
    EXPECT_EQ(budget.taken(), 100u);
    EXPECT_FALSE(first.growTo(61));
    EXPECT_TRUE(first.growTo(30));
    EXPECT_TRUE(second.growTo(70));
  }
  EXPECT_EQ(budget.taken(), 30u);
  EXPECT_TRUE(first.growTo(100));
  EXPECT_TRUE(first.growTo(0));
  EXPECT_EQ(budget.taken(), 0u);
}

}  // namespace
}  // namespace swardwalk::server
