#pragma once

#include <functional>
#include <string_view>

#include "common/course/features.h"
#include "common/course/json.h"
#include "common/failure.h"
#include "common/journal/journal.h"

namespace SQLite {
class Database;
}

/// The folded tables, read one record at a time.
namespace swardwalk::course {

/// A record that the state may be made of. The views live during one visit.
struct FoldedRecord {
  enum class Table { living, unusable, newer } table = Table::living;
  /// A withdrawal that itself stands names it.
  bool withdrawn = false;
  std::string_view type;
  int version = 0;
  std::string_view subject;                 ///< of `living`
  std::optional<std::string_view> nameKey;  ///< of `living`, things with a name only
  std::optional<measure::Instant> at;       ///< of `living`, events with a moment only
  journal::Digest feature{};                ///< of `living`: featureDigest
  std::string_view reason;                  ///< of `unusable`
  std::string_view body;                    ///< of `living`
  journal::PersonId person{};
  Source source;  ///< without what the body says: author, device and note
};

/// Runs `read` on one consistent state of the journal's file; a failure of SQLite becomes `io`.
Result<void> readTogether(const journal::Journal& journal,
                          const std::function<void(SQLite::Database&)>& read);

/// Calls `visit` for every folded record, withdrawn ones too, in no particular order, on
/// one consistent state of the file. `visit` must not use the journal.
///
/// A withdrawal stands unless one that stands names it: withdrawing a withdrawal undoes
/// it. Since a record's digest covers what it names, the names run in no circle, and the
/// order of arrival plays no part.
Result<void> forEachFolded(const journal::Journal& journal,
                           const std::function<void(const FoldedRecord&)>& visit);

/// The same for things with a name of one type, without the withdrawn ones; quick however
/// many events there are.
Result<void> forEachNamed(const journal::Journal& journal, std::string_view type,
                          const std::function<void(const FoldedRecord&)>& visit);

/// A text property of a body; empty where it can't be read.
std::string propertyOf(JsonReader& json, std::string_view body, std::string_view key);

/// Calls `visit` with type and subject of everything that lost its body on request.
Result<void> forEachErased(
    const journal::Journal& journal,
    const std::function<void(std::string_view type, std::string_view subject)>& visit);

/// Does the author with this id have a record with this name, or had one that was erased?
Result<bool> isPersonKnown(const journal::Journal& journal, std::string_view id,
                           std::string_view name);

}  // namespace swardwalk::course
