#pragma once

#include "common/failure.h"

namespace SQLite {
class Database;
}

/// The tables of a journal file; FORMAT.md says what their fields mean.
namespace swardwalk::journal {

inline constexpr int applicationId = 0x53574A4C;  ///< "SWJL"
inline constexpr int schemaVersion = 1;           ///< the file's `user_version`

enum class FileState {
  empty,    ///< a new file: no table yet
  older,    ///< a journal that wants migrating
  current,  ///< a journal of this version
  newer,    ///< a journal of a newer version
  foreign   ///< an SQLite file of something else
};

/// Looks at a file without changing it.
FileState fileState(SQLite::Database& database);

/// The trigger that refuses every change of a record but the erasing of its body (J1).
extern const char* const recordsNeverChange;

/// Makes or migrates the tables; call inside a write transaction, which makes tables and
/// `user_version` one step.
void makeSchema(SQLite::Database& database);

}  // namespace swardwalk::journal
