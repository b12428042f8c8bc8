#pragma once

#include <span>

#include "common/course/registry.h"
#include "common/journal/fold.h"

namespace swardwalk::course {

/// Folds course records into the tables `living`, `ending`, `unusable`, `newer`,
/// `erasing`, `erased` and `photos`: recorded values and integers only (J4). Use from the journal's
/// thread.
///
/// A record of a known type that passes its check stands in `living`; a withdrawal stands
/// in `ending` with what it names; what is wrong stands in `unusable` with its reason; what
/// this build does not know stands in `newer`; who wants what erased stands in `erasing`, and
/// what lost its body in `erased`; the pictures that a record names stand in `photos`. Each row
/// depends on its own record alone, so the tables depend on the set of records only. What a
/// withdrawal ends, also where it ends another withdrawal, and which version of a named thing is
/// the last, is decided when the state is read (living.h).
class CourseFold final : public journal::Fold {
 public:
  /// `types` other than the registry's play an older or a newer build in tests; `version`
  /// must then be another, too. They must outlive the fold.
  explicit CourseFold(std::span<const RecordType> types = recordTypes(), int version = 3);

  int version() const override { return version_; }
  void makeTables(SQLite::Database& database) override;
  std::vector<journal::OriginKey> fold(SQLite::Database& database,
                                       std::span<const journal::FoldInput> records) override;
  std::vector<journal::Digest> erasures(SQLite::Database& database) const override;
  void erase(SQLite::Database& database, const journal::FoldInput& record) override;
  /// The folded tables in an order of their own, without local row numbers; as one text:
  /// `stateText(database)`.
  void writeState(SQLite::Database& database,
                  const std::function<void(std::string_view)>& write) const override;

 private:
  std::span<const RecordType> types_;
  int version_;
};

}  // namespace swardwalk::course
