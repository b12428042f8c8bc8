#include "common/journal/restoring.h"

#include <algorithm>

#include "common/journal/schema.h"

namespace swardwalk::journal {

Restoring::Restoring(Store& store) : store_(&store) {
  const std::string name = lostBodiesNote;
  Query row = store.sql()("SELECT value FROM notes WHERE name = ?");
  row.bindText(name);
  if (row.next()) lost_ = parseLostBodies(row.bytes(0));
}

void Restoring::see(std::int64_t chain, std::uint64_t number, const Record& record) {
  if (lost_.empty()) return;
  const auto lost = std::find_if(lost_.begin(), lost_.end(), [&](const LostBody& body) {
    return body.point.digest == record.digest;
  });
  if (lost == lost_.end()) return;
  if (store_->picture().erasures.contains(record.digest)) {
    // Somebody wants it erased by now: nobody needs to be asked for it.
    lost_.erase(lost);
  } else if (record.erased) {
    if (lost->asked) return;
    lost->asked = true;
  } else {
    found_.push_back({chain, number, record.content.body});
    lost_.erase(lost);
  }
  changed_ = true;
}

bool Restoring::finish() {
  if (!changed_) return false;
  if (!found_.empty()) {
    // The one change of a record that is not in the trigger's text: SQL cannot tell whether
    // a body has its digest, but whoever calls this has checked it.
    store_->database().exec("DROP TRIGGER records_never_change");
    for (const Body& body : found_) {
      store_->sql()("UPDATE records SET erased = 0, body = ? WHERE chain = ? AND number = ?")
          .bindBlob(body.text)
          .bind(body.chain)
          .bind(body.number)
          .run();
    }
    store_->database().exec(recordsNeverChange);
  }
  const std::string name = lostBodiesNote;
  const std::string note = writeLostBodies(lost_);
  store_->sql()("UPDATE notes SET value = ? WHERE name = ?").bindBlob(note).bindText(name).run();
  return !found_.empty();
}

}  // namespace swardwalk::journal
