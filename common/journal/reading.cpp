#include <algorithm>

#include "common/journal/digest.h"
#include "common/journal/journal_inner.h"

namespace swardwalk::journal {

namespace {

// Readers hold no transaction while a visitor works, so they read this much at a time.
constexpr std::size_t batchRecords = 256;

/// The records after `after` on a path, up to the last signed one within the limits.
void collectRun(Store& store, std::span<const Segment> path, std::uint64_t after, Run& run) {
  std::size_t bytes = 0;
  std::size_t signedRecords = 0;
  bool full = false;
  run.records.clear();
  for (const Segment& segment : path) {
    if (full || segment.upTo <= after) continue;
    store.eachSigned(segment, after, [&](Record&& record, const std::optional<Signature>& by) {
      bytes += record.content.body.size();
      full = run.records.size() == limits::runRecords ||
             (!run.records.empty() && bytes > limits::runBodyBytes);
      if (full) return false;
      run.records.push_back(std::move(record));
      if (by) {
        signedRecords = run.records.size();
        run.signature = *by;
        run.head = run.records.back().digest;
      }
      return true;
    });
  }
  run.records.resize(signedRecords);
}

}  // namespace

std::vector<Head> Journal::heads() const {
  return inner_->look("reading the heads", [](const Picture& picture) { return picture.heads(); });
}

Digest Journal::vector() const {
  return inner_->look("reading the heads", [this](const Picture& picture) {
    if (inner_->vectorAt != picture.changes || picture.changes < 0) {
      inner_->vector = vectorDigest(picture.heads());
      inner_->vectorAt = picture.changes;
    }
    return inner_->vector;
  });
}

bool Journal::holds(const Head& point) const {
  return inner_->readOr(false, "looking for a record", [&] {
    const Picture& picture = inner_->store.picture();
    if (point.number == 0) return picture.course && point.digest == picture.genesis;
    return inner_->store.locate(point).has_value();
  });
}

std::optional<Digest> Journal::digestAt(const Head& head, std::uint64_t number) const {
  return inner_->readOr(
      std::optional<Digest>(), "looking for a digest", [&]() -> std::optional<Digest> {
        Store& store = inner_->store;
        const auto chain = store.locate(head);
        if (!chain || number > head.number) return std::nullopt;
        return store.digestOn(store.picture().path(store.picture().chain(*chain), head.number),
                              number);
      });
}

Result<Run> Journal::run(const Head& head, std::uint64_t after) const {
  return inner_->read("reading records", [&]() -> Result<Run> {
    Store& store = inner_->store;
    const Picture& picture = store.picture();
    const auto chain = store.locate(head);
    if (!chain)
      return fail(FailureKind::notFound, hex(head.origin), "no record with this digest is here",
                  "ask for one of the heads");
    std::vector<Segment> path = picture.path(picture.chain(*chain), head.number);
    Run run;
    run.origin = head.origin;
    run.after = after;
    run.head = head.digest;
    if (after >= head.number) {
      run.after = head.number;
      run.base = head.digest;
      return run;
    }
    const auto base = store.digestOn(path, after);
    if (!base)
      return fail(FailureKind::corrupt, hex(head.origin), "a record before this head is missing",
                  "check the journal");
    run.base = *base;
    collectRun(store, path, after, run);
    // A branch that left between two distant signed records has none near enough. The
    // branch that it left has, and the receiver needs those records, too: they come first.
    for (auto segment = path.rbegin(); run.records.empty() && segment != path.rend(); ++segment) {
      if (segment->upTo <= after) break;
      const Chain& other = picture.chain(segment->chain);
      collectRun(store, picture.path(other, other.head.number), after, run);
    }
    if (run.records.empty())
      return fail(FailureKind::corrupt, hex(head.origin), "a signature is missing",
                  "check the journal");
    return run;
  });
}

Result<void> Journal::forEach(const std::function<bool(const Record&)>& visit) const {
  // The picture of the beginning: what is added meanwhile is not visited.
  std::vector<Chain> chains;
  auto pictured = inner_->read("reading records", [&]() -> Result<void> {
    const Picture& picture = inner_->store.picture();
    for (const auto& [key, origin] : picture.origins)
      for (const std::int64_t id : origin.chains) chains.push_back(picture.chain(id));
    return {};
  });
  if (!pictured) return pictured;
  for (const Chain& chain : chains) {
    std::uint64_t done = chain.after;
    while (done < chain.head.number) {
      auto rows = inner_->read("reading records", [&]() -> Result<std::vector<Store::Row>> {
        return inner_->store.records(chain, done, chain.head.number, batchRecords);
      });
      if (!rows) return tl::unexpected(rows.error());
      if (rows->empty())
        return fail(FailureKind::corrupt, hex(chain.head.origin), "a record is missing",
                    "check the journal");
      for (const Store::Row& row : *rows)
        if (!visit(row.record)) return {};
      done = rows->back().record.number;
    }
  }
  return {};
}

std::uint64_t Journal::recordCount() const {
  return inner_->look("counting the records",
                      [](const Picture& picture) { return picture.records(); });
}

std::uint64_t Journal::changeCount() const {
  return inner_->look("counting the changes", [](const Picture& picture) {
    return static_cast<std::uint64_t>(std::max<std::int64_t>(picture.changes, 0));
  });
}

std::vector<OriginInfo> Journal::origins() const {
  return inner_->look("listing the origins", [](const Picture& picture) {
    std::vector<OriginInfo> infos;
    for (const auto& [key, origin] : picture.origins) {
      if (origin.chains.empty()) continue;  // accepted before anything of it came
      OriginInfo info{key, origin.accepted, 0, origin.chains.size()};
      for (const std::int64_t id : origin.chains)
        info.records += picture.chain(id).head.number - picture.chain(id).after;
      infos.push_back(info);
    }
    return infos;
  });
}

}  // namespace swardwalk::journal
