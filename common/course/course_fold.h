#pragma once

#include "common/journal/fold.h"

namespace swardwalk::course {

/// Folds course records into the tables `living`, `ending`, `unusable` and `newer`:
/// recorded values and integers only (J4). Stateless; use from the journal's thread.
class CourseFold final : public journal::Fold {
 public:
  int version() const override;
  void makeTables(SQLite::Database& database) override;
  std::vector<journal::OriginKey> fold(SQLite::Database& database,
                                       std::span<const journal::FoldInput> records) override;
  void erase(SQLite::Database& database, const journal::FoldInput& record) override;
  /// The folded tables in an order of their own, without local row numbers; as one text:
  /// `stateText(database)`.
  void writeState(SQLite::Database& database,
                  const std::function<void(std::string_view)>& write) const override;
};

}  // namespace swardwalk::course
