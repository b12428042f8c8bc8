#include "tests/common/journal/power_loss_vfs.h"

#include <sqlite3.h>

#include <algorithm>
#include <cstring>
#include <map>
#include <new>
#include <stdexcept>

namespace swardwalk::journal {

namespace {

struct State {
  sqlite3_vfs* real = nullptr;
  std::map<std::string, std::string> files;  ///< as a program sees them, synced or not
  int generation = 0;                        ///< grows at every power loss: older handles are dead
  int syncs = 0;
};

/// An open file: SQLite's part first, the real file behind it.
struct File {
  sqlite3_file base;
  State* state;
  int generation;
  std::string* path;   ///< null: a temporary file, passed on as it is
  sqlite3_file* real;  ///< lies right behind this structure
};

// The system's VFS moves at most 128 KiB in one call.
constexpr std::size_t pieceBytes = 65536;

/// Calls `move` with the start and size of each piece of `size` bytes.
template <class Move>
int inPieces(std::size_t size, Move move) {
  int result = SQLITE_OK;
  for (std::size_t at = 0; at < size && result == SQLITE_OK; at += pieceBytes)
    result = move(at, static_cast<int>(std::min(pieceBytes, size - at)));
  return result;
}

File& of(sqlite3_file* file) { return *reinterpret_cast<File*>(file); }
bool isDead(const File& file) { return file.generation != file.state->generation; }
std::string& bytesOf(File& file) { return file.state->files.at(*file.path); }

int closeFile(sqlite3_file* handle) {
  File& file = of(handle);
  const int result =
      file.real->pMethods != nullptr ? file.real->pMethods->xClose(file.real) : SQLITE_OK;
  // What was not synced stays: the system still shows it to whoever opens the file next.
  delete file.path;
  return result;
}

int readFile(sqlite3_file* handle, void* to, int size, sqlite3_int64 at) {
  File& file = of(handle);
  if (isDead(file)) return SQLITE_IOERR_READ;
  if (file.path == nullptr) return file.real->pMethods->xRead(file.real, to, size, at);
  const std::string& bytes = bytesOf(file);
  const auto start = static_cast<std::size_t>(at);
  const std::size_t there =
      start < bytes.size() ? std::min(bytes.size() - start, static_cast<std::size_t>(size)) : 0;
  if (there > 0) std::memcpy(to, bytes.data() + start, there);
  if (there == static_cast<std::size_t>(size)) return SQLITE_OK;
  std::memset(static_cast<char*>(to) + there, 0, static_cast<std::size_t>(size) - there);
  return SQLITE_IOERR_SHORT_READ;
}

int writeFile(sqlite3_file* handle, const void* from, int size, sqlite3_int64 at) {
  File& file = of(handle);
  if (isDead(file)) return SQLITE_IOERR_WRITE;
  if (file.path == nullptr) return file.real->pMethods->xWrite(file.real, from, size, at);
  std::string& bytes = bytesOf(file);
  const auto end = static_cast<std::size_t>(at + size);
  if (bytes.size() < end) bytes.resize(end);
  std::memcpy(bytes.data() + at, from, static_cast<std::size_t>(size));
  return SQLITE_OK;
}

int truncateFile(sqlite3_file* handle, sqlite3_int64 size) {
  File& file = of(handle);
  if (isDead(file)) return SQLITE_IOERR_TRUNCATE;
  if (file.path == nullptr) return file.real->pMethods->xTruncate(file.real, size);
  bytesOf(file).resize(static_cast<std::size_t>(size));
  return SQLITE_OK;
}

int syncFile(sqlite3_file* handle, int flags) {
  File& file = of(handle);
  if (isDead(file)) return SQLITE_IOERR_FSYNC;
  if (file.path == nullptr) return file.real->pMethods->xSync(file.real, flags);
  ++file.state->syncs;
  const std::string& bytes = bytesOf(file);
  // All of it again: the files of these tests are small.
  const int truncated = file.real->pMethods->xTruncate(file.real, 0);
  if (truncated != SQLITE_OK) return truncated;
  return inPieces(bytes.size(), [&](std::size_t at, int size) {
    return file.real->pMethods->xWrite(file.real, bytes.data() + at, size,
                                       static_cast<sqlite3_int64>(at));
  });
}

int sizeOfFile(sqlite3_file* handle, sqlite3_int64* size) {
  File& file = of(handle);
  if (isDead(file)) return SQLITE_IOERR_FSTAT;
  if (file.path == nullptr) return file.real->pMethods->xFileSize(file.real, size);
  *size = static_cast<sqlite3_int64>(bytesOf(file).size());
  return SQLITE_OK;
}

int lockFile(sqlite3_file* handle, int level) {
  File& file = of(handle);
  return isDead(file) ? SQLITE_IOERR_LOCK : file.real->pMethods->xLock(file.real, level);
}
int unlockFile(sqlite3_file* handle, int level) {
  return of(handle).real->pMethods->xUnlock(of(handle).real, level);
}
int isReserved(sqlite3_file* handle, int* reserved) {
  return of(handle).real->pMethods->xCheckReservedLock(of(handle).real, reserved);
}
int controlFile(sqlite3_file* handle, int operation, void* argument) {
  // Hints about sizes would reach past what is kept here.
  if (of(handle).path != nullptr &&
      (operation == SQLITE_FCNTL_SIZE_HINT || operation == SQLITE_FCNTL_CHUNK_SIZE))
    return SQLITE_OK;
  return of(handle).real->pMethods->xFileControl(of(handle).real, operation, argument);
}
int sectorSize(sqlite3_file* handle) {
  return of(handle).real->pMethods->xSectorSize(of(handle).real);
}
int characteristics(sqlite3_file*) { return 0; }  // promises nothing about partial writes
int mapShared(sqlite3_file* handle, int page, int size, int extend, void volatile** at) {
  if (isDead(of(handle))) return SQLITE_IOERR_SHMMAP;
  return of(handle).real->pMethods->xShmMap(of(handle).real, page, size, extend, at);
}
int lockShared(sqlite3_file* handle, int offset, int count, int flags) {
  return of(handle).real->pMethods->xShmLock(of(handle).real, offset, count, flags);
}
void barrier(sqlite3_file* handle) { of(handle).real->pMethods->xShmBarrier(of(handle).real); }
int unmapShared(sqlite3_file* handle, int remove) {
  return of(handle).real->pMethods->xShmUnmap(of(handle).real, remove);
}

const sqlite3_io_methods methods = {
    2,          closeFile,  readFile,    writeFile,   truncateFile, syncFile,        sizeOfFile,
    lockFile,   unlockFile, isReserved,  controlFile, sectorSize,   characteristics, mapShared,
    lockShared, barrier,    unmapShared, nullptr,     nullptr};

State& stateOf(sqlite3_vfs* vfs) { return *static_cast<State*>(vfs->pAppData); }

int openFile(sqlite3_vfs* vfs, const char* name, sqlite3_file* handle, int flags, int* outFlags) {
  State& state = stateOf(vfs);
  File& file = *new (handle) File{};
  file.state = &state;
  file.generation = state.generation;
  file.real = reinterpret_cast<sqlite3_file*>(reinterpret_cast<char*>(handle) + sizeof(File));
  file.real->pMethods = nullptr;
  const int result = state.real->xOpen(state.real, name, file.real, flags, outFlags);
  if (result != SQLITE_OK) return result;
  file.base.pMethods = &methods;
  if (name == nullptr) return SQLITE_OK;
  file.path = new std::string(name);
  const auto [seen, isFirst] = state.files.try_emplace(name);
  if (!isFirst) return SQLITE_OK;
  sqlite3_int64 size = 0;
  file.real->pMethods->xFileSize(file.real, &size);
  seen->second.resize(static_cast<std::size_t>(size));
  std::string& bytes = seen->second;
  return inPieces(bytes.size(), [&](std::size_t at, int part) {
    return file.real->pMethods->xRead(file.real, bytes.data() + at, part,
                                      static_cast<sqlite3_int64>(at));
  });
}

int deleteFile(sqlite3_vfs* vfs, const char* name, int syncDirectory) {
  State& state = stateOf(vfs);
  state.files.erase(name);
  return state.real->xDelete(state.real, name, syncDirectory);
}

}  // namespace

struct PowerLossVfs::Disk {
  State state;
  sqlite3_vfs vfs{};
  std::string name;
};

PowerLossVfs::PowerLossVfs() : disk_(std::make_unique<Disk>()) {
  static int made = 0;
  disk_->name = "power-loss-" + std::to_string(++made);
  disk_->state.real = sqlite3_vfs_find(nullptr);
  // Everything but opening and deleting is the system's own.
  disk_->vfs = *disk_->state.real;
  disk_->vfs.pNext = nullptr;
  disk_->vfs.zName = disk_->name.c_str();
  disk_->vfs.pAppData = &disk_->state;
  disk_->vfs.szOsFile = static_cast<int>(sizeof(File)) + disk_->state.real->szOsFile;
  disk_->vfs.xOpen = openFile;
  disk_->vfs.xDelete = deleteFile;
  if (sqlite3_vfs_register(&disk_->vfs, 0) != SQLITE_OK)
    throw std::runtime_error("the VFS could not be registered");
}

PowerLossVfs::~PowerLossVfs() { sqlite3_vfs_unregister(&disk_->vfs); }

const std::string& PowerLossVfs::name() const { return disk_->name; }

void PowerLossVfs::losePower() {
  ++disk_->state.generation;
  disk_->state.files.clear();
}

int PowerLossVfs::syncs() const { return disk_->state.syncs; }

}  // namespace swardwalk::journal
