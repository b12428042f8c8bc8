#include "server/door/door_file.h"

#include <SQLiteCpp/Transaction.h>
#include <fcntl.h>
#include <fmt/format.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>

namespace swardwalk::server {
namespace {

constexpr int formatVersion = 1;
constexpr int wait_ms = 5000;

constexpr const char* tables = R"sql(
CREATE TABLE facts (
  name TEXT PRIMARY KEY,
  value TEXT NOT NULL
) STRICT, WITHOUT ROWID;

CREATE TABLE codes (
  digest BLOB PRIMARY KEY CHECK (length(digest) = 32),
  ends_ms INTEGER NOT NULL
) STRICT, WITHOUT ROWID;

CREATE TABLE devices (
  origin BLOB PRIMARY KEY CHECK (length(origin) = 32),
  name TEXT NOT NULL,
  token BLOB UNIQUE CHECK (length(token) = 32),
  paired_ms INTEGER,
  seen_ms INTEGER,
  shut_out INTEGER NOT NULL DEFAULT 0 CHECK (shut_out IN (0, 1)),
  vouched INTEGER NOT NULL DEFAULT 0 CHECK (vouched IN (0, 1))
) STRICT, WITHOUT ROWID;

CREATE TABLE people (
  name TEXT PRIMARY KEY COLLATE NOCASE,
  role TEXT NOT NULL CHECK (role IN ('crew', 'manager')),
  password TEXT NOT NULL
) STRICT, WITHOUT ROWID;

CREATE TABLE sessions (
  digest BLOB PRIMARY KEY CHECK (length(digest) = 32),
  name TEXT NOT NULL COLLATE NOCASE REFERENCES people (name) ON DELETE CASCADE ON UPDATE CASCADE,
  begun_ms INTEGER NOT NULL,
  seen_ms INTEGER NOT NULL
) STRICT, WITHOUT ROWID;

CREATE TABLE browsers (
  digest BLOB PRIMARY KEY CHECK (length(digest) = 32),
  name TEXT NOT NULL COLLATE NOCASE REFERENCES people (name) ON DELETE CASCADE ON UPDATE CASCADE,
  seen_ms INTEGER NOT NULL
) STRICT, WITHOUT ROWID;
)sql";

}  // namespace

DoorFile::Undo::Undo(DoorFile& door) : door_(&door) { door.database_->exec("BEGIN IMMEDIATE"); }

DoorFile::Undo::~Undo() {
  // A rollback that fails leaves nothing to undo.
  if (!done_) (void)door_->database_->tryExec("ROLLBACK");
}

void DoorFile::Undo::commit() {
  door_->database_->exec("COMMIT");
  done_ = true;
}

Result<std::unique_ptr<DoorFile>> DoorFile::open(const std::string& directory) {
  std::unique_ptr<DoorFile> door(new DoorFile(directory + "/door.sqlite"));
  // Made for its owner alone before SQLite opens it; the files beside it follow its rights.
  // Never opened once it is there: closing it would give up what this process's other
  // connections have locked.
  const int made = ::open(door->file_.c_str(), O_RDWR | O_CREAT | O_EXCL | O_CLOEXEC, 0600);
  if (made < 0 && errno != EEXIST) {
    return fail(errno == ENOSPC ? FailureKind::full : FailureKind::io, door->file_,
                fmt::format("cannot be opened: {}", std::strerror(errno)),
                "name a directory that can be written to");
  }
  if (made >= 0) ::close(made);
  int version = 0;
  try {
    door->database_ =
        std::make_unique<SQLite::Database>(door->file_, SQLite::OPEN_READWRITE, wait_ms);
    door->sql_ = std::make_unique<journal::Statements>(*door->database_);
    door->prepare();
    version = door->database_->execAndGet("PRAGMA user_version").getInt();
  } catch (const SQLite::Exception& problem) {
    return tl::unexpected(journal::failureOf(problem, door->file_, "opening the door's file"));
  }
  if (version > formatVersion) {
    return fail(FailureKind::newer, door->file_, "this file was made by a newer version",
                "update this program");
  }
  return door;
}

void DoorFile::prepare() {
  database_->exec("PRAGMA journal_mode = WAL");
  database_->exec("PRAGMA synchronous = FULL");
  database_->exec("PRAGMA foreign_keys = ON");
  // What is deleted here was a secret's digest or a name.
  database_->exec("PRAGMA secure_delete = ON");
  if (database_->execAndGet("PRAGMA user_version").getInt() != 0) return;
  Undo undo(*this);
  // Another process may have made them in the same moment.
  if (database_->execAndGet("PRAGMA user_version").getInt() == 0) {
    database_->exec(tables);
    database_->exec(fmt::format("PRAGMA user_version = {}", formatVersion));
  }
  undo.commit();
}

Result<void> DoorFile::setFact(const std::string& name, const std::string& value) {
  return write("telling a fact", [&](journal::Statements& sql) {
    sql("INSERT INTO facts (name, value) VALUES (?, ?)"
        " ON CONFLICT (name) DO UPDATE SET value = excluded.value")
        .bindText(name)
        .bindText(value)
        .run();
  });
}

Result<std::string> DoorFile::fact(const std::string& name) {
  return read("reading a fact", [&](journal::Statements& sql) {
    auto row = sql("SELECT value FROM facts WHERE name = ?");
    row.bindText(name);
    return row.next() ? row.bytes(0) : std::string();
  });
}

}  // namespace swardwalk::server
