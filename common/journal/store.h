#pragma once

#include <SQLiteCpp/Database.h>

#include <functional>
#include <memory>
#include <span>
#include <string_view>
#include <utility>
#include <vector>

#include "common/journal/fold.h"
#include "common/journal/picture.h"
#include "common/journal/statements.h"

namespace swardwalk::journal {

/// The tables of one open journal file, and the picture of them: single steps, which the
/// journal puts together to transactions. SQLite::Exception leaves these functions.
class Store {
 public:
  Store(std::unique_ptr<SQLite::Database> database, Fold& fold);

  SQLite::Database& database() { return *database_; }
  Fold& fold() { return *fold_; }
  Statements& sql() { return sql_; }
  const Picture& picture() const { return picture_; }
  bool inTransaction() const;

  /// Reads the picture anew if somebody changed the file. Call at the start of a
  /// transaction, so that picture and tables belong together.
  void refresh();
  /// After a rollback.
  void forget() { picture_.changes = -1; }

  // Looking.

  /// Where a record with this number and digest is, as its chain's id.
  std::optional<std::int64_t> locate(const Head& point);
  std::optional<Digest> digestOf(std::int64_t chain, std::uint64_t number);
  std::optional<Digest> digestOn(std::span<const Segment> path, std::uint64_t number);
  /// At most `most` records of a chain, from after `after` to `upTo`, with their rows.
  struct Row {
    std::int64_t id = 0;
    Record record;
  };
  std::vector<Row> records(const Chain& chain, std::uint64_t after, std::uint64_t upTo,
                           std::size_t most);
  /// Calls `visit` for the records after `after` up to `upTo`, each with its signature if
  /// it has one, until it gives false. `visit` must not use the store.
  void eachSigned(const Segment& segment, std::uint64_t after,
                  const std::function<bool(Record&&, const std::optional<Signature>&)>& visit);

  // Writing, inside a write transaction.

  void setCourse(const CourseId& course);
  /// Makes the origin's row where there is none.
  const KnownOrigin& know(const OriginKey& key, bool accepted);
  std::int64_t beginChain(const OriginKey& origin, std::int64_t parent, std::uint64_t after,
                          const Record& last);
  void growChain(std::int64_t chain, const Record& last);
  /// Gives the row. The record's own digest and body digest must be right.
  std::int64_t insert(std::int64_t chain, const Record& record);
  void sign(std::int64_t chain, std::uint64_t number, const Signature& signature);

  /// The record whose body stands in this row loses it, and what the state took from it.
  void eraseBody(std::int64_t id, Record record);
  /// Did anything lose its body since the last call?
  bool takeErased() { return std::exchange(erased_, false); }

  /// Folds new records of accepted origins, then what waited of `accept` and of every
  /// origin that folded records accept.
  void foldNew(std::span<const FoldInput> records, std::vector<OriginKey> accept);
  /// Makes the state anew from all records of accepted origins.
  void rebuild(const std::function<void(std::uint64_t, std::uint64_t)>& onProgress);
  /// Counts the change; the last step before the commit.
  void countChange();

 private:
  void readOrigins(Picture& fresh);
  void readChains(Picture& fresh);
  void foldBatch(std::span<const FoldInput> records, std::vector<OriginKey>& accept);
  void foldStored(const KnownOrigin& origin, std::vector<OriginKey>& accept,
                  const std::function<void(std::size_t)>& onFolded = {});
  void foldWaiting(std::vector<OriginKey> accept);
  void eraseWanted();

  std::unique_ptr<SQLite::Database> database_;
  Fold* fold_;
  Statements sql_;
  Picture picture_;
  bool erased_ = false;
};

}  // namespace swardwalk::journal
