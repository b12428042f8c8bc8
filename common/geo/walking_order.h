#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <vector>

#include "common/geo/position.h"

namespace swardwalk::geo {

/// In which order to walk to places, and how far that is.
struct WalkingOrder {
  std::vector<std::size_t> order;  ///< indices of the places
  double length_m = 0.0;           ///< from the start, where there is one, to the last place
};

/// Up to so many places the order is the shortest there is.
inline constexpr std::size_t exactPlaces = 12;

/// A short way through all places: from `start`, where one stands, else from whichever
/// place makes it shortest; it ends at the last place, not where it began. The shortest for
/// up to `exactPlaces` (dynamic programming over sets: Held & Karp 1962, J. SIAM 10:196);
/// beyond, the nearest next place, mended by turning stretches round and moving short ones
/// until neither makes it shorter (2-opt and Or-opt). The same input gives the same order.
/// Finite places only.
WalkingOrder walkingOrder(std::span<const LocalPoint> places,
                          const std::optional<LocalPoint>& start);

}  // namespace swardwalk::geo
