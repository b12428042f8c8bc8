#include "common/journal/schema.h"

#include <SQLiteCpp/Database.h>
#include <SQLiteCpp/Savepoint.h>
#include <SQLiteCpp/Statement.h>
#include <fmt/core.h>

namespace swardwalk::journal {

const char* const recordsNeverChange = R"sql(
CREATE TRIGGER records_never_change BEFORE UPDATE ON records
WHEN NOT (OLD.erased = 0 AND NEW.erased = 1 AND length(NEW.body) = 0
  AND NEW.id = OLD.id AND NEW.chain = OLD.chain AND NEW.number = OLD.number
  AND NEW.counter = OLD.counter AND NEW.wall_ms = OLD.wall_ms
  AND NEW.clock_source = OLD.clock_source AND NEW.clock_offset_ms = OLD.clock_offset_ms
  AND NEW.author = OLD.author AND NEW.type = OLD.type AND NEW.version = OLD.version
  AND NEW.subject = OLD.subject AND NEW.body_digest = OLD.body_digest
  AND NEW.digest = OLD.digest)
BEGIN SELECT RAISE(ABORT, 'a record never changes (J1)'); END;
)sql";

namespace {

// `recordsNeverChange` joins them; the state's tables are the fold's own and stand beside these.
constexpr const char* version1 = R"sql(
CREATE TABLE journal (
  one INTEGER PRIMARY KEY CHECK (one = 1),
  course BLOB CHECK (length(course) = 16),
  counter INTEGER NOT NULL,
  changes INTEGER NOT NULL,
  fold_version INTEGER
) STRICT;

CREATE TABLE origins (
  id INTEGER PRIMARY KEY,
  origin BLOB NOT NULL UNIQUE CHECK (length(origin) = 32),
  accepted INTEGER NOT NULL CHECK (accepted IN (0, 1))
) STRICT;

CREATE TABLE chains (
  id INTEGER PRIMARY KEY,
  origin INTEGER NOT NULL REFERENCES origins (id),
  parent INTEGER REFERENCES chains (id),
  after INTEGER NOT NULL CHECK (after >= 0 AND (parent IS NULL) = (after = 0)),
  number INTEGER NOT NULL CHECK (number > after),
  digest BLOB NOT NULL CHECK (length(digest) = 32)
) STRICT;

CREATE TABLE records (
  id INTEGER PRIMARY KEY,
  chain INTEGER NOT NULL REFERENCES chains (id),
  number INTEGER NOT NULL,
  counter INTEGER NOT NULL,
  wall_ms INTEGER NOT NULL,
  clock_source INTEGER NOT NULL,
  clock_offset_ms INTEGER NOT NULL,
  author BLOB NOT NULL CHECK (length(author) = 16),
  type TEXT NOT NULL,
  version INTEGER NOT NULL,
  subject TEXT NOT NULL,
  body_digest BLOB NOT NULL CHECK (length(body_digest) = 32),
  digest BLOB NOT NULL CHECK (length(digest) = 32),
  erased INTEGER NOT NULL CHECK (erased IN (0, 1)),
  body BLOB NOT NULL CHECK (erased = 0 OR length(body) = 0),
  UNIQUE (chain, number)
) STRICT;

CREATE TABLE signed (
  chain INTEGER NOT NULL REFERENCES chains (id),
  number INTEGER NOT NULL,
  signature BLOB NOT NULL CHECK (length(signature) = 64),
  PRIMARY KEY (chain, number)
) STRICT, WITHOUT ROWID;

CREATE TABLE notes (
  name TEXT PRIMARY KEY,
  value BLOB NOT NULL
) STRICT, WITHOUT ROWID;

CREATE TRIGGER records_stay BEFORE DELETE ON records
BEGIN SELECT RAISE(ABORT, 'a record is never deleted (J1)'); END;

CREATE TRIGGER chains_only_grow BEFORE UPDATE ON chains
WHEN NOT (NEW.id = OLD.id AND NEW.origin = OLD.origin AND NEW.parent IS OLD.parent
  AND NEW.after = OLD.after AND NEW.number > OLD.number)
BEGIN SELECT RAISE(ABORT, 'a branch only grows (J1)'); END;

CREATE TRIGGER chains_stay BEFORE DELETE ON chains
BEGIN SELECT RAISE(ABORT, 'a branch is never deleted (J1)'); END;

CREATE TRIGGER signed_never_changes BEFORE UPDATE ON signed
BEGIN SELECT RAISE(ABORT, 'a signature never changes (J1)'); END;

CREATE TRIGGER signed_stays BEFORE DELETE ON signed
BEGIN SELECT RAISE(ABORT, 'a signature is never deleted (J1)'); END;

INSERT INTO journal (one, course, counter, changes, fold_version) VALUES (1, NULL, 0, 0, NULL);
)sql";

std::int64_t number(SQLite::Database& database, const char* sql) {
  return database.execAndGet(sql).getInt64();
}

}  // namespace

FileState fileState(SQLite::Database& database) {
  // One moment for all three: somebody else may be making the file just now.
  SQLite::Savepoint look(database, "look");
  const std::int64_t application = number(database, "PRAGMA application_id");
  const std::int64_t version = number(database, "PRAGMA user_version");
  const bool empty = number(database, "SELECT count(*) FROM sqlite_schema") == 0;
  look.release();
  if (application == applicationId) {
    if (version > schemaVersion) return FileState::newer;
    return version < schemaVersion ? FileState::older : FileState::current;
  }
  return empty && application == 0 && version == 0 ? FileState::empty : FileState::foreign;
}

void makeSchema(SQLite::Database& database) {
  const std::int64_t version = number(database, "PRAGMA user_version");
  if (version < 1) {
    database.exec(version1);
    database.exec(recordsNeverChange);
  }
  database.exec(fmt::format("PRAGMA application_id = {}", applicationId));
  database.exec(fmt::format("PRAGMA user_version = {}", schemaVersion));
}

}  // namespace swardwalk::journal
