#include <algorithm>
#include <set>

#include "common/journal/digest.h"
#include "common/journal/first_record.h"
#include "common/journal/journal_inner.h"
#include "common/journal/restoring.h"

namespace swardwalk::journal {

namespace {

/// A run whose digests and signature hold: records with everything filled in.
struct Proven {
  const Run* run = nullptr;
  std::vector<Record> records;
};

bool withinLimits(const Run& run) {
  constexpr auto most = static_cast<std::uint64_t>(limits::integer);
  if (run.records.size() > limits::runRecords || run.after > most - run.records.size())
    return false;
  std::size_t bytes = 0;
  for (const Record& record : run.records) {
    bytes += record.content.body.size();
    if (brokenLimit(record)) return false;
  }
  return bytes <= limits::runBodyBytes || run.records.size() == 1;
}

/// Costs no lock: only the run itself and the course are looked at.
TakeStatus prove(const Run& run, const CourseId& course, const Digest& genesis, Proven& proven) {
  if (!withinLimits(run)) return TakeStatus::overLimit;
  if (run.after == 0 && run.base != genesis) return TakeStatus::wrongDigest;
  Digest before = run.base;
  proven.run = &run;
  proven.records = run.records;
  std::uint64_t number = run.after;
  for (Record& record : proven.records) {
    record.origin = run.origin;
    record.number = ++number;
    // An erased body is known by its digest alone.
    if (!record.erased) record.bodyDigest = blake2b(record.content.body);
    record.digest = recordDigest(before, record);
    before = record.digest;
  }
  if (before != run.head) return TakeStatus::wrongDigest;
  if (!headVerifies(course, {run.origin, number, run.head}, run.signature))
    return TakeStatus::badSignature;
  return TakeStatus::taken;
}

/// A point on the branches of an origin: after record `number` of `chain`, or genesis (0).
struct Point {
  std::int64_t chain = 0;
  std::uint64_t number = 0;
};

/// The point after one more record, if a record with that digest is there already.
std::optional<Point> stepTo(Store& store, const KnownOrigin& origin, const Point& from,
                            const Digest& digest) {
  const Picture& picture = store.picture();
  if (from.chain != 0 && from.number < picture.chain(from.chain).head.number &&
      store.digestOf(from.chain, from.number + 1) == digest)
    return Point{from.chain, from.number + 1};
  for (const std::int64_t id : origin.chains) {
    const Chain& chain = picture.chain(id);
    if (chain.parent == from.chain && chain.after == from.number &&
        store.digestOf(id, from.number + 1) == digest)
      return Point{id, from.number + 1};
  }
  return std::nullopt;
}

/// Where the run's `base` is.
std::optional<Point> findBase(Store& store, const Run& run) {
  if (run.after == 0) return Point{};
  const auto chain = store.locate({run.origin, run.after, run.base});
  if (!chain) return std::nullopt;
  return Point{*chain, run.after};
}

/// Somebody wanted it erased before it came.
void dropBody(Record& record) {
  if (record.content.type == originType) return;
  record.erased = true;
  record.content.body.clear();
}

/// Inserts what is new of a run; `inputs` gets the new records with their rows.
TakeOutcome insertRun(Store& store, Proven& proven, Restoring& restoring,
                      std::vector<FoldInput>& inputs) {
  const Run& run = *proven.run;
  auto at = findBase(store, run);
  if (!at) return {TakeStatus::gap, 0, false};
  if (proven.records.empty()) return {TakeStatus::known, 0, false};
  const KnownOrigin& origin = store.know(run.origin, false);
  std::size_t known = 0;
  while (known < proven.records.size()) {
    const auto next = stepTo(store, origin, *at, proven.records[known].digest);
    if (!next) break;
    at = next;
    restoring.see(at->chain, at->number, proven.records[known]);
    ++known;
  }
  const Record& last = proven.records.back();
  TakeOutcome outcome;
  outcome.added = proven.records.size() - known;
  if (outcome.added > 0) {
    outcome.status = TakeStatus::taken;
    if (at->chain != 0 && store.picture().chain(at->chain).head.number == at->number) {
      store.growChain(at->chain, last);
    } else {
      outcome.forked = !origin.chains.empty();
      at->chain = store.beginChain(run.origin, at->number == 0 ? 0 : at->chain, at->number, last);
    }
    for (std::size_t i = known; i < proven.records.size(); ++i) {
      if (store.picture().erasures.contains(proven.records[i].digest)) dropBody(proven.records[i]);
      inputs.push_back({store.insert(at->chain, proven.records[i]), &proven.records[i]});
    }
  }
  store.sign(at->chain, last.number, run.signature);
  return outcome;
}

}  // namespace

Result<std::vector<TakeOutcome>> Journal::take(std::span<const Run> runs, Vouching vouching) {
  // Digests and signatures are checked before anybody is locked out.
  std::optional<CourseId> course;
  std::vector<TakeOutcome> outcomes(runs.size());
  std::vector<Proven> proven(runs.size());
  auto checked = inner_->read("looking up its course", [&]() -> Result<void> {
    course = inner_->store.picture().course;
    return inner_->needCourse();
  });
  if (!checked) return tl::unexpected(checked.error());
  const Digest genesis = genesisDigest(*course);
  bool any = false;
  for (std::size_t i = 0; i < runs.size(); ++i) {
    outcomes[i].status = prove(runs[i], *course, genesis, proven[i]);
    any = any || outcomes[i].status == TakeStatus::taken;
  }
  if (!any) return outcomes;

  auto taken = inner_->write("taking records", [&]() -> Result<std::vector<TakeOutcome>> {
    Store& store = inner_->store;
    std::vector<FoldInput> inputs;
    std::set<OriginKey> accept;
    bool changed = false;
    Restoring restoring(store);
    for (std::size_t i = 0; i < runs.size(); ++i) {
      if (outcomes[i].status != TakeStatus::taken) continue;
      const OriginKey& key = runs[i].origin;
      const KnownOrigin* before = store.picture().find(key);
      const bool isNew = before == nullptr;
      const bool wasAccepted = !isNew && before->accepted;
      std::vector<FoldInput> added;
      outcomes[i] = insertRun(store, proven[i], restoring, added);
      if (outcomes[i].status == TakeStatus::gap) continue;
      changed = changed || outcomes[i].added > 0;
      const bool vouched = vouching == Vouching::accepted || key == origin() ||
                           (runs[i].after == 0 && !proven[i].records.empty() &&
                            isFounding(proven[i].records.front(), *course));
      // What is new of an accepted origin is folded from memory; what waited is read again.
      if (wasAccepted || (isNew && vouched && outcomes[i].added > 0)) {
        if (isNew) store.know(key, true);
        inputs.insert(inputs.end(), added.begin(), added.end());
      } else if (vouched && !isNew && !accept.contains(key)) {
        accept.insert(key);
        changed = true;
      }
    }
    const bool restored = restoring.finish();
    if (!changed && !restored) return outcomes;
    store.foldNew(inputs, {accept.begin(), accept.end()});
    if (restored) store.rebuild({});
    store.countChange();
    return outcomes;
  });
  // The records are taken; where this fails the log is cleared later.
  if (taken) static_cast<void>(inner_->clearErased());
  return taken;
}

}  // namespace swardwalk::journal
