#pragma once

#include <SQLiteCpp/Exception.h>

#include "common/journal/journal.h"
#include "common/journal/sqlite_failure.h"
#include "common/journal/store.h"

namespace swardwalk::journal {

/// A transaction that ends with its scope: rolled back unless committed.
class Transaction {
 public:
  enum class Sort { reading, writing };

  Transaction(Store& store, Sort sort);
  ~Transaction();
  Transaction(const Transaction&) = delete;
  Transaction& operator=(const Transaction&) = delete;
  void commit();

 private:
  Store* store_;
  Sort sort_;
  bool open_ = true;
};

struct Journal::Inner {
  Inner(JournalOptions chosen, const Signer& key, std::unique_ptr<SQLite::Database> database,
        Fold& fold)
      : options(std::move(chosen)), signer(key), store(std::move(database), fold) {}

  JournalOptions options;
  Signer signer;
  Store store;
  /// What went wrong in a function that can't say so; the next one that looks and can, does.
  std::optional<Failure> trouble;

  tl::unexpected<Failure> failed(const SQLite::Exception& error, const char* doing) {
    store.forget();
    return tl::unexpected(failureOf(error, options.file, doing));
  }

  /// vectorDigest of the heads, and the number of changes that it belongs to.
  Digest vector{};
  std::int64_t vectorAt = -1;

  /// The trouble of an earlier call, once.
  std::optional<Failure> takeTrouble() { return std::exchange(trouble, std::nullopt); }

  /// Runs `look` on one consistent state of the file. `Look` gives a Result.
  template <class Look>
  auto read(const char* doing, Look look) -> decltype(look()) {
    if (auto earlier = takeTrouble()) return tl::unexpected(std::move(*earlier));
    try {
      Transaction transaction(store, Transaction::Sort::reading);
      store.refresh();
      return look();
    } catch (const SQLite::Exception& error) {
      return failed(error, doing);
    }
  }

  /// The same where the function can't report: gives `otherwise`, and the failure to the
  /// next function that can.
  template <class Value, class Look>
  Value readOr(Value otherwise, const char* doing, Look look) {
    try {
      Transaction transaction(store, Transaction::Sort::reading);
      store.refresh();
      return look();
    } catch (const SQLite::Exception& error) {
      trouble = failed(error, doing).value();
      return otherwise;
    }
  }

  /// What `look` sees in the present picture, or in the last one where the file fails.
  template <class Look>
  auto look(const char* doing, Look look) {
    readOr(false, doing, [] { return true; });
    return look(store.picture());
  }

  /// Runs `change` in one durable transaction; a failure leaves the file as it was. What
  /// went wrong while somebody looked earlier must not keep a record from being saved.
  template <class Change>
  auto write(const char* doing, Change change) -> decltype(change()) {
    if (options.readOnly)
      return fail(FailureKind::refused, options.file, "it was opened for looking only",
                  "open it for writing");
    try {
      Transaction transaction(store, Transaction::Sort::writing);
      store.refresh();
      auto result = change();
      if (result) transaction.commit();
      return result;
    } catch (const SQLite::Exception& error) {
      return failed(error, doing);
    }
  }

  /// An erased body is still in the write-ahead log until that is folded into the file.
  Result<void> clearErased() {
    if (!store.takeErased()) return {};
    try {
      store.database().execAndGet("PRAGMA wal_checkpoint(TRUNCATE)");
    } catch (const SQLite::Exception& error) {
      return failed(error, "clearing an erased body out of the write-ahead log");
    }
    return {};
  }

  /// Fails for a blank journal.
  Result<void> needCourse() const;

  /// The chain that this origin writes on, or 0. Of several branches it is the one that
  /// was here first.
  std::int64_t ownChain() const;
  /// The draft of this origin's first record (FORMAT.md, "First record").
  struct First {
    std::string device;
    std::optional<std::array<std::uint8_t, 16>> nonce;
    std::optional<OriginKey> follows;
    std::string reason;
    std::int64_t wall_ms = 0;
    ClockSource clockSource = ClockSource::none;
    std::int64_t clockOffset_ms = 0;
  };
  Draft firstDraft(const First& first) const;
  /// Writes drafts as the own origin's next records, signs and folds them.
  std::vector<Record> writeOwn(std::span<const Draft> drafts);
};

}  // namespace swardwalk::journal
