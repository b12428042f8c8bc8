#include "common/journal/sqlite_failure.h"

#include <SQLiteCpp/Exception.h>
#include <fmt/core.h>
#include <sqlite3.h>

#include <algorithm>
#include <iterator>

namespace swardwalk::journal {

namespace {

struct Code {
  int number;
  const char* name;
};

// Those that a file of our own can meet; any other is named by its number.
constexpr Code codes[] = {
    {SQLITE_ERROR, "SQLITE_ERROR"},
    {SQLITE_INTERNAL, "SQLITE_INTERNAL"},
    {SQLITE_PERM, "SQLITE_PERM"},
    {SQLITE_ABORT, "SQLITE_ABORT"},
    {SQLITE_ABORT_ROLLBACK, "SQLITE_ABORT_ROLLBACK"},
    {SQLITE_BUSY, "SQLITE_BUSY"},
    {SQLITE_BUSY_RECOVERY, "SQLITE_BUSY_RECOVERY"},
    {SQLITE_BUSY_SNAPSHOT, "SQLITE_BUSY_SNAPSHOT"},
    {SQLITE_BUSY_TIMEOUT, "SQLITE_BUSY_TIMEOUT"},
    {SQLITE_LOCKED, "SQLITE_LOCKED"},
    {SQLITE_LOCKED_SHAREDCACHE, "SQLITE_LOCKED_SHAREDCACHE"},
    {SQLITE_NOMEM, "SQLITE_NOMEM"},
    {SQLITE_READONLY, "SQLITE_READONLY"},
    {SQLITE_READONLY_CANTINIT, "SQLITE_READONLY_CANTINIT"},
    {SQLITE_READONLY_CANTLOCK, "SQLITE_READONLY_CANTLOCK"},
    {SQLITE_READONLY_DBMOVED, "SQLITE_READONLY_DBMOVED"},
    {SQLITE_READONLY_DIRECTORY, "SQLITE_READONLY_DIRECTORY"},
    {SQLITE_READONLY_RECOVERY, "SQLITE_READONLY_RECOVERY"},
    {SQLITE_READONLY_ROLLBACK, "SQLITE_READONLY_ROLLBACK"},
    {SQLITE_INTERRUPT, "SQLITE_INTERRUPT"},
    {SQLITE_IOERR, "SQLITE_IOERR"},
    {SQLITE_IOERR_ACCESS, "SQLITE_IOERR_ACCESS"},
    {SQLITE_IOERR_CHECKRESERVEDLOCK, "SQLITE_IOERR_CHECKRESERVEDLOCK"},
    {SQLITE_IOERR_CLOSE, "SQLITE_IOERR_CLOSE"},
    {SQLITE_IOERR_CORRUPTFS, "SQLITE_IOERR_CORRUPTFS"},
    {SQLITE_IOERR_DATA, "SQLITE_IOERR_DATA"},
    {SQLITE_IOERR_DELETE, "SQLITE_IOERR_DELETE"},
    {SQLITE_IOERR_DIR_FSYNC, "SQLITE_IOERR_DIR_FSYNC"},
    {SQLITE_IOERR_FSTAT, "SQLITE_IOERR_FSTAT"},
    {SQLITE_IOERR_FSYNC, "SQLITE_IOERR_FSYNC"},
    {SQLITE_IOERR_GETTEMPPATH, "SQLITE_IOERR_GETTEMPPATH"},
    {SQLITE_IOERR_LOCK, "SQLITE_IOERR_LOCK"},
    {SQLITE_IOERR_MMAP, "SQLITE_IOERR_MMAP"},
    {SQLITE_IOERR_NOMEM, "SQLITE_IOERR_NOMEM"},
    {SQLITE_IOERR_READ, "SQLITE_IOERR_READ"},
    {SQLITE_IOERR_SHMLOCK, "SQLITE_IOERR_SHMLOCK"},
    {SQLITE_IOERR_SHMMAP, "SQLITE_IOERR_SHMMAP"},
    {SQLITE_IOERR_SHMOPEN, "SQLITE_IOERR_SHMOPEN"},
    {SQLITE_IOERR_SHMSIZE, "SQLITE_IOERR_SHMSIZE"},
    {SQLITE_IOERR_SHORT_READ, "SQLITE_IOERR_SHORT_READ"},
    {SQLITE_IOERR_TRUNCATE, "SQLITE_IOERR_TRUNCATE"},
    {SQLITE_IOERR_UNLOCK, "SQLITE_IOERR_UNLOCK"},
    {SQLITE_IOERR_WRITE, "SQLITE_IOERR_WRITE"},
    {SQLITE_CORRUPT, "SQLITE_CORRUPT"},
    {SQLITE_CORRUPT_INDEX, "SQLITE_CORRUPT_INDEX"},
    {SQLITE_CORRUPT_SEQUENCE, "SQLITE_CORRUPT_SEQUENCE"},
    {SQLITE_NOTFOUND, "SQLITE_NOTFOUND"},
    {SQLITE_FULL, "SQLITE_FULL"},
    {SQLITE_CANTOPEN, "SQLITE_CANTOPEN"},
    {SQLITE_CANTOPEN_ISDIR, "SQLITE_CANTOPEN_ISDIR"},
    {SQLITE_CANTOPEN_SYMLINK, "SQLITE_CANTOPEN_SYMLINK"},
    {SQLITE_PROTOCOL, "SQLITE_PROTOCOL"},
    {SQLITE_SCHEMA, "SQLITE_SCHEMA"},
    {SQLITE_TOOBIG, "SQLITE_TOOBIG"},
    {SQLITE_CONSTRAINT, "SQLITE_CONSTRAINT"},
    {SQLITE_CONSTRAINT_CHECK, "SQLITE_CONSTRAINT_CHECK"},
    {SQLITE_CONSTRAINT_DATATYPE, "SQLITE_CONSTRAINT_DATATYPE"},
    {SQLITE_CONSTRAINT_FOREIGNKEY, "SQLITE_CONSTRAINT_FOREIGNKEY"},
    {SQLITE_CONSTRAINT_NOTNULL, "SQLITE_CONSTRAINT_NOTNULL"},
    {SQLITE_CONSTRAINT_PRIMARYKEY, "SQLITE_CONSTRAINT_PRIMARYKEY"},
    {SQLITE_CONSTRAINT_TRIGGER, "SQLITE_CONSTRAINT_TRIGGER"},
    {SQLITE_CONSTRAINT_UNIQUE, "SQLITE_CONSTRAINT_UNIQUE"},
    {SQLITE_MISMATCH, "SQLITE_MISMATCH"},
    {SQLITE_MISUSE, "SQLITE_MISUSE"},
    {SQLITE_NOTADB, "SQLITE_NOTADB"},
};

struct Sort {
  FailureKind kind;
  const char* todo;
};

Sort sortOf(int code) {
  // After a failed sync some systems show as written what never reached the disk.
  if (code == SQLITE_IOERR_FSYNC)
    return {FailureKind::io, "check the disk, and restart this machine before going on"};
  switch (code & 0xFF) {
    case SQLITE_BUSY:
    case SQLITE_LOCKED:
    case SQLITE_PROTOCOL:
      return {FailureKind::busy, "another program is writing to it: try again in a moment"};
    case SQLITE_FULL:
      return {FailureKind::full, "make room on the disk, then try again"};
    case SQLITE_CORRUPT:
    case SQLITE_NOTADB:
    case SQLITE_CONSTRAINT:
    case SQLITE_MISMATCH:
      return {FailureKind::corrupt, "check the journal, and restore it or rescue what it holds"};
    default:
      return {FailureKind::io, "check the disk and who may read and write there"};
  }
}

}  // namespace

std::string codeName(int extendedCode) {
  const auto* found = std::find_if(std::begin(codes), std::end(codes),
                                   [&](const Code& code) { return code.number == extendedCode; });
  if (found != std::end(codes)) return found->name;
  return fmt::format("SQLite's code {}", extendedCode);
}

Failure failureOf(const SQLite::Exception& error, const std::string& file, const char* doing) {
  // Errors of SQLiteCpp itself carry -1 as their code.
  const int code = error.getExtendedErrorCode() > 0 ? error.getExtendedErrorCode()
                                                    : std::max(error.getErrorCode(), 1);
  const Sort sort = sortOf(code);
  return Failure{sort.kind, file,
                 fmt::format("{} while {} ({})", error.what(), doing, codeName(code)), sort.todo};
}

}  // namespace swardwalk::journal
