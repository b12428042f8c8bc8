#include "common/journal/store.h"

#include <SQLiteCpp/Exception.h>
#include <sqlite3.h>

#include <algorithm>

#include "common/journal/digest.h"

namespace swardwalk::journal {

namespace {

#define RECORD_FIELDS                                                                   \
  "r.id, r.number, r.counter, r.wall_ms, r.clock_source, r.clock_offset_ms, r.author, " \
  "r.type, r.version, r.subject, r.body_digest, r.digest, r.erased, r.body"
constexpr int recordFields = 14;

Record readRecord(const Query& row, const OriginKey& origin) {
  Record record;
  record.origin = origin;
  record.number = row.natural(1);
  record.counter = row.natural(2);
  record.content.wall_ms = row.integer(3);
  record.content.clockSource = static_cast<ClockSource>(row.integer(4));
  record.content.clockOffset_ms = row.integer(5);
  record.content.author = row.array<16>(6);
  record.content.type = row.bytes(7);
  record.content.version = static_cast<std::uint16_t>(row.integer(8));
  record.content.subject = row.bytes(9);
  record.bodyDigest = row.array<32>(10);
  record.digest = row.array<32>(11);
  record.erased = row.integer(12) != 0;
  record.content.body = row.bytes(13);
  return record;
}

[[noreturn]] void contradiction(const char* what) { throw SQLite::Exception(what, SQLITE_CORRUPT); }

}  // namespace

Store::Store(std::unique_ptr<SQLite::Database> database, Fold& fold)
    : database_(std::move(database)), fold_(&fold), sql_(*database_) {}

bool Store::inTransaction() const { return sqlite3_get_autocommit(database_->getHandle()) == 0; }

void Store::refresh() {
  Query row = sql_("SELECT changes, counter, fold_version, course FROM journal");
  if (!row.next()) contradiction("the journal's own row is missing");
  if (row.integer(0) == picture_.changes) return;
  Picture fresh;
  fresh.changes = row.integer(0);
  fresh.counter = row.natural(1);
  if (!row.isNothing(2)) fresh.foldVersion = row.integer(2);
  if (!row.isNothing(3)) {
    fresh.course = row.array<16>(3);
    fresh.genesis = genesisDigest(*fresh.course);
  }
  readOrigins(fresh);
  readChains(fresh);
  // Tables of another fold's version are made anew before anything is taken.
  if (fresh.foldVersion == fold_->version())
    for (const Digest& digest : fold_->erasures(*database_)) fresh.erasures.insert(digest);
  picture_ = std::move(fresh);
}

void Store::readOrigins(Picture& fresh) {
  Query row = sql_("SELECT id, origin, accepted FROM origins");
  while (row.next()) {
    const OriginKey key = row.array<32>(1);
    fresh.keyOfRow[row.integer(0)] = key;
    fresh.origins[key] = {row.integer(0), key, row.integer(2) != 0, {}};
  }
}

void Store::readChains(Picture& fresh) {
  Query row = sql_("SELECT id, origin, parent, after, number, digest FROM chains ORDER BY id");
  while (row.next()) {
    Chain chain;
    chain.id = row.integer(0);
    chain.parent = row.isNothing(2) ? 0 : row.integer(2);
    chain.after = row.natural(3);
    const auto key = fresh.keyOfRow.find(row.integer(1));
    // Ids count from 1 and parents come first: what follows relies on it.
    if (chain.id != static_cast<std::int64_t>(fresh.chains.size()) + 1 || chain.parent < 0 ||
        chain.parent >= chain.id || key == fresh.keyOfRow.end())
      contradiction("its table of branches contradicts itself");
    chain.head = {key->second, row.natural(4), row.array<32>(5)};
    if (chain.head.number <= chain.after || (chain.parent == 0) != (chain.after == 0) ||
        (chain.parent != 0 && (fresh.chain(chain.parent).head.number < chain.after ||
                               fresh.chain(chain.parent).head.origin != key->second)))
      contradiction("its table of branches contradicts itself");
    fresh.origins[key->second].chains.push_back(chain.id);
    fresh.chains.push_back(chain);
  }
}

std::optional<Digest> Store::digestOf(std::int64_t chain, std::uint64_t number) {
  Query row = sql_("SELECT digest FROM records WHERE chain = ? AND number = ?");
  row.bind(chain).bind(number);
  if (!row.next()) return std::nullopt;
  return row.array<32>(0);
}

std::optional<Digest> Store::digestOn(std::span<const Segment> path, std::uint64_t number) {
  if (number == 0) return picture_.genesis;
  for (const Segment& segment : path)
    if (number > segment.after && number <= segment.upTo) return digestOf(segment.chain, number);
  return std::nullopt;
}

std::optional<std::int64_t> Store::locate(const Head& point) {
  const KnownOrigin* origin = picture_.find(point.origin);
  if (origin == nullptr) return std::nullopt;
  for (const std::int64_t id : origin->chains) {
    const Chain& chain = picture_.chain(id);
    if (point.number <= chain.after || point.number > chain.head.number) continue;
    if (point.number == chain.head.number ? chain.head.digest == point.digest
                                          : digestOf(id, point.number) == point.digest)
      return id;
  }
  return std::nullopt;
}

std::vector<Store::Row> Store::records(const Chain& chain, std::uint64_t after, std::uint64_t upTo,
                                       std::size_t most) {
  std::vector<Row> rows;
  Query row = sql_("SELECT " RECORD_FIELDS
                   " FROM records r WHERE r.chain = ? AND r.number > ? AND r.number <= ?"
                   " ORDER BY r.number LIMIT ?");
  row.bind(chain.id).bind(after).bind(upTo).bind(static_cast<std::uint64_t>(most));
  while (row.next()) rows.push_back({row.integer(0), readRecord(row, chain.head.origin)});
  return rows;
}

void Store::eachSigned(
    const Segment& segment, std::uint64_t after,
    const std::function<bool(Record&&, const std::optional<Signature>&)>& visit) {
  const OriginKey origin = picture_.chain(segment.chain).head.origin;
  Query row = sql_("SELECT " RECORD_FIELDS
                   ", s.signature FROM records r LEFT JOIN signed s"
                   " ON s.chain = r.chain AND s.number = r.number"
                   " WHERE r.chain = ? AND r.number > ? AND r.number <= ? ORDER BY r.number");
  row.bind(segment.chain).bind(std::max(after, segment.after)).bind(segment.upTo);
  while (row.next()) {
    std::optional<Signature> signature;
    if (!row.isNothing(recordFields)) signature = row.array<64>(recordFields);
    if (!visit(readRecord(row, origin), signature)) return;
  }
}

void Store::setCourse(const CourseId& course) {
  sql_("UPDATE journal SET course = ?").bindBlob(course).run();
  picture_.course = course;
  picture_.genesis = genesisDigest(course);
}

const KnownOrigin& Store::know(const OriginKey& key, bool accepted) {
  const auto found = picture_.origins.find(key);
  if (found == picture_.origins.end()) {
    sql_("INSERT INTO origins (origin, accepted) VALUES (?, ?)")
        .bindBlob(key)
        .bind(static_cast<std::int64_t>(accepted))
        .run();
    const std::int64_t row = database_->getLastInsertRowid();
    picture_.keyOfRow[row] = key;
    return picture_.origins[key] = {row, key, accepted, {}};
  }
  KnownOrigin& origin = found->second;
  if (accepted && !origin.accepted) {
    sql_("UPDATE origins SET accepted = 1 WHERE id = ?").bind(origin.row).run();
    origin.accepted = true;
  }
  return origin;
}

std::int64_t Store::beginChain(const OriginKey& origin, std::int64_t parent, std::uint64_t after,
                               const Record& last) {
  KnownOrigin& known = picture_.origins.at(origin);
  Chain chain;
  chain.id = static_cast<std::int64_t>(picture_.chains.size()) + 1;
  chain.parent = parent;
  chain.after = after;
  chain.head = {origin, last.number, last.digest};
  {
    Query insertion = sql_(
        "INSERT INTO chains (id, origin, parent, after, number, digest) VALUES (?, ?, ?, ?, ?, ?)");
    insertion.bind(chain.id).bind(known.row);
    if (parent == 0)
      insertion.bindNothing();
    else
      insertion.bind(parent);
    insertion.bind(after).bind(last.number).bindBlob(last.digest).run();
  }
  known.chains.push_back(chain.id);
  picture_.chains.push_back(chain);
  return chain.id;
}

void Store::growChain(std::int64_t id, const Record& last) {
  Chain& chain = picture_.chain(id);
  sql_("UPDATE chains SET number = ?, digest = ? WHERE id = ?")
      .bind(last.number)
      .bindBlob(last.digest)
      .bind(id)
      .run();
  chain.head.number = last.number;
  chain.head.digest = last.digest;
}

std::int64_t Store::insert(std::int64_t chain, const Record& record) {
  const Draft& content = record.content;
  sql_(
      "INSERT INTO records (chain, number, counter, wall_ms, clock_source, clock_offset_ms,"
      " author, type, version, subject, body_digest, digest, erased, body)"
      " VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)")
      .bind(chain)
      .bind(record.number)
      .bind(record.counter)
      .bind(content.wall_ms)
      .bind(static_cast<std::int64_t>(content.clockSource))
      .bind(content.clockOffset_ms)
      .bindBlob(content.author)
      .bindText(content.type)
      .bind(static_cast<std::int64_t>(content.version))
      .bindText(content.subject)
      .bindBlob(record.bodyDigest)
      .bindBlob(record.digest)
      .bind(static_cast<std::int64_t>(record.erased))
      .bindBlob(content.body)
      .run();
  return database_->getLastInsertRowid();
}

void Store::eraseBody(std::int64_t id, Record record) {
  sql_("UPDATE records SET erased = 1, body = x'' WHERE id = ?").bind(id).run();
  record.erased = true;
  record.content.body.clear();
  erased_ = true;
  if (picture_.find(record.origin)->accepted) fold_->erase(*database_, {id, &record});
}

void Store::sign(std::int64_t chain, std::uint64_t number, const Signature& signature) {
  sql_("INSERT INTO signed (chain, number, signature) VALUES (?, ?, ?) ON CONFLICT DO NOTHING")
      .bind(chain)
      .bind(number)
      .bindBlob(signature)
      .run();
}

void Store::countChange() {
  sql_("UPDATE journal SET changes = changes + 1, counter = ?").bind(picture_.counter).run();
  ++picture_.changes;
}

}  // namespace swardwalk::journal
