#pragma once

#include <cstddef>
#include <span>
#include <vector>

namespace swardwalk::repair {

/// What lies on a cart on one trip.
struct Load {
  struct Part {
    std::size_t item = 0;  ///< of the list that was given
    double weight_kg = 0.0;
  };
  std::vector<Part> parts;
  double weight_kg = 0.0;
};

/// Loads a list in its order, so that work goes on from place to place: the next trip
/// begins where one more item would be over the limit; what is over the limit by itself
/// fills trips of its own and the rest goes on with what follows. Weights of 0 or more,
/// limit above 0.
std::vector<Load> cartLoads(std::span<const double> weights_kg, double limit_kg);

}  // namespace swardwalk::repair
