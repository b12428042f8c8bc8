#include "common/journal/rescue.h"

#include <SQLiteCpp/Database.h>
#include <fmt/core.h>
#include <sqlite3.h>

#include <filesystem>
#include <map>

#include "common/journal/digest.h"
#include "common/journal/lost_bodies.h"
#include "common/journal/sqlite_failure.h"
#include "common/journal/statements.h"
#include "common/journal/store.h"

namespace swardwalk::journal {

namespace {

const char* const askOthers = "exchange with who has the rest, or restore a backup beside this one";

/// The smallest row: a digest, two keys and their headers. Bounds how many there can be.
constexpr std::uintmax_t leastRowBytes = 64;

struct OldChain {
  std::int64_t id = 0;
  std::int64_t origin = 0;
  std::int64_t parent = 0;
  std::uint64_t after = 0;
  std::uint64_t number = 0;
};

/// A copy of the damaged file, gone at the end.
class Copy {
 public:
  Copy(const std::string& damaged, const std::string& directory)
      : file_(directory + "/damaged.sqlite") {
    std::filesystem::copy_file(damaged, file_, std::filesystem::copy_options::overwrite_existing,
                               error_);
    std::error_code none;  // there is a log only where the last program did not end well
    std::filesystem::copy_file(damaged + "-wal", file_ + "-wal",
                               std::filesystem::copy_options::overwrite_existing, none);
  }
  ~Copy() {
    std::error_code ignored;
    for (const char* part : {"", "-wal", "-shm"}) std::filesystem::remove(file_ + part, ignored);
  }
  Copy(const Copy&) = delete;
  Copy& operator=(const Copy&) = delete;

  const std::string& file() const { return file_; }
  const std::error_code& error() const { return error_; }

 private:
  std::string file_;
  std::error_code error_;
};

/// Reads a damaged file row by row: each one that fails costs itself only.
class Wreck {
 public:
  explicit Wreck(const std::string& file)
      : database_(file, SQLite::OPEN_READWRITE), sql_(database_) {
    std::error_code ignored;
    most_ = static_cast<std::int64_t>((std::filesystem::file_size(file, ignored) +
                                       std::filesystem::file_size(file + "-wal", ignored)) /
                                      leastRowBytes);
  }

  std::optional<CourseId> course() {
    std::optional<CourseId> course;
    each("SELECT course FROM journal WHERE one = ?", 1, [&](Query& row) {
      if (!row.isNothing(0)) course = row.array<16>(0);
    });
    return course;
  }

  /// Key and whether it is accepted, by row.
  std::map<std::int64_t, std::pair<OriginKey, bool>> origins() {
    std::map<std::int64_t, std::pair<OriginKey, bool>> found;
    each("SELECT id, origin, accepted FROM origins WHERE id = ?", mostSmall(), [&](Query& row) {
      found[row.integer(0)] = {row.array<32>(1), row.integer(2) != 0};
    });
    return found;
  }

  std::vector<OldChain> chains() {
    std::vector<OldChain> found;
    each("SELECT id, origin, parent, after, number FROM chains WHERE id = ?", mostSmall(),
         [&](Query& row) {
           found.push_back(
               {row.integer(0), row.integer(1), row.integer(2), row.natural(3), row.natural(4)});
         });
    return found;
  }

  void findRecords() {
    each("SELECT chain, number, id FROM records WHERE id = ?", most_, [&](Query& row) {
      rows_[{row.integer(0), row.natural(1)}] = row.integer(2);
    });
  }

  std::optional<Record> record(std::int64_t chain, std::uint64_t number) {
    const auto found = rows_.find({chain, number});
    std::optional<Record> record;
    if (found == rows_.end()) return record;
    // The body may lie on another page than the rest of its record.
    one("SELECT counter, wall_ms, clock_source, clock_offset_ms, author, type, version, subject,"
        " body_digest, digest, erased FROM records WHERE id = ?",
        found->second, [&](Query& row) {
          Record& read = record.emplace();
          read.number = number;
          read.counter = row.natural(0);
          read.content.wall_ms = row.integer(1);
          read.content.clockSource = static_cast<ClockSource>(row.integer(2));
          read.content.clockOffset_ms = row.integer(3);
          read.content.author = row.array<16>(4);
          read.content.type = row.bytes(5);
          read.content.version = static_cast<std::uint16_t>(row.integer(6));
          read.content.subject = row.bytes(7);
          read.bodyDigest = row.array<32>(8);
          read.digest = row.array<32>(9);
          read.erased = row.integer(10) != 0;
        });
    if (record && !record->erased)
      one("SELECT body FROM records WHERE id = ?", found->second,
          [&](Query& row) { record->content.body = row.bytes(0); });
    return record;
  }

  std::optional<Signature> signature(std::int64_t chain, std::uint64_t number) {
    std::optional<Signature> signature;
    try {
      Query row = sql_("SELECT signature FROM signed WHERE chain = ? AND number = ?");
      row.bind(chain).bind(number);
      if (row.next()) signature = row.array<64>(0);
    } catch (const SQLite::Exception&) {
      // No signature can be read there: the run ends at an earlier one.
    }
    return signature;
  }

