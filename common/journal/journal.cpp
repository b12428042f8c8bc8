#include "common/journal/journal.h"

#include <fmt/core.h>

#include <cassert>

#include "common/journal/digest.h"
#include "common/journal/first_record.h"
#include "common/journal/journal_inner.h"

namespace swardwalk::journal {

Transaction::Transaction(Store& store, Sort sort) : store_(&store), sort_(sort) {
  if (sort == Sort::reading && store.inTransaction()) {
    // The caller holds a snapshot open and looks at the state in it: look at the same.
    open_ = false;
    return;
  }
  // IMMEDIATE: nobody else writes from here on, so the own chain's head stays what is read.
  store.sql()(sort == Sort::writing ? "BEGIN IMMEDIATE" : "BEGIN").run();
}

Transaction::~Transaction() {
  if (!open_) return;
  if (sort_ == Sort::writing) store_->forget();
  // SQLite has rolled back by itself after some errors.
  if (!store_->inTransaction()) return;
  try {
    store_->sql()("ROLLBACK").run();
  } catch (const SQLite::Exception&) {
    // The failure that led here is under way already; closing the file rolls back, too.
  }
}

void Transaction::commit() {
  assert(open_ && sort_ == Sort::writing);
  store_->sql()("COMMIT").run();
  open_ = false;
}

Journal::Journal(std::unique_ptr<Inner> inner) : inner_(std::move(inner)) {}
Journal::Journal(Journal&&) noexcept = default;
Journal& Journal::operator=(Journal&&) noexcept = default;
Journal::~Journal() = default;

std::optional<CourseId> Journal::course() const {
  return inner_->look("looking up its course",
                      [&](const Picture& picture) { return picture.course; });
}

const OriginKey& Journal::origin() const { return inner_->signer.origin(); }

SQLite::Database& Journal::database() const { return inner_->store.database(); }

namespace {

Result<void> checkDraft(const Draft& draft, const std::string& file) {
  Record record;
  record.content = draft;
  if (auto broken = brokenLimit(record))
    return fail(FailureKind::invalid, file,
                fmt::format("a record of type {} cannot be kept: {}", draft.type, *broken),
                "make it shorter, or correct it");
  return {};
}

}  // namespace

Result<void> Journal::found(const std::array<std::uint8_t, 16>& nonce, std::int64_t wall_ms,
                            const std::string& deviceName) {
  return inner_->write("founding a course", [&]() -> Result<void> {
    Store& store = inner_->store;
    if (store.picture().course)
      return fail(FailureKind::refused, inner_->options.file, "this journal has a course already",
                  "begin the new course in a directory of its own");
    store.setCourse(courseIdFor(origin(), nonce));
    Inner::First first;
    first.device = deviceName;
    first.nonce = nonce;
    first.wall_ms = wall_ms;
    const Draft draft = inner_->firstDraft(first);
    if (auto fits = checkDraft(draft, inner_->options.file); !fits) return fits;
    inner_->writeOwn({&draft, 1});
    return {};
  });
}

Result<void> Journal::adopt(const CourseId& course) {
  return inner_->write("taking a course", [&]() -> Result<void> {
    Store& store = inner_->store;
    if (store.picture().course == course) return {};
    if (store.picture().course)
      return fail(FailureKind::refused, inner_->options.file,
                  fmt::format("this journal belongs to course {}, the other one to course {}",
                              hex(*store.picture().course), hex(course)),
                  "exchange with a device of the same course");
    store.setCourse(course);
    store.countChange();
    return {};
  });
}

Result<std::vector<Record>> Journal::append(std::span<const Draft> drafts) {
  auto added = inner_->write("adding records", [&]() -> Result<std::vector<Record>> {
    if (auto course = inner_->needCourse(); !course) return tl::unexpected(course.error());
    if (drafts.empty()) return std::vector<Record>();
    std::vector<Draft> all;
    const bool begins = inner_->ownChain() == 0;
    if (begins) {
      Inner::First first;
      first.device = inner_->options.deviceName;
      first.wall_ms = drafts.front().wall_ms;
      first.clockSource = drafts.front().clockSource;
      first.clockOffset_ms = drafts.front().clockOffset_ms;
      all.push_back(inner_->firstDraft(first));
      all.insert(all.end(), drafts.begin(), drafts.end());
    }
    const std::span<const Draft> written = begins ? std::span<const Draft>(all) : drafts;
    for (const Draft& draft : written)
      if (auto fits = checkDraft(draft, inner_->options.file); !fits)
        return tl::unexpected(fits.error());
    std::vector<Record> records = inner_->writeOwn(written);
    if (begins) records.erase(records.begin());
    return records;
  });
  // The records are saved; where this fails the log is cleared later.
  if (added) static_cast<void>(inner_->clearErased());
  return added;
}

Result<void> Journal::changeOrigin(Signer signer, std::string_view reason, std::int64_t wall_ms) {
  if (signer.origin() == origin())
    return fail(FailureKind::refused, inner_->options.file, "this is the key that it writes under",
                "make a new key first");
  const Signer old = inner_->signer;
  auto changed = inner_->write("writing on under a new key", [&]() -> Result<void> {
    Store& store = inner_->store;
    Inner::First first;
    first.device = inner_->options.deviceName;
    first.reason = reason;
    first.wall_ms = wall_ms;
    if (const std::int64_t chain = inner_->ownChain()) {
      first.follows = origin();
      const auto rows = store.records(store.picture().chain(chain), 0, 1, 1);
      if (first.device.empty() && !rows.empty()) first.device = deviceNameOf(rows[0].record);
    }
    inner_->signer = signer;
    // A blank journal writes its first record once it has a course.
    if (!store.picture().course || inner_->ownChain() != 0) return {};
    const Draft draft = inner_->firstDraft(first);
    if (auto fits = checkDraft(draft, inner_->options.file); !fits) return fits;
    inner_->writeOwn({&draft, 1});
    return {};
  });
  if (!changed) inner_->signer = old;
  return changed;
}

Result<void> Journal::accept(const OriginKey& key) {
  return inner_->write("accepting an origin", [&]() -> Result<void> {
    Store& store = inner_->store;
    const KnownOrigin* known = store.picture().find(key);
    if (known == nullptr || (known->chains.empty() && !known->accepted))
      return fail(FailureKind::notFound, hex(key), "no record of this origin is here",
                  "exchange first, then accept it");
    if (known->accepted) return {};
    store.foldNew({}, {key});
    store.countChange();
    return {};
  });
}

Result<void> Journal::setNote(std::string_view key, std::string_view value) {
  return inner_->write("keeping a note", [&]() -> Result<void> {
    const std::string name(key);
    inner_->store
        .sql()(
            "INSERT INTO notes (name, value) VALUES (?, ?)"
            " ON CONFLICT (name) DO UPDATE SET value = excluded.value")
        .bindText(name)
        .bindBlob(value)
        .run();
    return {};
  });
}

std::optional<std::string> Journal::note(std::string_view key) const {
  return inner_->readOr(std::optional<std::string>(), "reading a note", [&] {
    const std::string name(key);
    Query row = inner_->store.sql()("SELECT value FROM notes WHERE name = ?");
    row.bindText(name);
    return row.next() ? std::optional(row.bytes(0)) : std::nullopt;
  });
}

}  // namespace swardwalk::journal
