#pragma once

#include <functional>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "common/failure.h"
#include "common/journal/fold.h"
#include "common/journal/record.h"
#include "common/journal/signer.h"

namespace SQLite {
class Database;
}

namespace swardwalk::journal {

/// How commits reach the disk. Everything but tests of the tests uses `full` (J2).
enum class Durability { full, off };

struct JournalOptions {
  std::string file;
  Durability durability = Durability::full;
  std::string vfs;        ///< SQLite VFS by name; empty: the system's
  bool readOnly = false;  ///< opens for looking only; nothing is made, migrated or folded
  /// How this device names itself in the first record of its origin; may be empty.
  std::string deviceName;
  /// Called while an older state is folded anew: records done, records in all.
  std::function<void(std::uint64_t, std::uint64_t)> onRebuild;
};

/// What a peer's run came to.
enum class TakeStatus {
  taken,         ///< new records were stored (`added` may be fewer than the run's)
  known,         ///< every record was there already
  gap,           ///< record `after` is not here: the sender must start earlier
  wrongDigest,   ///< the records do not give the head that the run states
  badSignature,  ///< the origin did not sign that head
  overLimit      ///< a frozen limit of the envelope is broken
};

struct TakeOutcome {
  TakeStatus status = TakeStatus::known;
  std::uint64_t added = 0;
  bool forked = false;  ///< this run began a second branch of its origin (X3)
};

/// Who vouches for origins that arrive: `accepted` folds them at once, `waiting` keeps
/// them visible until somebody accepts them (X5).
enum class Vouching { accepted, waiting };

struct OriginInfo {
  OriginKey origin{};
  bool accepted = false;
  std::uint64_t records = 0;
  std::size_t branches = 1;
};

struct Finding {
  std::string where;
  std::string what;
  std::string todo;
};

/// What `check` found; `whole` means every digest, number and signature holds.
struct CheckReport {
  bool whole = true;
  bool stateMatches = true;
  std::uint64_t records = 0;
  std::uint64_t origins = 0;
  std::vector<Finding> findings;
};

/// The append-only log of one course on one device: a SQLite file that keeps signed,
/// numbered, opaque records and the state that a Fold makes of them. Rules J1 to J6, X3
/// and X5 of DEVELOPERS.md hold here; FORMAT.md specifies the file.
///
/// A journal is *blank* until it knows its course: it is founded, or adopts the course
/// of the first peer that it meets. Use one object from one thread; several processes
/// may open the same file.
///
/// Functions that look give one consistent state each. To see several of them, or the
/// state's tables, at one moment, hold a read transaction of one's own on `database()`;
/// writing is not possible meanwhile. Where the file fails, those that give plain values
/// give what was last known, and the next one with a Result (`run`, `forEach`, `take`,
/// `check`) tells the failure.
class Journal {
 public:
  /// Opens or makes the file. `fold` must outlive the journal. Fails with `newer` for a
  /// file of a newer format (it is not touched), `corrupt`, `busy` or `io`.
  static Result<Journal> open(const JournalOptions& options, Signer signer, Fold& fold);

  Journal(Journal&&) noexcept;
  Journal& operator=(Journal&&) noexcept;
  ~Journal();

  std::optional<CourseId> course() const;
  const OriginKey& origin() const;

  /// Makes this device the founder of a new course. Must be blank.
  Result<void> found(const std::array<std::uint8_t, 16>& nonce, std::int64_t wall_ms,
                     const std::string& deviceName);
  /// Takes the course of a peer. Must be blank, or of that course already.
  Result<void> adopt(const CourseId& course);

  /// Writes drafts as this origin's next records: one durable transaction, all or none.
  /// The own first record, which names the course, is written before them when needed.
  /// Gives the drafts' records, in their order. Fails with `invalid` for a draft beyond
  /// the frozen limits, `refused` while blank, `full`, `busy`, `io`.
  Result<std::vector<Record>> append(std::span<const Draft> drafts);

  /// Writes on under a new key from now on, because this device was restored or copied:
  /// the old branch stays (X3). The caller has stored the new key durably.
  Result<void> changeOrigin(Signer signer, std::string_view reason, std::int64_t wall_ms);

  /// Takes runs of a peer, in one durable transaction. A run that cannot be taken
  /// leaves the others unharmed. Outcomes stand in the order of the runs. The founder's
  /// and the own origin are accepted whoever vouches. `refused` while blank.
  Result<std::vector<TakeOutcome>> take(std::span<const Run> runs, Vouching vouching);

  /// Heads of all branches of all origins, sorted.
  std::vector<Head> heads() const;
  /// vectorDigest(heads()), kept up to date.
  Digest vector() const;
  /// Is there a record with this number and digest? Number 0 with the genesis digest is.
  bool holds(const Head& point) const;
  /// Digest of record `number` on the branch that ends in `head`, if it is that long.
  std::optional<Digest> digestAt(const Head& head, std::uint64_t number) const;

  /// The next run of the branch that ends in `head`, from after record `after`; ends at
  /// a signed record, at most the limits long. Empty records: nothing after it.
  /// Where a branch left another one far from a signed record, the run is of that other
  /// branch: the receiver takes it, too, and has the common records then.
  Result<Run> run(const Head& head, std::uint64_t after) const;

  /// Calls `visit` for every record in the order origin, branch, number; stops at false.
  Result<void> forEach(const std::function<bool(const Record&)>& visit) const;
  std::uint64_t recordCount() const;
  /// Grows with every committed change by whichever process; equal numbers, equal content.
  /// Notes are no content.
  std::uint64_t changeCount() const;

  std::vector<OriginInfo> origins() const;
  /// Folds what waited of this origin from now on. `notFound` for an unknown origin.
  /// For a decision that travels, the caller appends a record that the fold understands.
  Result<void> accept(const OriginKey& origin);

  /// Erases the body of the record with this digest; the chain still verifies. Looks
  /// through all records. `notFound`; `refused` for an origin's first record.
  Result<void> erase(const Digest& digest);

  /// Reads everything again and says what does not hold; writes nothing.
  Result<CheckReport> check() const;

  /// Small local notes of other rooms (what a peer held last time); never exchanged.
  std::optional<std::string> note(std::string_view key) const;
  Result<void> setNote(std::string_view key, std::string_view value);

  /// The file's connection, for reading the state's tables. Same thread.
  SQLite::Database& database() const;

 private:
  struct Inner;
  static Result<Journal> openOnce(const JournalOptions& options, const Signer& signer, Fold& fold);
  explicit Journal(std::unique_ptr<Inner> inner);
  std::unique_ptr<Inner> inner_;
};

}  // namespace swardwalk::journal
