#pragma once

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>

namespace swardwalk::server {

/// An empty folder that is gone when the test is over.
class TestFolder {
 public:
  TestFolder() {
    std::string name = (std::filesystem::temp_directory_path() / "swardwalk-test-XXXXXX").string();
    path_ = ::mkdtemp(name.data());
  }
  ~TestFolder() {
    std::error_code ignored;  // a test that made the folder read-only has its own say
    std::filesystem::remove_all(path_, ignored);
  }
  TestFolder(const TestFolder&) = delete;
  TestFolder& operator=(const TestFolder&) = delete;

  std::string operator/(const std::string& name) const { return path_ + "/" + name; }
  const std::string& path() const { return path_; }

 private:
  std::string path_;
};

inline std::string contentOf(const std::string& file) {
  std::ifstream stream(file, std::ios::binary);
  std::ostringstream bytes;
  bytes << stream.rdbuf();
  return std::move(bytes).str();
}

inline std::string writeText(const std::string& file, std::string_view text) {
  std::ofstream(file, std::ios::binary) << text;
  return file;
}

}  // namespace swardwalk::server
