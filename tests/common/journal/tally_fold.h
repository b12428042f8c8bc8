#pragma once

#include "common/journal/fold.h"

namespace swardwalk::journal {

/// A small fold for tests: counts records by subject and keeps the newest body of each
/// (by counter, then origin, then digest); counts types that it does not know; a record
/// of type `vouch` accepts the origin that its body names.
class TallyFold final : public Fold {
 public:
  explicit TallyFold(int version = 1) : version_(version) {}

  int version() const override { return version_; }
  void makeTables(SQLite::Database& database) override;
  std::vector<OriginKey> fold(SQLite::Database& database,
                              std::span<const FoldInput> records) override;
  void erase(SQLite::Database& database, const FoldInput& record) override;
  void writeState(SQLite::Database& database,
                  const std::function<void(std::string_view)>& write) const override;

  int tablesMade = 0;

 private:
  int version_;
};

}  // namespace swardwalk::journal
