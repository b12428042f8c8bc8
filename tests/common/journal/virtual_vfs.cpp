#include <sqlite3.h>

#include <algorithm>
#include <cstring>
#include <new>
#include <stdexcept>
#include <string_view>

#include "tests/common/journal/virtual_disk.h"
#include "tests/common/journal/virtual_file.h"

namespace swardwalk::journal {
namespace {

/// An open file.
struct Handle {
  sqlite3_file base;
  VirtualDisk* disk;  ///< null: a temporary file
  int generation;
  std::shared_ptr<VirtualFile> file;
  std::shared_ptr<Shared> shared;
  int level;  ///< of the file's own lock
};

Handle& of(sqlite3_file* file) { return *reinterpret_cast<Handle*>(file); }

}  // namespace

/// What SQLite calls; may look into a disk.
struct VirtualCalls {
  static bool isDead(const Handle& handle) {
    return handle.disk != nullptr &&
           (handle.generation != handle.disk->generation_ || handle.disk->died_);
  }

  static int close(sqlite3_file* base) {
    Handle& handle = of(base);
    handle.~Handle();
    return SQLITE_OK;
  }

  static int read(sqlite3_file* base, void* to, int size, sqlite3_int64 at) {
    const Handle& handle = of(base);
    if (isDead(handle)) return SQLITE_IOERR_READ;
    const std::string& content = handle.file->content;
    const auto start = static_cast<std::size_t>(at);
    const auto wanted = static_cast<std::size_t>(size);
    const std::size_t there = start < content.size() ? std::min(content.size() - start, wanted) : 0;
    if (there > 0) std::memcpy(to, content.data() + start, there);
    if (there == wanted) return SQLITE_OK;
    std::memset(static_cast<char*>(to) + there, 0, wanted - there);
    return SQLITE_IOERR_SHORT_READ;
  }

  static void change(const Handle& handle, Write write) {
    carryOut(write, handle.file->content);
    if (handle.disk != nullptr) handle.file->unsynced.push_back(std::move(write));
  }

  static int write(sqlite3_file* base, const void* from, int size, sqlite3_int64 at) {
    const Handle& handle = of(base);
    if (isDead(handle)) return SQLITE_IOERR_WRITE;
    const auto start = static_cast<std::size_t>(at);
    const auto length = static_cast<std::size_t>(size);
    if (handle.disk != nullptr) {
      const int begun = handle.disk->begin(VirtualDisk::Operation::write, SQLITE_IOERR_WRITE);
      if (begun != SQLITE_OK) return begun;
      const std::size_t end = start + length;
      const std::size_t more =
          end > handle.file->content.size() ? end - handle.file->content.size() : 0;
      if (more > 0 && !handle.disk->takes(more)) return SQLITE_FULL;
    }
    change(handle, {start, std::string(static_cast<const char*>(from), length), false});
    return SQLITE_OK;
  }

  static int truncate(sqlite3_file* base, sqlite3_int64 size) {
    const Handle& handle = of(base);
    if (isDead(handle)) return SQLITE_IOERR_TRUNCATE;
    if (static_cast<std::size_t>(size) < handle.file->content.size())
      change(handle, {static_cast<std::size_t>(size), {}, true});
    return SQLITE_OK;
  }

  static int sync(sqlite3_file* base, int) {
    const Handle& handle = of(base);
    if (isDead(handle)) return SQLITE_IOERR_FSYNC;
    if (handle.disk == nullptr) return SQLITE_OK;
    const int begun = handle.disk->begin(VirtualDisk::Operation::sync, SQLITE_IOERR_FSYNC);
    VirtualFile& file = *handle.file;
    if (begun != SQLITE_OK) {
      // The system says so once and takes its pages for written from then on.
      if (!handle.disk->died_) {
        file.unsynced.clear();
        handle.disk->forgot_ = true;
      }
      return begun;
    }
    if (handle.disk->lies_) return SQLITE_OK;
    for (const Write& one : file.unsynced) carryOut(one, file.durable);
    file.unsynced.clear();
    return SQLITE_OK;
  }

  static int size(sqlite3_file* base, sqlite3_int64* size) {
    const Handle& handle = of(base);
    if (isDead(handle)) return SQLITE_IOERR_FSTAT;
    *size = static_cast<sqlite3_int64>(handle.file->content.size());
    return SQLITE_OK;
  }

