#include <algorithm>
#include <set>

#include "common/journal/first_record.h"
#include "common/journal/store.h"

namespace swardwalk::journal {

namespace {

// Bounds the memory that folding what is stored takes: bodies are at most 64 KiB.
constexpr std::size_t batchRecords = 256;

}  // namespace

void Store::foldBatch(std::span<const FoldInput> records, std::vector<OriginKey>& accept) {
  if (records.empty()) return;
  for (const FoldInput& input : records)
    picture_.counter = std::max(picture_.counter, input.record->counter);
  const std::vector<OriginKey> accepted = fold_->fold(*database_, records);
  accept.insert(accept.end(), accepted.begin(), accepted.end());
}

void Store::foldStored(const KnownOrigin& origin, std::vector<OriginKey>& accept,
                       const std::function<void(std::size_t)>& onFolded) {
  for (const std::int64_t id : origin.chains) {
    const Chain& chain = picture_.chain(id);
    std::uint64_t done = chain.after;
    while (done < chain.head.number) {
      const std::vector<Row> rows = records(chain, done, chain.head.number, batchRecords);
      if (rows.empty()) break;  // a damaged file; check() names what is missing
      std::vector<FoldInput> inputs;
      inputs.reserve(rows.size());
      for (const Row& row : rows) inputs.push_back({row.id, &row.record});
      foldBatch(inputs, accept);
      if (onFolded) onFolded(inputs.size());
      done = rows.back().record.number;
    }
  }
}

void Store::foldWaiting(std::vector<OriginKey> accept) {
  while (!accept.empty()) {
    const OriginKey key = accept.back();
    accept.pop_back();
    const KnownOrigin* origin = picture_.find(key);
    if (origin != nullptr && origin->accepted) continue;
    // An origin that nobody has met yet is remembered, too: the decision may come first.
    foldStored(know(key, true), accept);
  }
}

void Store::eraseWanted() {
  std::set<Digest> fresh;
  for (const Digest& digest : fold_->erasures(*database_))
    if (picture_.erasures.insert(digest).second) fresh.insert(digest);
  if (fresh.empty()) return;
  // Erasing is rare: one look through all records costs less than an index on digests.
  std::vector<Head> found;
  std::vector<std::int64_t> chains;
  {
    Query row = sql_("SELECT chain, number, digest FROM records WHERE erased = 0 AND type <> ?");
    const std::string kept(originType);
    row.bindText(kept);
    while (row.next()) {
      const Head point{{}, row.natural(1), row.array<32>(2)};
      if (!fresh.contains(point.digest)) continue;
      found.push_back(point);
      chains.push_back(row.integer(0));
    }
  }
  for (std::size_t i = 0; i < found.size(); ++i)
    for (Row& row : records(picture_.chain(chains[i]), found[i].number - 1, found[i].number, 1))
      eraseBody(row.id, std::move(row.record));
}

void Store::foldNew(std::span<const FoldInput> records, std::vector<OriginKey> accept) {
  foldBatch(records, accept);
  foldWaiting(std::move(accept));
  eraseWanted();
}

void Store::rebuild(const std::function<void(std::uint64_t, std::uint64_t)>& onProgress) {
  fold_->makeTables(*database_);
  const std::uint64_t all = picture_.records();
  std::uint64_t done = 0;
  std::vector<OriginKey> accept;
  std::vector<OriginKey> folded;
  for (const auto& [key, origin] : picture_.origins)
    if (origin.accepted) folded.push_back(key);
  for (const OriginKey& key : folded)
    foldStored(*picture_.find(key), accept, [&](std::size_t records) {
      done += records;
      if (onProgress) onProgress(done, all);
    });
  foldWaiting(std::move(accept));
  picture_.erasures.clear();
  eraseWanted();
  const std::int64_t version = fold_->version();
  sql_("UPDATE journal SET fold_version = ?").bind(version).run();
  picture_.foldVersion = version;
}

}  // namespace swardwalk::journal
