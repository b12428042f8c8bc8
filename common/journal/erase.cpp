#include "common/journal/digest.h"
#include "common/journal/first_record.h"
#include "common/journal/journal_inner.h"

namespace swardwalk::journal {

Result<void> Journal::erase(const Digest& digest) {
  auto erased = inner_->write("erasing a body", [&]() -> Result<void> {
    Store& store = inner_->store;
    // Erasing is rare: looking through all records costs less than an index on digests,
    // which every insert would pay for.
    std::int64_t row = 0;
    std::int64_t chain = 0;
    std::uint64_t number = 0;
    {
      Query found = store.sql()("SELECT id, chain, number FROM records WHERE digest = ?");
      found.bindBlob(digest);
      if (!found.next())
        return fail(FailureKind::notFound, hex(digest), "no record with this digest is here",
                    "look it up in an export of the records");
      row = found.integer(0);
      chain = found.integer(1);
      number = found.natural(2);
    }
    const Chain& branch = store.picture().chain(chain);
    Record record = store.records(branch, number - 1, number, 1).at(0).record;
    if (record.erased) return {};
    if (record.content.type == originType)
      return fail(FailureKind::refused, hex(digest),
                  "an origin's first record shows that it belongs to the course",
                  "erase the records that name a person");
    store.eraseBody(row, std::move(record));
    store.countChange();
    return {};
  });
  if (!erased) return erased;
  return inner_->clearErased();
}

}  // namespace swardwalk::journal