  static int lock(sqlite3_file* base, int level) {
    Handle& handle = of(base);
    if (isDead(handle)) return SQLITE_IOERR_LOCK;
    Shared& shared = *handle.shared;
    if (level <= handle.level) return SQLITE_OK;
    if (handle.level == SQLITE_LOCK_NONE) {
      if (shared.exclusive != nullptr) return SQLITE_BUSY;
      ++shared.sharedLocks;
      handle.level = SQLITE_LOCK_SHARED;
    }
    if (level >= SQLITE_LOCK_RESERVED) {
      if (shared.reserved != nullptr && shared.reserved != base) return SQLITE_BUSY;
      shared.reserved = base;
      handle.level = std::max(handle.level, SQLITE_LOCK_RESERVED);
    }
    if (level == SQLITE_LOCK_EXCLUSIVE) {
      if (shared.sharedLocks > 1) return SQLITE_BUSY;
      shared.exclusive = base;
      handle.level = SQLITE_LOCK_EXCLUSIVE;
    }
    return SQLITE_OK;
  }

  static int unlock(sqlite3_file* base, int level) {
    Handle& handle = of(base);
    Shared& shared = *handle.shared;
    if (level >= handle.level) return SQLITE_OK;
    if (shared.exclusive == base) shared.exclusive = nullptr;
    if (shared.reserved == base) shared.reserved = nullptr;
    if (level == SQLITE_LOCK_NONE) --shared.sharedLocks;
    handle.level = level;
    return SQLITE_OK;
  }

  static int isReserved(sqlite3_file* base, int* reserved) {
    *reserved = of(base).shared->reserved != nullptr;
    return SQLITE_OK;
  }

  static int control(sqlite3_file*, int, void*) { return SQLITE_NOTFOUND; }
  static int sector(sqlite3_file*) { return static_cast<int>(sectorBytes); }
  // As SQLite's own VFS for Unix: a write that is torn leaves the bytes round it alone.
  static int promises(sqlite3_file*) { return SQLITE_IOCAP_POWERSAFE_OVERWRITE; }

  static int map(sqlite3_file* base, int page, int bytes, int extend, void volatile** at) {
    Handle& handle = of(base);
    *at = nullptr;
    if (isDead(handle)) return SQLITE_IOERR_SHMMAP;
    auto& regions = handle.shared->regions;
    while (regions.size() <= static_cast<std::size_t>(page)) {
      if (extend == 0) return SQLITE_OK;
      regions.push_back(std::make_unique<char[]>(static_cast<std::size_t>(bytes)));
    }
    *at = regions[static_cast<std::size_t>(page)].get();
    return SQLITE_OK;
  }

  static int lockMap(sqlite3_file* base, int offset, int count, int flags) {
    Handle& handle = of(base);
    Shared& shared = *handle.shared;
    const bool exclusive = (flags & SQLITE_SHM_EXCLUSIVE) != 0;
    if ((flags & SQLITE_SHM_UNLOCK) != 0) {
      for (int slot = offset; slot < offset + count; ++slot) {
        if (exclusive)
          shared.writer[slot] = nullptr;
        else
          --shared.readers[slot];
      }
      return SQLITE_OK;
    }
    if (isDead(handle)) return SQLITE_IOERR_SHMLOCK;
    for (int slot = offset; slot < offset + count; ++slot)
      if (shared.writer[slot] != nullptr || (exclusive && shared.readers[slot] > 0))
        return SQLITE_BUSY;
    for (int slot = offset; slot < offset + count; ++slot) {
      if (exclusive)
        shared.writer[slot] = base;
      else
        ++shared.readers[slot];
    }
    return SQLITE_OK;
  }

  static void barrier(sqlite3_file*) {}

  static int unmap(sqlite3_file* base, int remove) {
    if (remove != 0) of(base).shared->regions.clear();
    return SQLITE_OK;
  }

  static const sqlite3_io_methods methods;

  using Disks = std::map<std::string, VirtualDisk*, std::less<>>;

  /// The disk that a path names, and what the file is called there.
  static VirtualDisk* diskOf(sqlite3_vfs* vfs, std::string_view path, std::string& rest) {
    const std::size_t slash = path.find('/', 1);
    if (path.empty() || slash == std::string_view::npos) return nullptr;
    const auto& disks = *static_cast<Disks*>(vfs->pAppData);
    const auto found = disks.find(path.substr(1, slash - 1));
    if (found == disks.end()) return nullptr;
    rest = path.substr(slash + 1);
    return found->second;
  }

