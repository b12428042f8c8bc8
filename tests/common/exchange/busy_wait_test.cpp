#include "common/exchange/busy_wait.h"

#include <gtest/gtest.h>

#include <set>

namespace swardwalk::exchange {
namespace {

using std::chrono::milliseconds;

constexpr BusyWait::Limits limits{milliseconds(100), milliseconds(400), milliseconds(1'000'000)};

TEST(BusyWait, DoublesItsOwnWaitsUpToTheLongest) {
  BusyWait busy(limits);
  for (const std::int64_t least : {100, 200, 400, 400}) {
    const auto wait = busy.next("");
    ASSERT_TRUE(wait);
    EXPECT_GE(wait->count(), least);
    EXPECT_LE(wait->count(), least * 3 / 2);
  }
}

TEST(BusyWait, BelievesTheShedUpToTheLongest) {
  const BusyWait::Limits wide{milliseconds(100), milliseconds(5'000), milliseconds(10'000'000)};
  BusyWait busy(wide);
  EXPECT_GE(busy.next("3")->count(), 3'000);
  const auto wait = busy.next("3600");
  ASSERT_TRUE(wait);
  EXPECT_LE(wait->count(), 7'500);
}

TEST(BusyWait, TakesNonsenseAsNothingSaid) {
  for (const char* said :
       {"soon", "-1", "0", "99999999999999999999", "3 s", "Wed, 21 Oct 2015 07:28:00 GMT"}) {
    BusyWait busy(limits);
    const auto wait = busy.next(said);
    ASSERT_TRUE(wait) << said;
    EXPECT_LE(wait->count(), 150) << said;
  }
}

TEST(BusyWait, GivesUpBeforeTheWaitsComeToMoreThanTheLimit) {
  const BusyWait::Limits few{milliseconds(100), milliseconds(100), milliseconds(1'000)};
  BusyWait busy(few);
  std::int64_t together = 0;
  int waits = 0;
  while (const auto wait = busy.next("")) {
    together += wait->count();
    ASSERT_LT(++waits, 20);
  }
  EXPECT_LE(together, 1'000);
  EXPECT_GE(waits, 6) << "ten of 100, or six of 150";
}

TEST(BusyWait, SpreadsThoseWhoWereSentAwayTogether) {
  std::set<std::int64_t> waits;
  for (int client = 0; client < 100; ++client) {
    BusyWait busy(limits);
    waits.insert(busy.next("")->count());
  }
  EXPECT_GT(waits.size(), 10U);
}

}  // namespace
}  // namespace swardwalk::exchange
