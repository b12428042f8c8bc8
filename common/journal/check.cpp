#include <SQLiteCpp/Database.h>
#include <fmt/core.h>
#include <sodium.h>
#include <sqlite3.h>

#include <algorithm>

#include "common/journal/digest.h"
#include "common/journal/journal_inner.h"
#include "common/journal/schema.h"
#include "common/journal/sodium_ready.h"

namespace swardwalk::journal {

namespace {

constexpr std::size_t batchRecords = 256;
constexpr std::size_t mostFindings = 100;

const char* const restoreIt = "restore the journal from a backup, or exchange with who has it";

std::string placeOf(const OriginKey& origin, std::uint64_t number) {
  return fmt::format("record {} of origin {}", number, hex(origin));
}

/// One check of one file: reads everything once, and copies it to a scratch journal in
/// which the state is folded from scratch.
class Checking {
 public:
  Checking(Store& store, const std::string& file)
      : store_(&store),
        file_(file),
        // No name: a temporary file that SQLite deletes, so that memory stays bounded.
        scratch_(std::make_unique<SQLite::Database>("", SQLite::OPEN_READWRITE), store.fold()) {}

  CheckReport run() {
    pages();
    try {
      report_.records = store_->picture().records();
      for (const auto& [key, origin] : store_->picture().origins)
        report_.origins += origin.chains.empty() ? 0 : 1;
      if (!store_->picture().course && !store_->picture().chains.empty())
        throw SQLite::Exception("it holds records and names no course", SQLITE_CORRUPT);
      prepareScratch();
      for (const Chain& chain : store_->picture().chains) branch(chain);
      strays();
      if (report_.whole) compareStates();
    } catch (const SQLite::Exception& error) {
      const Failure failure = failureOf(error, file_, "checking it");
      broken(failure.where, failure.what, restoreIt);
    }
    if (!report_.whole) report_.stateMatches = false;
    if (left_ > 0)
      report_.findings.push_back(
          {file_, fmt::format("{} more findings are left out", left_), restoreIt});
    return std::move(report_);
  }

 private:
  void note(std::string where, std::string what, std::string todo) {
    if (report_.findings.size() < mostFindings)
      report_.findings.push_back({std::move(where), std::move(what), std::move(todo)});
    else
      ++left_;
  }
  void broken(std::string where, std::string what, std::string todo) {
    report_.whole = false;
    note(std::move(where), std::move(what), std::move(todo));
  }

  void pages() {
    try {
      Query row = store_->sql()("PRAGMA integrity_check(20)");
      while (row.next())
        if (const std::string line = row.bytes(0); line != "ok")
          broken(file_, fmt::format("the file's pages are damaged: {}", line), restoreIt);
      Query foreign = store_->sql()("PRAGMA foreign_key_check");
      while (foreign.next())
        broken(file_, fmt::format("table {} refers to a row that is not there", foreign.bytes(0)),
               restoreIt);
    } catch (const SQLite::Exception& error) {
      const Failure failure = failureOf(error, file_, "checking its pages");
      broken(failure.where, failure.what, restoreIt);
    }
  }

  void prepareScratch() {
    scratch_.database().exec("PRAGMA journal_mode = OFF");
    scratch_.database().exec("PRAGMA synchronous = OFF");
    scratch_.database().exec("BEGIN");
    makeSchema(scratch_.database());
    scratch_.refresh();
    if (store_->picture().course) scratch_.setCourse(*store_->picture().course);
    for (const auto& [key, origin] : store_->picture().origins) scratch_.know(key, origin.accepted);
  }

  void branch(const Chain& chain) {
    Digest before = store_->picture().genesis;
    if (chain.after > 0) {
      const auto& parent = store_->picture().chain(chain.parent);
      const auto at = store_->digestOn(store_->picture().path(parent, chain.after), chain.after);
      if (!at)
        return broken(placeOf(chain.head.origin, chain.after), "the record is missing", restoreIt);
      before = *at;
    }
    Record head;
    head.number = chain.head.number;
    head.digest = chain.head.digest;
    scratch_.beginChain(chain.head.origin, chain.parent, chain.after, head);
    std::uint64_t number = chain.after;
    while (number < chain.head.number) {
      const auto rows = store_->records(chain, number, chain.head.number, batchRecords);
      for (const Store::Row& row : rows) {
        if (row.record.number != number + 1) break;
        record(chain, row.record, before);
        scratch_.insert(chain.id, row.record);
        before = row.record.digest;
        ++number;
      }
      if (number < chain.head.number && (rows.empty() || rows.back().record.number != number))
        return broken(placeOf(chain.head.origin, number + 1), "the record is missing", restoreIt);
    }
    if (before != chain.head.digest)
      broken(placeOf(chain.head.origin, number),
             "it is not the head that the table of branches names", restoreIt);
    signatures(chain);
  }

  void record(const Chain& chain, const Record& record, const Digest& before) {
    const std::string where = placeOf(chain.head.origin, record.number);
    if (!record.erased && blake2b(record.content.body) != record.bodyDigest)
      broken(where, "its body is not what was written", restoreIt);
    if (recordDigest(before, record) != record.digest)
      broken(where, "its digest does not fit its content and the record before it", restoreIt);
    if (auto limit = brokenLimit(record)) broken(where, *limit, restoreIt);
  }

  void signatures(const Chain& chain) {
    std::uint64_t last = 0;
    Query row = store_->sql()(
        "SELECT s.number, s.signature, r.digest FROM signed s"
        " LEFT JOIN records r ON r.chain = s.chain AND r.number = s.number"
        " WHERE s.chain = ? ORDER BY s.number");
    row.bind(chain.id);
    while (row.next()) {
      const Head head{chain.head.origin, row.natural(0), row.array<32>(2)};
      last = head.number;
      if (!headVerifies(*store_->picture().course, head, row.array<64>(1)))
        broken(placeOf(head.origin, head.number), "its origin did not sign it", restoreIt);
    }
    if (last != chain.head.number)
      broken(placeOf(chain.head.origin, chain.head.number), "the signature of the head is missing",
             restoreIt);
  }

  /// Rows that no branch reaches.
  void strays() {
    Query row = store_->sql()("SELECT count(*) FROM records");
    row.next();
    if (row.natural(0) != report_.records)
      broken(file_,
             fmt::format("it holds {} records, and its branches reach {}", row.natural(0),
                         report_.records),
             restoreIt);
  }

  Digest stateOf(Store& store) {
    sodiumReady();
    crypto_generichash_blake2b_state state;
    Digest digest;
    crypto_generichash_blake2b_init(&state, nullptr, 0, digest.size());
    store.fold().writeState(store.database(), [&](std::string_view piece) {
      crypto_generichash_blake2b_update(
          &state, reinterpret_cast<const unsigned char*>(piece.data()), piece.size());
    });
    crypto_generichash_blake2b_final(&state, digest.data(), digest.size());
    return digest;
  }

  void compareStates() {
    scratch_.rebuild({});
    if (stateOf(*store_) == stateOf(scratch_)) return;
    report_.stateMatches = false;
    note(file_, "the state is not what its records say",
         "report this fault; the records are whole, and the state can be made anew from them");
  }

  Store* store_;
  std::string file_;
  Store scratch_;
  CheckReport report_;
  std::size_t left_ = 0;
};

}  // namespace

Result<CheckReport> Journal::check() const {
  return inner_->read("checking it", [&]() -> Result<CheckReport> {
    return Checking(inner_->store, inner_->options.file).run();
  });
}

}  // namespace swardwalk::journal
