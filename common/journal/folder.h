#pragma once

#include <functional>
#include <string>

#include "common/journal/journal.h"

namespace swardwalk::journal {

/// Fills bytes from a cryptographic source of randomness (libsodium's).
void systemRandom(std::uint8_t* bytes, std::size_t size);

enum class Missing { make, refuse };

/// Opens the journal of a data directory: `journal.sqlite` and `origin.key`. Makes both
/// with `Missing::make`; else a directory without a journal is `notFound`.
/// A directory that holds a journal but no key gets a new key and so a new origin.
Result<Journal> openFolder(const std::string& directory, Missing missing, Fold& fold,
                           JournalOptions options = {});

/// Replaces the directory's key by a new one and lets the journal write on under it.
Result<void> renewOrigin(Journal& journal, const std::string& directory, std::string_view reason,
                         std::int64_t wall_ms);

}  // namespace swardwalk::journal
