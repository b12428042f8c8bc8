#include "common/course/living.h"

#include <SQLiteCpp/SQLiteCpp.h>
#include <SQLiteCpp/Savepoint.h>
#include <fmt/format.h>

#include <algorithm>
#include <boost/json.hpp>
#include <cstring>
#include <set>
#include <unordered_map>
#include <vector>

#include "common/course/checks.h"

namespace swardwalk::course {

namespace {

using journal::Digest;

struct DigestHash {
  std::size_t operator()(const Digest& digest) const {
    std::size_t hash = 0;
    std::memcpy(&hash, digest.data(), sizeof(hash));
    return hash;
  }
};

/// A row of columns: records.digest, number, counter, author, origin, then the table's own.
constexpr const char* envelope =
    "SELECT records.digest, records.number, records.counter, records.author, origins.origin, "
    "records.type, records.version, records.body, {} FROM {} AS folded "
    "JOIN records ON records.id = folded.record "
    "JOIN chains ON chains.id = records.chain JOIN origins ON origins.id = chains.origin "
    "{}";

std::string_view view(const SQLite::Column& column) {
  return {static_cast<const char*>(column.getBlob()), static_cast<std::size_t>(column.getBytes())};
}

template <std::size_t Size>
void copy(const SQLite::Column& column, std::array<std::uint8_t, Size>& bytes) {
  const std::string_view from = view(column);
  bytes.fill(0);
  std::memcpy(bytes.data(), from.data(), std::min(from.size(), Size));
}

/// The digests that standing withdrawals name.
class Withdrawn {
 public:
  explicit Withdrawn(SQLite::Database& database) {
    SQLite::Statement rows(database,
                           "SELECT records.digest, ending.ends FROM ending "
                           "JOIN records ON records.id = ending.record");
    while (rows.executeStep()) {
      Digest withdrawal;
      Digest target;
      copy(rows.getColumn(0), withdrawal);
      copy(rows.getColumn(1), target);
      withdrawals_.emplace(withdrawal, Withdrawal{target});
    }
    decide();
  }

  bool names(const Digest& digest) const { return ended_.contains(digest); }
  bool none() const { return ended_.empty(); }

 private:
  struct Withdrawal {
    Digest target{};
    std::size_t undecided = 0;  ///< withdrawals that name this one and are not decided yet
  };

  /// From those that nobody names down to what they name: each is decided once everybody
  /// who names it is.
  void decide() {
    for (const auto& [digest, withdrawal] : withdrawals_) {
      const auto target = withdrawals_.find(withdrawal.target);
      if (target != withdrawals_.end()) ++target->second.undecided;
    }
    std::vector<Digest> ready;
    for (const auto& [digest, withdrawal] : withdrawals_) {
      if (withdrawal.undecided == 0) ready.push_back(digest);
    }
    while (!ready.empty()) {
      const Digest digest = ready.back();
      ready.pop_back();
      const Digest target = withdrawals_.at(digest).target;
      if (!ended_.contains(digest)) ended_.insert(target);
      const auto next = withdrawals_.find(target);
      if (next != withdrawals_.end() && --next->second.undecided == 0) ready.push_back(target);
    }
  }