 private:
  std::int64_t mostSmall() const { return std::min<std::int64_t>(most_, 100'000); }

  template <class Visit>
  void one(const char* sql, std::int64_t id, Visit visit) {
    try {
      Query row = sql_(sql);
      row.bind(id);
      if (row.next()) visit(row);
    } catch (const SQLite::Exception&) {
      // Damaged: what it held is lost, and named where its branch stops.
    }
  }
  template <class Visit>
  void each(const char* sql, std::int64_t most, Visit visit) {
    for (std::int64_t id = 1; id <= most; ++id) one(sql, id, visit);
  }

  SQLite::Database database_;
  Statements sql_;
  std::int64_t most_ = 0;
  std::map<std::pair<std::int64_t, std::uint64_t>, std::int64_t> rows_;
};

/// Carries one branch over.
class Carrying {
 public:
  Carrying(Wreck& wreck, Journal& into, const CourseId& course, Rescued& rescued)
      : wreck_(&wreck), into_(&into), course_(course), rescued_(&rescued) {}

  Result<void> carry(const OldChain& chain, const OriginKey& origin, bool accepted) {
    Digest before = genesisDigest(course_);
    if (chain.after > 0) {
      const auto start = digests_.find({chain.parent, chain.after});
      if (start == digests_.end()) return stopped(origin, chain.after + 1);
      before = start->second;
    }
    Run run = begun(origin, chain.after, before);
    std::size_t bodies = 0;
    std::vector<LostBody> damaged;
    for (std::uint64_t number = chain.after + 1; number <= chain.number; ++number) {
      auto record = wreck_->record(chain.id, number);
      if (!record) return stopped(origin, number);
      record->origin = origin;
      if (recordDigest(before, *record) != record->digest) return stopped(origin, number);
      if (!record->erased && blake2b(record->content.body) != record->bodyDigest) {
        record->erased = true;
        record->content.body.clear();
        damaged.push_back({{origin, number, record->digest}});
      }
      before = record->digest;
      bodies += record->content.body.size();
      run.records.push_back(std::move(*record));
      const auto signature = wreck_->signature(chain.id, number);
      if (signature && headVerifies(course_, {origin, number, before}, *signature)) {
        run.head = before;
        run.signature = *signature;
        if (auto taken = take(chain.id, run, accepted, damaged); !taken) return taken;
        run = begun(origin, number, before);
        bodies = 0;
        damaged.clear();
      } else if (run.records.size() == limits::runRecords || bodies > limits::runBodyBytes) {
        return stopped(origin, run.after + 1);
      }
    }
    return run.records.empty() ? Result<void>() : stopped(origin, run.after + 1);
  }

 private:
  static Run begun(const OriginKey& origin, std::uint64_t after, const Digest& base) {
    Run run;
    run.origin = origin;
    run.after = after;
    run.base = base;
    return run;
  }

  Result<void> take(std::int64_t chain, const Run& run, bool accepted,
                    const std::vector<LostBody>& damaged) {
    const auto taken = into_->take({&run, 1}, accepted ? Vouching::accepted : Vouching::waiting);
    if (!taken) return tl::unexpected(taken.error());
    if (taken->front().status != TakeStatus::taken && taken->front().status != TakeStatus::known)
      return stopped(run.origin, run.after + 1);
    rescued_->records += taken->front().added;
    for (const Record& record : run.records) digests_[{chain, record.number}] = record.digest;
    if (damaged.empty()) return {};
    rescued_->bodies += damaged.size();
    for (const LostBody& body : damaged)
      rescued_->lost.push_back(
          {fmt::format("record {} of origin {}", body.point.number, hex(run.origin)),
           "its text was damaged",
           "exchange with a device that still has it: the text comes back with the exchange"});
    lostBodies_.insert(lostBodies_.end(), damaged.begin(), damaged.end());
    return into_->setNote(lostBodiesNote, writeLostBodies(lostBodies_));
  }

  Result<void> stopped(const OriginKey& origin, std::uint64_t number) {
    rescued_->lost.push_back({fmt::format("record {} of origin {}", number, hex(origin)),
                              "from here on the branch could not be read", askOthers});
    return {};
  }

  Wreck* wreck_;
  Journal* into_;
  CourseId course_;
  Rescued* rescued_;
  std::vector<LostBody> lostBodies_;
  std::map<std::pair<std::int64_t, std::uint64_t>, Digest> digests_;
};

}  // namespace

Result<Rescued> rescue(const std::string& damaged, const std::string& scratchDirectory,
                       Journal& into) {
  const Copy copy(damaged, scratchDirectory);
  if (copy.error())
    return fail(FailureKind::io, damaged,
                fmt::format("it cannot be copied: {}", copy.error().message()),
                "check the disk and who may read the file");
  try {
    Wreck wreck(copy.file());
    const auto course = wreck.course();
    if (!course)
      return fail(FailureKind::corrupt, damaged, "not even the course that it is of can be read",
                  "restore a backup, or exchange with a tablet of the course");
    if (auto adopted = into.adopt(*course); !adopted) return tl::unexpected(adopted.error());
    const auto origins = wreck.origins();
    wreck.findRecords();
    Rescued rescued;
    Carrying carrying(wreck, into, *course, rescued);
    for (const OldChain& chain : wreck.chains()) {
      const auto origin = origins.find(chain.origin);
      if (origin == origins.end()) {
        rescued.lost.push_back({damaged, "a branch whose origin cannot be read", askOthers});
        continue;
      }
      auto carried = carrying.carry(chain, origin->second.first, origin->second.second);
      if (!carried) return tl::unexpected(carried.error());
    }
    return rescued;
  } catch (const SQLite::Exception& error) {
    return tl::unexpected(failureOf(error, damaged, "rescuing what it holds"));
  }
}

}  // namespace swardwalk::journal
