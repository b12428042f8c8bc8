#pragma once

#include <vector>

#include "common/geo/position.h"

namespace swardwalk::geo {

/// A ring that may cross itself, with what it encloses (see `resolved`).
struct WoundRing {
  bool crossed = false;
  LocalShape shape;
  /// For each edge, seen at its middle: 1 where the shape lies to its left only, -1 to its
  /// right only, 0 where it lies on both sides or on none.
  std::vector<double> sides;
};

/// Resolves a ring by how often it runs round each place: along the ring that number changes
/// at crossings only, by one, so that nothing but the crossings needs looking at. Where
/// rounding could decide (edges that touch, or lie on each other) it is left to `resolved`.
/// `ring` of any size; fewer than three points enclose nothing. Thread safe.
WoundRing woundRing(const LocalRing& ring);

}  // namespace swardwalk::geo
