#include <SQLiteCpp/Database.h>
#include <fmt/core.h>
#include <sqlite3.h>

#include <filesystem>

#include "common/journal/journal_inner.h"
#include "common/journal/schema.h"

namespace swardwalk::journal {

namespace {

// A command beside a running server waits for the other's transaction, which is short.
constexpr int busyTimeout_ms = 10'000;

std::string immutableAddress(const std::string& file) {
  std::string address = "file:";
  for (const char c : file) {
    if (c == '?' || c == '#' || c == '%')
      address += fmt::format("%{:02X}", static_cast<unsigned char>(c));
    else
      address += c;
  }
  return address + "?immutable=1";
}

std::unique_ptr<SQLite::Database> connect(const JournalOptions& options) {
  if (!options.readOnly)
    return std::make_unique<SQLite::Database>(
        options.file, SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE, busyTimeout_ms, options.vfs);
  std::error_code ignored;
  const auto walBytes = std::filesystem::file_size(options.file + "-wal", ignored);
  const bool walHoldsSomething = !ignored && walBytes > 0;
  try {
    // Only a connection that may write tidies its -wal and -shm files away at the end.
    auto database = std::make_unique<SQLite::Database>(options.file, SQLite::OPEN_READWRITE,
                                                       busyTimeout_ms, options.vfs);
    // What somebody else committed is not moved about by one who only looks.
    if (walHoldsSomething)
      sqlite3_db_config(database->getHandle(), SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, 1, nullptr);
    database->exec("PRAGMA query_only = ON");
    database->execAndGet("SELECT count(*) FROM sqlite_schema");
    return database;
  } catch (const SQLite::Exception& error) {
    const int code = error.getErrorCode();
    if (walHoldsSomething || (code != SQLITE_CANTOPEN && code != SQLITE_READONLY)) throw;
    // A place where nothing may be written: a stick, somebody else's backup.
    return std::make_unique<SQLite::Database>(immutableAddress(options.file),
                                              SQLite::OPEN_READONLY | SQLite::OPEN_URI,
                                              busyTimeout_ms, options.vfs);
  }
}

/// Everything that is set for each connection, with its reason.
void setUp(SQLite::Database& database, const JournalOptions& options) {
  database.exec("PRAGMA foreign_keys = ON");
  // INSERT OR REPLACE must not get past the triggers that keep records (J1).
  database.exec("PRAGMA recursive_triggers = ON");
  // An erased body must not be left in free pages.
  database.exec("PRAGMA secure_delete = ON");
  // 8 MiB: bounded, and enough for the inner pages of a large journal.
  database.exec("PRAGMA cache_size = -8192");
  if (options.readOnly) return;
  // Two steps: the answer to the first keeps a read open, in which the mode can't change.
  std::string mode = database.execAndGet("PRAGMA journal_mode").getString();
  if (mode != "wal") mode = database.execAndGet("PRAGMA journal_mode = WAL").getString();
  if (mode != "wal")
    throw SQLite::Exception("write-ahead logging is not possible here", SQLITE_IOERR);
  // FULL syncs the log at every commit: a record that was acknowledged is durable (J2).
  database.exec(options.durability == Durability::full ? "PRAGMA synchronous = FULL"
                                                       : "PRAGMA synchronous = OFF");
  // 16 MiB: moved into the file after several messages of a large exchange, not after each.
  database.exec("PRAGMA wal_autocheckpoint = 4096");
  // A large exchange must not leave a large log file behind for ever.
  database.exec("PRAGMA journal_size_limit = 67108864");
}

/// A program that was killed may have left records in the log that nobody synced. SQLite
/// shows them to the next one, which must not pass them on before they are durable (J2).
void syncWhatWasLeft(SQLite::Database& database) {
  try {
    // Syncs the log first, before any page is moved.
    database.execAndGet("PRAGMA wal_checkpoint(PASSIVE)");
  } catch (const SQLite::Exception& error) {
    // Without room the pages stay in the log, which is synced by then.
    if (error.getErrorCode() != SQLITE_FULL) throw;
  }
}

Result<void> fits(SQLite::Database& database, const JournalOptions& options) {
  switch (fileState(database)) {
    case FileState::newer:
      return fail(FailureKind::newer, options.file, "this journal was made by a newer version",
                  "use that version here, too; the file was not touched");
    case FileState::foreign:
      return fail(FailureKind::corrupt, options.file, "this is not a journal",
                  "move the file away, or name another directory");
    case FileState::empty:
      if (options.readOnly)
        return fail(FailureKind::notFound, options.file, "there is no journal yet",
                    "import or exchange something first");
      return {};
    case FileState::older:
      if (options.readOnly)
        return fail(FailureKind::busy, options.file,
                    "this journal was made by an older version and is not yet brought up to date",
                    "open it for writing once, then try again");
      return {};
    case FileState::current:
      return {};
  }
  return {};
}

Result<void> foldFits(const std::optional<std::int64_t>& stored, const Fold& fold,
                      const JournalOptions& options) {
  if (stored == fold.version()) return {};
  if (stored && *stored > fold.version())
    return fail(FailureKind::newer, options.file,
                "the state in this journal was made by a newer version", "use that version");
  return fail(FailureKind::busy, options.file,
              "the state in this journal was made by an older version and must be made anew",
              "open it for writing once, then try again");
}

/// SQLite does not wait where a file changes to write-ahead logging, or where its last user
/// just tidies the log away: two that open it in the same moment would get "busy" at once.
/// So opening waits here, for as long as any other wait of this connection.
template <typename Open>
Result<Journal> withPatience(const Open& open) {
  constexpr int pause_ms = 20;
  for (int waited_ms = 0;; waited_ms += pause_ms) {
    try {
      return open();
    } catch (const SQLite::Exception& error) {
      const bool busy = (error.getErrorCode() & 0xff) == SQLITE_BUSY;
      if (!busy || waited_ms >= busyTimeout_ms) throw;
      sqlite3_sleep(pause_ms);
    }
  }
}

}  // namespace

Result<Journal> Journal::open(const JournalOptions& options, Signer signer, Fold& fold) {
  if (options.readOnly && !std::filesystem::exists(options.file))
    return fail(FailureKind::notFound, options.file, "there is no journal",
                "import or exchange something first");
  try {
    return withPatience([&] { return openOnce(options, signer, fold); });
  } catch (const SQLite::Exception& error) {
    return tl::unexpected(failureOf(error, options.file, "opening the journal"));
  }
}

Result<Journal> Journal::openOnce(const JournalOptions& options, const Signer& signer, Fold& fold) {
  auto database = connect(options);
  if (auto may = fits(*database, options); !may) return tl::unexpected(may.error());
  setUp(*database, options);
  auto inner = std::make_unique<Inner>(options, signer, std::move(database), fold);
  Store& store = inner->store;
  if (options.readOnly) {
    Transaction transaction(store, Transaction::Sort::reading);
    store.refresh();
    if (auto may = foldFits(store.picture().foldVersion, fold, options); !may)
      return tl::unexpected(may.error());
    return Journal(std::move(inner));
  }
  syncWhatWasLeft(store.database());
  // A journal that is as it should be is opened without waiting for whoever writes.
  bool asItShouldBe = fileState(store.database()) == FileState::current;
  if (asItShouldBe) {
    Transaction transaction(store, Transaction::Sort::reading);
    store.refresh();
    asItShouldBe = store.picture().foldVersion == fold.version();
  }
  if (!asItShouldBe) {
    Transaction transaction(store, Transaction::Sort::writing);
    // Somebody newer may have been here between the look above and this lock.
    if (auto may = fits(store.database(), options); !may) return tl::unexpected(may.error());
    makeSchema(store.database());
    store.refresh();
    if (store.picture().foldVersion != fold.version()) {
      store.rebuild(options.onRebuild);
      store.countChange();
    }
    transaction.commit();
  }
  return Journal(std::move(inner));
}

}  // namespace swardwalk::journal
