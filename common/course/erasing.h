#pragma once

#include <cstdint>
#include <string>

#include "common/failure.h"
#include "common/journal/journal.h"

namespace swardwalk::course {

struct Erased {
  std::uint64_t records = 0;    ///< bodies that are gone
  std::uint64_t rewritten = 0;  ///< of them, those that were written again without the name
};

/// Erases for good, here at once and everywhere that the wish gets to by exchange. `id` is
/// - the beginning of a record's digest, or an origin's beginning, a colon and a number:
///   that record;
/// - a person's id, or a name that stands as author: the name, wherever a body says who
///   wrote it or is to do the work. What that person saw and did stays: it is written again without
///   the name.
/// What was erased before is left alone. One transaction: all or nothing. Fails with
/// `notFound`, `invalid` for what is too short or means several, `refused` for the first
/// record of an origin, and as Journal::append does.
Result<Erased> erase(journal::Journal& journal, std::string id, std::int64_t wall_ms);

}  // namespace swardwalk::course
