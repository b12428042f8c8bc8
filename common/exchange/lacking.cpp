#include "common/exchange/lacking.h"

#include <algorithm>

#include "common/journal/lost_bodies.h"

namespace swardwalk::exchange {
namespace {

using journal::Head;

/// The part of a sorted list that is of one origin.
std::span<const Head> partOf(std::span<const Head> sorted, const journal::OriginKey& origin) {
  const auto before = [](const Head& head, const journal::OriginKey& key) {
    return head.origin < key;
  };
  const auto after = [](const journal::OriginKey& key, const Head& head) {
    return key < head.origin;
  };
  const auto first = std::lower_bound(sorted.begin(), sorted.end(), origin, before);
  const auto last = std::upper_bound(first, sorted.end(), origin, after);
  return {first, last};
}

/// Numbers n, n-1, n-2, n-4, n-8 … of a branch, down to 1.
void addLadder(const journal::Journal& journal, const Head& head, std::vector<Head>& ladder) {
  std::vector<Head> rungs{head};
  for (std::uint64_t step = 1; step < head.number; step *= 2) {
    const std::uint64_t number = head.number - step;
    if (const auto digest = journal.digestAt(head, number)) {
      rungs.push_back({head.origin, number, *digest});
    }
  }
  // A ladder without its lower rungs would say that the branches part at their start.
  if (ladder.size() + rungs.size() > limits::points) return;
  ladder.insert(ladder.end(), rungs.begin(), rungs.end());
}

/// About what a run takes as lines; never less.
std::size_t sizeOf(const journal::Run& run) {
  constexpr std::size_t runLine = 512;
  constexpr std::size_t recordHeader = 256;
  constexpr std::size_t longestEscape = 6;
  std::size_t size = runLine;
  for (const journal::Record& record : run.records) {
    size +=
        recordHeader + record.content.body.size() + longestEscape * record.content.subject.size();
  }
  return size;
}

}  // namespace

std::span<const Head> Branches::of(const journal::OriginKey& origin) const {
  return partOf(heads_, origin);
}

std::vector<Head> Branches::stated() const {
  std::vector<Head> stated = heads_;
  for (const journal::LostBody& lost : journal::lostBodies(journal_)) {
    if (lost.asked) continue;
    std::vector<Head> lower;
    for (const Head& head : stated) {
      if (head.origin != lost.point.origin || !liesOn(lost.point, head)) {
        lower.push_back(head);
      } else if (const auto before = journal_.digestAt(head, lost.point.number - 1);
                 before && lost.point.number > 1) {
        lower.push_back({head.origin, lost.point.number - 1, *before});
      }
    }
    stated = std::move(lower);
  }
  std::sort(stated.begin(), stated.end());
  stated.erase(std::unique(stated.begin(), stated.end()), stated.end());
  return stated;
}

bool Branches::liesOn(const Head& point, const Head& head) const {
  return point.number <= head.number && journal_.digestAt(head, point.number) == point.digest;
}

const Head* Branches::branchWith(const Head& point) const {
  for (const Head& head : of(point.origin)) {
    if (point == head) return &head;
  }
  for (const Head& head : of(point.origin)) {
    if (liesOn(point, head)) return &head;
  }
  return nullptr;
}

std::uint64_t Branches::common(const Head& one, const Head& other) const {
  std::uint64_t same = 0;
  std::uint64_t different = std::min(one.number, other.number) + 1;
  while (different - same > 1) {
    const std::uint64_t middle = same + (different - same) / 2;
    if (journal_.digestAt(one, middle) == journal_.digestAt(other, middle)) {
      same = middle;
    } else {
      different = middle;
    }
  }
  return same;
}

std::optional<std::uint64_t> Branches::commonWith(const Head& point, const Head& head) const {
  if (liesOn(point, head)) return point.number;
  const Head* branch = branchWith(point);
  if (!branch) return std::nullopt;
  return std::min(point.number, common(*branch, head));
}

Plan Branches::plan(const Held& held) const {
  std::vector<Head> heads = held.heads;
  std::vector<Head> points = held.points;
  std::sort(heads.begin(), heads.end());
  std::sort(points.begin(), points.end());
  Plan plan;
  for (const Head& head : heads) {
    if (!branchWith(head)) plan.othersUnknown = true;
  }
  std::span<const Head> left = heads_;
  while (!left.empty()) {
    const std::span<const Head> mine = partOf(left, left.front().origin);
    planOrigin(mine, partOf(heads, mine.front().origin), partOf(points, mine.front().origin), plan);
    left = left.subspan(mine.size());
  }
  return plan;
}

void Branches::planOrigin(std::span<const Head> mine, std::span<const Head> heads,
                          std::span<const Head> points, Plan& plan) const {
  std::vector<Head> known;
  std::vector<Head> unknown;
  for (const Head& head : heads) (branchWith(head) ? known : unknown).push_back(head);

  std::vector<Head> sent;
  for (const Head& head : mine) {
    if (std::find(heads.begin(), heads.end(), head) != heads.end()) continue;
    std::uint64_t after = 0;
    bool endsHere = false;  // a branch of the other side ends on this one
    for (const Head& theirs : known) {
      if (liesOn(theirs, head)) endsHere = true;
      after = std::max(after, commonWith(theirs, head).value_or(0));
    }
    for (const Head& point : points) after = std::max(after, commonWith(point, head).value_or(0));
    if (!unknown.empty() && !endsHere && points.empty()) {
      // Their branch may hold this one, or part from it anywhere.
      plan.undecided = true;
      // Being as long as theirs, this one cannot be a part of it: they part somewhere.
      const bool part = std::any_of(unknown.begin(), unknown.end(), [&head](const Head& theirs) {
        return theirs.number <= head.number;
      });
      if (part) addLadder(journal_, head, plan.ladder);
      continue;
    }
    for (const Head& before : sent) after = std::max(after, common(before, head));
    plan.send.push_back({head, after});
    sent.push_back(head);
  }
}

std::uint64_t Branches::countAbove(const std::vector<Head>& points) const {
  std::uint64_t records = 0;
  for (std::size_t i = 0; i < heads_.size(); ++i) {
    std::uint64_t below = 0;
    for (const Head& point : points) {
      if (point.origin != heads_[i].origin) continue;
      below = std::max(below, commonWith(point, heads_[i]).value_or(0));
    }
    // What a branch shares with one before it was counted there.
    for (std::size_t j = i; j-- > 0 && heads_[j].origin == heads_[i].origin;) {
      below = std::max(below, common(heads_[j], heads_[i]));
    }
    records += heads_[i].number - below;
  }
  return records;
}

std::vector<Head> Branches::highest(const std::vector<Head>& points) const {
  std::vector<Head> result;
  for (const Head& point : points) {
    if (!branchWith(point)) result.push_back(point);
  }
  for (const Head& head : heads_) {
    const Head* best = nullptr;
    for (const Head& point : points) {
      if (point.origin != head.origin || point.number == 0 || !liesOn(point, head)) continue;
      if (!best || best->number < point.number) best = &point;
    }
    if (best) result.push_back(*best);
  }
  std::sort(result.begin(), result.end());
  result.erase(std::unique(result.begin(), result.end()), result.end());
  return result;
}

Result<bool> fill(const journal::Journal& journal, const std::vector<Lack>& send,
                  std::size_t maxRecords, std::vector<journal::Run>& runs) {
  // The rest is for the first line and the end line.
  constexpr std::size_t maxBytes = limits::messageBytes - limits::helloBytes - 1024;
  std::size_t records = 0;
  std::size_t bytes = 0;
  for (const Lack& lack : send) {
    std::uint64_t after = lack.after;
    while (after < lack.head.number) {
      if (!runs.empty() && records >= maxRecords) return true;
      auto run = journal.run(lack.head, after);
      if (!run) return tl::unexpected(run.error());
      if (run->records.empty()) break;
      const std::size_t size = sizeOf(*run);
      const std::size_t count = run->records.size();
      // At least one run travels, whatever `maxRecords` is, or nothing would ever move.
      if (!runs.empty() && (records + count > maxRecords || bytes + size > maxBytes)) return true;
      records += count;
      bytes += size;
      after += count;
      runs.push_back(std::move(*run));
    }
  }
  return false;
}

Head endOf(const journal::Run& run) {
  return {run.origin, run.after + run.records.size(), run.head};
}

}  // namespace swardwalk::exchange
