#include "tests/common/journal/tally_fold.h"

#include <SQLiteCpp/Database.h>
#include <SQLiteCpp/Statement.h>

namespace swardwalk::journal {

namespace {

void addNote(SQLite::Database& database, const Record& record) {
  SQLite::Statement count(database,
                          "INSERT INTO tally (subject, records, counter, origin, digest, body)"
                          " VALUES (?, 1, 0, '', '', x'')"
                          " ON CONFLICT (subject) DO UPDATE SET records = records + 1");
  count.bind(1, record.content.subject);
  count.exec();
  SQLite::Statement newest(database,
                           "UPDATE tally SET counter = ?2, origin = ?3, digest = ?4, body = ?5"
                           " WHERE subject = ?1 AND (counter, origin, digest) < (?2, ?3, ?4)");
  newest.bind(1, record.content.subject);
  newest.bind(2, static_cast<std::int64_t>(record.counter));
  newest.bind(3, hex(record.origin));
  newest.bind(4, hex(record.digest));
  newest.bind(5, static_cast<const void*>(record.content.body.data()),
              static_cast<int>(record.content.body.size()));
  newest.exec();
}

void addOther(SQLite::Database& database, const std::string& type) {
  SQLite::Statement count(database,
                          "INSERT INTO others (type, records) VALUES (?, 1)"
                          " ON CONFLICT (type) DO UPDATE SET records = records + 1");
  count.bind(1, type);
  count.exec();
}

}  // namespace

void TallyFold::makeTables(SQLite::Database& database) {
  ++tablesMade;
  database.exec(
      "DROP TABLE IF EXISTS tally; DROP TABLE IF EXISTS others;"
      "CREATE TABLE tally (subject TEXT PRIMARY KEY, records INTEGER NOT NULL,"
      " counter INTEGER NOT NULL, origin TEXT NOT NULL, digest TEXT NOT NULL, body BLOB NOT NULL);"
      "CREATE TABLE others (type TEXT PRIMARY KEY, records INTEGER NOT NULL)");
}

std::vector<OriginKey> TallyFold::fold(SQLite::Database& database,
                                       std::span<const FoldInput> records) {
  std::vector<OriginKey> accepted;
  for (const FoldInput& input : records) {
    const Record& record = *input.record;
    if (record.content.type == "note") {
      addNote(database, record);
    } else {
      addOther(database, record.content.type);
    }
    if (record.content.type == "vouch")
      if (auto key = parseHex<32>(record.content.body)) accepted.push_back(*key);
  }
  return accepted;
}

void TallyFold::erase(SQLite::Database& database, const FoldInput& record) {
  SQLite::Statement clear(database, "UPDATE tally SET body = x'' WHERE digest = ?");
  clear.bind(1, hex(record.record->digest));
  clear.exec();
}

void TallyFold::writeState(SQLite::Database& database,
                           const std::function<void(std::string_view)>& write) const {
  SQLite::Statement tally(database,
                          "SELECT subject || '|' || records || '|' || counter || '|' || origin ||"
                          " '|' || digest || '|' || hex(body) || char(10)"
                          " FROM tally ORDER BY subject");
  while (tally.executeStep()) write(tally.getColumn(0).getString());
  SQLite::Statement others(database,
                           "SELECT type || '|' || records || char(10) FROM others ORDER BY type");
  while (others.executeStep()) write(others.getColumn(0).getString());
}

}  // namespace swardwalk::journal
