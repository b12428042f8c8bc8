#pragma once

#include <string>

#include "common/journal/journal.h"

namespace swardwalk::journal {

/// Copies the journal of a directory, as it stands at one moment, into one file, while
/// others may read and write (SQLite's online backup), and checks the copy before it takes
/// its name: a file that was there stays until then. The copy holds no key. Gives what was
/// checked. Fails with `notFound`, `corrupt` where the copy does not hold, `full`, `io`.
Result<CheckReport> backUp(const std::string& directory, const std::string& to, Fold& fold);

/// Puts a backup in the place of a directory's journal: the backup is checked before
/// anything is touched, what was there is kept under "replaced" and a number, and the
/// directory writes on under a new origin, because others may hold records that its old key
/// wrote after the backup (X3). Makes the directory where there is none. Gives where the
/// replaced journal is kept, empty where there was none. Fails with `notFound`, `corrupt`,
/// `newer`, `busy` while another program has the directory's journal open, `refused` where
/// the directory holds another course, `full`, `io`; then nothing was replaced.
Result<std::string> restore(const std::string& directory, const std::string& from, Fold& fold,
                            std::int64_t wall_ms);

}  // namespace swardwalk::journal
