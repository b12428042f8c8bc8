#include "tests/common/journal/virtual_disk.h"

#include <sqlite3.h>

#include <algorithm>

#include "tests/common/journal/virtual_file.h"

namespace swardwalk::journal {

VirtualDisk::VirtualDisk() = default;
VirtualDisk::~VirtualDisk() = default;

VirtualDisk::Files VirtualDisk::content() const {
  Files files;
  for (const auto& [name, file] : files_) files[name] = file->content;
  return files;
}

void VirtualDisk::deaden() {
  ++generation_;
  died_ = false;
  std::fill(std::begin(dieAt_), std::end(dieAt_), 0);
  for (const auto& [name, file] : files_) file->shared = std::make_shared<Shared>();
}

void VirtualDisk::replace(const Files& files) {
  files_.clear();
  forgot_ = false;
  deaden();
  for (const auto& [name, bytes] : files) {
    auto file = std::make_shared<VirtualFile>();
    file->content = file->durable = bytes;
    files_[name] = std::move(file);
  }
}

void VirtualDisk::losePower(const Draw& draw) {
  forgot_ = false;
  for (const auto& [name, file] : files_) {
    // All of it, nothing of it, or some of it.
    const std::uint64_t sort = draw ? draw(3) : 0;
    for (Write& write : file->unsynced) {
      if (sort == 0 || (sort == 2 && draw(2) == 0)) continue;
      if (sort == 2 && !write.truncates && draw(4) == 0) {
        const std::size_t sectors = write.bytes.size() / sectorBytes + 1;
        write.bytes.resize(std::min(write.bytes.size(), draw(sectors) * sectorBytes));
      }
      carryOut(write, file->durable);
    }
    file->unsynced.clear();
    file->content = file->durable;
  }
  deaden();
}

void VirtualDisk::killProgram() {
  if (forgot_) return losePower();
  deaden();
}

void VirtualDisk::dieAt(Operation operation, std::uint64_t count) {
  const auto kind = static_cast<int>(operation);
  dieAt_[kind] = done_[kind] + count;
}

void VirtualDisk::failAt(Operation operation, std::uint64_t count) {
  const auto kind = static_cast<int>(operation);
  failAt_[kind] = done_[kind] + count;
}

void VirtualDisk::room(std::uint64_t bytes) {
  const std::uint64_t now = used();
  limit_ = bytes > UINT64_MAX - now ? UINT64_MAX : now + bytes;
}

void VirtualDisk::mend() {
  std::fill(std::begin(dieAt_), std::end(dieAt_), 0);
  std::fill(std::begin(failAt_), std::end(failAt_), 0);
  limit_ = UINT64_MAX;
  failed_ = false;
}

std::uint64_t VirtualDisk::done(Operation operation) const {
  return done_[static_cast<int>(operation)];
}

std::uint64_t VirtualDisk::used() const {
  std::uint64_t bytes = 0;
  for (const auto& [name, file] : files_) bytes += file->content.size();
  return bytes;
}

bool VirtualDisk::takes(std::uint64_t bytes) {
  if (limit_ == UINT64_MAX || used() + bytes <= limit_) return true;
  failed_ = true;
  return false;
}

int VirtualDisk::begin(Operation operation, int failure) {
  const auto kind = static_cast<int>(operation);
  ++done_[kind];
  if (dieAt_[kind] != 0 && done_[kind] >= dieAt_[kind]) died_ = true;
  if (died_) return failure;
  if (done_[kind] == failAt_[kind]) {
    failAt_[kind] = 0;
    failed_ = true;
    return failure;
  }
  return SQLITE_OK;
}

}  // namespace swardwalk::journal
