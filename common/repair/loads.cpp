#include "common/repair/loads.h"

#include <algorithm>
#include <cassert>

namespace swardwalk::repair {

std::vector<Load> cartLoads(std::span<const double> weights_kg, double limit_kg) {
  assert(limit_kg > 0.0);
  // A gram more than the limit is no reason for another trip.
  constexpr double slack_kg = 1e-3;
  std::vector<Load> loads;
  const auto put = [&](std::size_t item, double weight_kg) {
    Load& load = loads.back();
    load.parts.push_back({item, weight_kg});
    load.weight_kg += weight_kg;
  };
  for (std::size_t item = 0; item < weights_kg.size(); ++item) {
    double rest_kg = weights_kg[item];
    if (loads.empty() || loads.back().weight_kg + rest_kg > limit_kg + slack_kg) {
      if (loads.empty() || !loads.back().parts.empty()) loads.emplace_back();
    }
    while (rest_kg > limit_kg + slack_kg) {
      put(item, limit_kg);
      rest_kg -= limit_kg;
      loads.emplace_back();
    }
    put(item, rest_kg);
  }
  return loads;
}

}  // namespace swardwalk::repair
