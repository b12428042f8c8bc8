#include "common/journal/picture.h"

#include <algorithm>
#include <cassert>

namespace swardwalk::journal {

const Chain& Picture::chain(std::int64_t id) const {
  assert(id >= 1 && static_cast<std::size_t>(id) <= chains.size());
  return chains[static_cast<std::size_t>(id - 1)];
}

Chain& Picture::chain(std::int64_t id) {
  return const_cast<Chain&>(static_cast<const Picture*>(this)->chain(id));
}

const KnownOrigin* Picture::find(const OriginKey& key) const {
  const auto found = origins.find(key);
  return found == origins.end() ? nullptr : &found->second;
}

std::vector<Segment> Picture::path(const Chain& start, std::uint64_t number) const {
  assert(number <= start.head.number);
  std::vector<Segment> segments;
  const Chain* at = &start;
  std::uint64_t upTo = number;
  while (true) {
    if (upTo > at->after) segments.push_back({at->id, at->after, upTo});
    if (at->parent == 0) break;
    upTo = std::min(upTo, at->after);
    at = &chain(at->parent);
  }
  std::reverse(segments.begin(), segments.end());
  return segments;
}

std::vector<Head> Picture::heads() const {
  std::vector<Head> heads;
  heads.reserve(chains.size());
  for (const Chain& one : chains) heads.push_back(one.head);
  std::sort(heads.begin(), heads.end());
  return heads;
}

std::uint64_t Picture::records() const {
  std::uint64_t sum = 0;
  for (const Chain& one : chains) sum += one.head.number - one.after;
  return sum;
}

}  // namespace swardwalk::journal
