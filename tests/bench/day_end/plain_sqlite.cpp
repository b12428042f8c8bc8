#include "tests/bench/day_end/plain_sqlite.h"

#include <SQLiteCpp/Transaction.h>

namespace swardwalk::bench {

PlainSqlite::PlainSqlite(const std::string& file)
    : database_(file, SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE) {
  database_.exec(
      "PRAGMA journal_mode = WAL; PRAGMA synchronous = FULL; PRAGMA cache_size = -8192;"
      "CREATE TABLE records (id INTEGER PRIMARY KEY, chain INTEGER NOT NULL, number INTEGER NOT "
      "NULL,"
      " counter INTEGER NOT NULL, wall_ms INTEGER NOT NULL, clock_source INTEGER NOT NULL,"
      " clock_offset_ms INTEGER NOT NULL, author BLOB NOT NULL, type TEXT NOT NULL,"
      " version INTEGER NOT NULL, subject TEXT NOT NULL, body_digest BLOB NOT NULL,"
      " digest BLOB NOT NULL, erased INTEGER NOT NULL, body BLOB NOT NULL,"
      " UNIQUE (chain, number)) STRICT;");
  insertion_ = std::make_unique<SQLite::Statement>(
      database_,
      "INSERT INTO records (chain, number, counter, wall_ms, clock_source, clock_offset_ms, author,"
      " type, version, subject, body_digest, digest, erased, body)"
      " VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, 0, ?)");
}

void PlainSqlite::insert(std::span<const journal::Run> runs) {
  SQLite::Transaction transaction(database_);
  SQLite::Statement& row = *insertion_;
  for (const journal::Run& run : runs) {
    // As in the journal, a small number stands for the key.
    const int chain = chains_.emplace(run.origin, static_cast<int>(chains_.size())).first->second;
    for (const journal::Record& record : run.records) {
      const journal::Draft& content = record.content;
      row.bind(1, chain);
      row.bind(2, static_cast<std::int64_t>(record.number));
      row.bind(3, static_cast<std::int64_t>(record.counter));
      row.bind(4, content.wall_ms);
      row.bind(5, static_cast<int>(content.clockSource));
      row.bind(6, content.clockOffset_ms);
      row.bindNoCopy(7, content.author.data(), static_cast<int>(content.author.size()));
      row.bindNoCopy(8, content.type);
      row.bind(9, static_cast<int>(content.version));
      row.bindNoCopy(10, content.subject);
      row.bindNoCopy(11, record.bodyDigest.data(), static_cast<int>(record.bodyDigest.size()));
      row.bindNoCopy(12, record.digest.data(), static_cast<int>(record.digest.size()));
      row.bindNoCopy(13, content.body.data(), static_cast<int>(content.body.size()));
      row.exec();
      row.reset();
    }
  }
  transaction.commit();
}

}  // namespace swardwalk::bench