  std::unordered_map<Digest, Withdrawal, DigestHash> withdrawals_;
  std::set<Digest> ended_;
};

void readEnvelope(SQLite::Statement& row, const Withdrawn& withdrawn, FoldedRecord& record) {
  copy(row.getColumn(0), record.source.digest);
  record.source.number = static_cast<std::uint64_t>(row.getColumn(1).getInt64());
  record.source.counter = static_cast<std::uint64_t>(row.getColumn(2).getInt64());
  copy(row.getColumn(3), record.person);
  copy(row.getColumn(4), record.source.origin);
  record.type = view(row.getColumn(5));
  record.version = row.getColumn(6).getInt();
  record.withdrawn = !withdrawn.none() && withdrawn.names(record.source.digest);
}

/// Everything where `named` is empty.
void visitLiving(SQLite::Database& database, const Withdrawn& withdrawn, std::string_view named,
                 const std::function<void(const FoldedRecord&)>& visit) {
  SQLite::Statement row(
      database,
      fmt::format(fmt::runtime(envelope),
                  "folded.subject, folded.name_key, folded.at_ms, folded.feature", "living",
                  named.empty() ? "ORDER BY folded.record"
                                : "WHERE folded.type = ? AND folded.name_key NOT NULL"));
  if (!named.empty()) row.bind(1, std::string(named));
  FoldedRecord record;
  record.table = FoldedRecord::Table::living;
  while (row.executeStep()) {
    readEnvelope(row, withdrawn, record);
    record.body = view(row.getColumn(7));
    record.subject = view(row.getColumn(8));
    record.nameKey.reset();
    if (!row.getColumn(9).isNull()) record.nameKey = view(row.getColumn(9));
    record.at.reset();
    if (!row.getColumn(10).isNull())
      record.at = measure::Instant(std::chrono::milliseconds(row.getColumn(10).getInt64()));
    copy(row.getColumn(11), record.feature);
    visit(record);
  }
}

void visitRest(SQLite::Database& database, FoldedRecord::Table table, const Withdrawn& withdrawn,
               const std::function<void(const FoldedRecord&)>& visit) {
  const bool unusable = table == FoldedRecord::Table::unusable;
  SQLite::Statement row(
      database, fmt::format(fmt::runtime(envelope), unusable ? "folded.reason" : "folded.version",
                            unusable ? "unusable" : "newer", "ORDER BY folded.record"));
  FoldedRecord record;
  record.table = table;
  while (row.executeStep()) {
    readEnvelope(row, withdrawn, record);
    if (unusable) record.reason = view(row.getColumn(8));
    visit(record);
  }
}

}  // namespace

Result<void> readTogether(const journal::Journal& journal,
                          const std::function<void(SQLite::Database&)>& read) {
  try {
    SQLite::Database& database = journal.database();
    SQLite::Savepoint savepoint(database, "reading_state");
    read(database);
    savepoint.release();
    return {};
  } catch (const SQLite::Exception& error) {
    return fail(FailureKind::io, "the journal",
                fmt::format("its state could not be read ({})", error.what()),
                "try again; if it stays so, run check");
  }
}

Result<void> forEachFolded(const journal::Journal& journal,
                           const std::function<void(const FoldedRecord&)>& visit) {
  return readTogether(journal, [&](SQLite::Database& database) {
    const Withdrawn withdrawn(database);
    visitLiving(database, withdrawn, "", visit);
    visitRest(database, FoldedRecord::Table::unusable, withdrawn, visit);
    visitRest(database, FoldedRecord::Table::newer, withdrawn, visit);
  });
}

Result<void> forEachNamed(const journal::Journal& journal, std::string_view type,
                          const std::function<void(const FoldedRecord&)>& visit) {
  return readTogether(journal, [&](SQLite::Database& database) {
    const Withdrawn withdrawn(database);
    visitLiving(database, withdrawn, type, [&](const FoldedRecord& record) {
      if (!record.withdrawn) visit(record);
    });
  });
}

std::string propertyOf(JsonReader& json, std::string_view body, std::string_view key) {
  const auto value = json.read(body);
  if (!value || !(*value)->is_object()) return {};
  const auto* properties = propertiesOf((*value)->get_object());
  return properties == nullptr ? std::string() : std::string(textOf(*properties, key));
}

Result<void> forEachErased(
    const journal::Journal& journal,
    const std::function<void(std::string_view type, std::string_view subject)>& visit) {
  return readTogether(journal, [&](SQLite::Database& database) {
    SQLite::Statement row(database, "SELECT type, subject FROM erased ORDER BY record");
    while (row.executeStep()) visit(view(row.getColumn(0)), view(row.getColumn(1)));
  });
}

Result<bool> isPersonKnown(const journal::Journal& journal, std::string_view id,
                           std::string_view name) {
  bool known = false;
  JsonReader json;
  auto looked = forEachNamed(journal, "person", [&](const FoldedRecord& person) {
    known = known || (person.nameKey == id && propertyOf(json, person.body, "name") == name);
  });
  if (!looked) return tl::unexpected(std::move(looked.error()));
  looked = forEachErased(journal, [&](std::string_view type, std::string_view subject) {
    known = known || (type == "person" && subject == id);
  });
  if (!looked) return tl::unexpected(std::move(looked.error()));
  return known;
}

}  // namespace swardwalk::course