  static int open(sqlite3_vfs* vfs, const char* name, sqlite3_file* base, int flags,
                  int* outFlags) {
    base->pMethods = nullptr;
    std::string rest;
    VirtualDisk* disk = nullptr;
    std::shared_ptr<VirtualFile> file;
    if (name == nullptr) {
      file = std::make_shared<VirtualFile>();
    } else {
      disk = diskOf(vfs, name, rest);
      if (disk == nullptr) return SQLITE_CANTOPEN;
      const int begun = disk->begin(VirtualDisk::Operation::open, SQLITE_CANTOPEN);
      if (begun != SQLITE_OK) return begun;
      const auto found = disk->files_.find(rest);
      if (found == disk->files_.end()) {
        if ((flags & SQLITE_OPEN_CREATE) == 0) return SQLITE_CANTOPEN;
        file = disk->files_[rest] = std::make_shared<VirtualFile>();
      } else {
        file = found->second;
      }
    }
    auto* handle = new (base) Handle{};
    handle->base.pMethods = &methods;
    handle->disk = disk;
    handle->generation = disk != nullptr ? disk->generation_ : 0;
    handle->shared = file->shared;
    handle->file = std::move(file);
    if (outFlags != nullptr) *outFlags = flags;
    return SQLITE_OK;
  }

  static int remove(sqlite3_vfs* vfs, const char* name, int) {
    std::string rest;
    VirtualDisk* disk = diskOf(vfs, name, rest);
    if (disk == nullptr || disk->died_) return SQLITE_IOERR_DELETE;
    return disk->files_.erase(rest) > 0 ? SQLITE_OK : SQLITE_IOERR_DELETE_NOENT;
  }

  static int access(sqlite3_vfs* vfs, const char* name, int, int* result) {
    std::string rest;
    const VirtualDisk* disk = diskOf(vfs, name, rest);
    *result = disk != nullptr && disk->files_.contains(rest);
    return SQLITE_OK;
  }

  static int fullName(sqlite3_vfs*, const char* name, int size, char* full) {
    sqlite3_snprintf(size, full, "%s", name);
    return SQLITE_OK;
  }
  static int random(sqlite3_vfs*, int size, char* bytes) {
    std::memset(bytes, 0x5A, static_cast<std::size_t>(size));
    return size;
  }
  static int sleep(sqlite3_vfs*, int micros) { return micros; }
  static int time(sqlite3_vfs*, double* julianDay) {
    *julianDay = 2461000.5;
    return SQLITE_OK;
  }
  static int timeMillis(sqlite3_vfs*, sqlite3_int64* julian_ms) {
    *julian_ms = 212630443200000;
    return SQLITE_OK;
  }
  static int lastError(sqlite3_vfs*, int, char*) { return 0; }
};

const sqlite3_io_methods VirtualCalls::methods = {
    2,       close,  read,     write, truncate, sync,    size,  lock,    unlock, isReserved,
    control, sector, promises, map,   lockMap,  barrier, unmap, nullptr, nullptr};

struct VirtualVfs::Inner {
  VirtualCalls::Disks disks;
  sqlite3_vfs vfs{};
  std::string name;
};

VirtualVfs::VirtualVfs() : inner_(std::make_unique<Inner>()) {
  // Its address tells it from others that live at the same time.
  inner_->name = "virtual-" + std::to_string(reinterpret_cast<std::uintptr_t>(inner_.get()));
  sqlite3_vfs& vfs = inner_->vfs;
  vfs.iVersion = 2;
  vfs.szOsFile = sizeof(Handle);
  vfs.mxPathname = 256;
  vfs.zName = inner_->name.c_str();
  vfs.pAppData = &inner_->disks;
  vfs.xOpen = VirtualCalls::open;
  vfs.xDelete = VirtualCalls::remove;
  vfs.xAccess = VirtualCalls::access;
  vfs.xFullPathname = VirtualCalls::fullName;
  vfs.xRandomness = VirtualCalls::random;
  vfs.xSleep = VirtualCalls::sleep;
  vfs.xCurrentTime = VirtualCalls::time;
  vfs.xCurrentTimeInt64 = VirtualCalls::timeMillis;
  vfs.xGetLastError = VirtualCalls::lastError;
  if (sqlite3_vfs_register(&vfs, 0) != SQLITE_OK)
    throw std::runtime_error("the VFS could not be registered");
}

VirtualVfs::~VirtualVfs() { sqlite3_vfs_unregister(&inner_->vfs); }

const std::string& VirtualVfs::name() const { return inner_->name; }

void VirtualVfs::add(const std::string& name, VirtualDisk& disk) { inner_->disks[name] = &disk; }

}  // namespace swardwalk::journal
