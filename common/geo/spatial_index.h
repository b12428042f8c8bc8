#pragma once

#include <cstddef>
#include <memory>
#include <span>
#include <vector>

#include "common/geo/position.h"

namespace swardwalk::geo {

/// Finds what lies near a place among many, in memory. Places are kept by their
/// earth-centred coordinates, so that poles and the antimeridian are nothing special.
/// Immutable; safe to share between threads once made.
class SpatialIndex {
 public:
  /// Something on the ground that may matter as far as `reach_m` from its place.
  struct Entry {
    Position position;
    double reach_m = 0.0;  ///< 0 or more
  };

  explicit SpatialIndex(std::span<const Entry> entries);
  ~SpatialIndex();
  SpatialIndex(SpatialIndex&&) noexcept;
  SpatialIndex& operator=(SpatialIndex&&) noexcept;

  /// The indices of all entries whose reach may meet that of the place, rising: none is
  /// missed, some that lie a little farther may be among them.
  std::vector<std::size_t> near(Position position, double reach_m) const;

 private:
  struct Tree;
  std::unique_ptr<Tree> tree_;
};

}  // namespace swardwalk::geo
