#pragma once

#include <cstdint>
#include <functional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "common/journal/record.h"

namespace SQLite {
class Database;
}

namespace swardwalk::journal {

/// A record as the fold sees it; `id` is its local row, stable in this file.
struct FoldInput {
  std::int64_t id = 0;
  const Record* record = nullptr;
};

/// Makes the course state out of records, in tables of the journal's own file. The
/// journal calls it inside the transaction that inserts the records, and knows nothing
/// of what it does. What it makes must depend on the set of folded records alone, not
/// on their order or grouping (J4).
/// SQLite::Exception may leave these functions: the journal rolls back and reports it.
class Fold {
 public:
  virtual ~Fold() = default;

  /// Another number than the file's makes the journal build the state anew.
  virtual int version() const = 0;

  /// Drops this fold's tables if there are any, and makes them empty.
  virtual void makeTables(SQLite::Database& database) = 0;

  /// Folds records of accepted origins; all were inserted just now or waited until now.
  /// Gives the origins that these records accept (X5); the journal then folds what
  /// waited of them.
  virtual std::vector<OriginKey> fold(SQLite::Database& database,
                                      std::span<const FoldInput> records) = 0;

  /// All records whose bodies folded records want erased, whether they came yet or not. The
  /// journal erases them, and those that come later as they come.
  virtual std::vector<Digest> erasures(SQLite::Database&) const { return {}; }

  /// A body was erased: what the state took from it must go.
  virtual void erase(SQLite::Database& database, const FoldInput& record) = 0;

  /// Writes the state out piece by piece, in an order of its own and without local row
  /// numbers: equal texts, equal states (J4). `check` compares the stored state with one
  /// folded from scratch by it.
  virtual void writeState(SQLite::Database& database,
                          const std::function<void(std::string_view)>& write) const = 0;

  /// What writeState writes, as one text; for tests and small journals.
  std::string stateText(SQLite::Database& database) const {
    std::string text;
    writeState(database, [&text](std::string_view piece) { text += piece; });
    return text;
  }
};

}  // namespace swardwalk::journal
