#pragma once

#include <sqlite3.h>

#include <cstddef>
#include <cstring>
#include <memory>
#include <string>
#include <vector>

/// A file of a virtual disk, shared by the disk and by what SQLite calls.
namespace swardwalk::journal {

inline constexpr std::size_t sectorBytes = 512;
inline constexpr int lockSlots = SQLITE_SHM_NLOCK;

struct Write {
  std::size_t at = 0;
  std::string bytes;
  bool truncates = false;  ///< cuts the file at `at` instead
};

inline void carryOut(const Write& write, std::string& content) {
  if (write.truncates) {
    content.resize(write.at);
    return;
  }
  const std::size_t end = write.at + write.bytes.size();
  if (content.size() < end) content.resize(end);
  std::memcpy(content.data() + write.at, write.bytes.data(), write.bytes.size());
}

/// What several connections of one process share of a file: the index of its write-ahead
/// log, and who locks what.
struct Shared {
  std::vector<std::unique_ptr<char[]>> regions;
  int readers[lockSlots] = {};
  const void* writer[lockSlots] = {};
  int sharedLocks = 0;
  const void* reserved = nullptr;
  const void* exclusive = nullptr;
};

struct VirtualFile {
  std::string content;          ///< as programs see it
  std::string durable;          ///< what a power loss leaves for sure
  std::vector<Write> unsynced;  ///< from `durable` to `content`
  std::shared_ptr<Shared> shared = std::make_shared<Shared>();
};

}  // namespace swardwalk::journal
