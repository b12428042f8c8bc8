#include "tests/common/answers/golden.h"

#include <gtest/gtest.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>

namespace swardwalk::answers::test {

void expectGolden(std::string_view name, const std::string& text) {
  const std::filesystem::path path = std::filesystem::path(SWARDWALK_TEST_DATA) / name;
  if (std::getenv("SWARDWALK_RENEW") != nullptr) {
    std::filesystem::create_directories(path.parent_path());
    std::ofstream(path, std::ios::binary) << text;
    FAIL() << path << " was written anew; look at it, then run without SWARDWALK_RENEW";
  }
  std::ifstream file(path, std::ios::binary);
  ASSERT_TRUE(file.good()) << path << " is missing; SWARDWALK_RENEW=1 writes it";
  std::istringstream written(text);
  std::string expected;
  std::string actual;
  for (int line = 1;; ++line) {
    const bool more = static_cast<bool>(std::getline(file, expected));
    const bool moreWritten = static_cast<bool>(std::getline(written, actual));
    ASSERT_EQ(more, moreWritten) << name << " line " << line << ": one of them ends here";
    if (!more) break;
    ASSERT_EQ(expected, actual) << name << " line " << line;
  }
}

}  // namespace swardwalk::answers::test
