#include "server/shed/store.h"

#include <gtest/gtest.h>

#include <thread>
#include <vector>

#include "tests/server/folder.h"

namespace swardwalk::server {
namespace {

TEST(Store, DoesEverythingOnOneThreadInItsOrderBeforeItEnds) {
  const TestFolder folder;
  std::vector<int> done;
  std::vector<std::thread::id> threads;
  {
    auto shed = Shed::open(folder / "data", [] { return 0; });
    ASSERT_TRUE(shed) << shed.error().text();
    Store store(std::move(*shed));
    for (int i = 0; i < 100; ++i) {
      store.ask([&, i](Shed&) {
        done.push_back(i);
        threads.push_back(std::this_thread::get_id());
      });
    }
  }
  ASSERT_EQ(done.size(), 100U);
  for (int i = 0; i < 100; ++i) EXPECT_EQ(done[i], i);
  for (const auto& thread : threads) {
    EXPECT_EQ(thread, threads.front());
    EXPECT_NE(thread, std::this_thread::get_id());
  }
}

}  // namespace
}  // namespace swardwalk::server
