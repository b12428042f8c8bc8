#pragma once

#include <SQLiteCpp/Database.h>
#include <SQLiteCpp/Statement.h>

#include <map>
#include <memory>
#include <span>
#include <string>

#include "common/journal/record.h"

namespace swardwalk::bench {

/// The yardstick: SQLite with the journal's durability and cache, inserting the same rows
/// into one table with the same columns and the same unique index. No digests, no fold.
class PlainSqlite {
 public:
  explicit PlainSqlite(const std::string& file);

  /// One durable transaction.
  void insert(std::span<const journal::Run> runs);

 private:
  SQLite::Database database_;
  std::unique_ptr<SQLite::Statement> insertion_;
  std::map<journal::OriginKey, int> chains_;
};

}  // namespace swardwalk::bench
