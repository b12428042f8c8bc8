#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "common/geo/position.h"

namespace swardwalk::geo {

/// Where two edges of a ring cross; an edge has the number of the point it begins at.
struct Crossing {
  std::size_t first = 0;
  std::size_t second = 0;
  double alongFirst = 0.0;  ///< share of the edge, 0..1
  double alongSecond = 0.0;
  LocalPoint place;
  bool secondFromRight = false;  ///< the second comes from the right of the first
};

/// On which side of the line from `a` to `b` a point lies: 1 left, -1 right, 0 where the
/// rounding of the computation could decide. (Filter of the orientation test: J. R.
/// Shewchuk, Adaptive precision floating-point arithmetic, 1997, from memory.)
int certainSide(LocalPoint a, LocalPoint b, LocalPoint point);

/// All crossings of a ring with itself, in no order that matters. Nothing where rounding
/// could decide whether edges cross, touch or lie on each other, or where there are more
/// than `mostCrossings`. A sweep from west to east: a walk of n short edges takes about
/// n log n.
std::optional<std::vector<Crossing>> certainCrossings(const LocalRing& ring);
inline constexpr std::size_t mostCrossings = 10'000;

}  // namespace swardwalk::geo
