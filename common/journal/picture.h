#pragma once

#include <cstdint>
#include <map>
#include <optional>
#include <set>
#include <vector>

#include "common/journal/record.h"

namespace swardwalk::journal {

/// One branch of an origin: its own records are `after`+1 to `head.number`; those up to
/// `after` are its parent's.
struct Chain {
  std::int64_t id = 0;
  std::int64_t parent = 0;  ///< 0: it begins at the course's genesis
  std::uint64_t after = 0;
  Head head;
};

struct KnownOrigin {
  std::int64_t row = 0;
  OriginKey key{};
  bool accepted = false;
  std::vector<std::int64_t> chains;  ///< in order of arrival; may be empty
};

/// Records `after`+1 to `upTo` of one chain.
struct Segment {
  std::int64_t chain = 0;
  std::uint64_t after = 0;
  std::uint64_t upTo = 0;
};

/// What a journal holds, without its records: small, kept in memory, and true as long as
/// the file's number of changes is `changes`.
struct Picture {
  std::int64_t changes = -1;  ///< -1: must be read anew
  std::optional<CourseId> course;
  Digest genesis{};  ///< of the course; all zero without one
  std::uint64_t counter = 0;
  std::optional<std::int64_t> foldVersion;
  std::map<OriginKey, KnownOrigin> origins;
  std::vector<Chain> chains;  ///< chain `id` at id - 1
  std::map<std::int64_t, OriginKey> keyOfRow;
  std::set<Digest> erasures;  ///< records whose bodies the fold wants erased

  const Chain& chain(std::int64_t id) const;
  Chain& chain(std::int64_t id);
  const KnownOrigin* find(const OriginKey& key) const;

  /// The way from genesis to record `number` of a chain, in order. `number` must not lie
  /// beyond the chain's head.
  std::vector<Segment> path(const Chain& chain, std::uint64_t number) const;
  std::vector<Head> heads() const;
  std::uint64_t records() const;
};

}  // namespace swardwalk::journal
