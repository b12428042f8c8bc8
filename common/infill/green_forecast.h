#pragma once

#include <cstdint>
#include <optional>
#include <span>

#include "common/infill/patch_forecast.h"

namespace swardwalk::infill {

/// One open patch of a green that counts as bare (bare, dug or washed).
struct PatchOnGreen {
  const PatchHistory* history = nullptr;
  const PatchForecast* forecast = nullptr;
};

/// Probability that the bare share of a green is below `limit`, puttable, on `day`:
/// seeded Monte Carlo over its patches, reproducible to the bit. `green_m2` above 0.
/// Patches about which nothing can be said stay as large as they were seen.
std::optional<double> probabilityReady(std::span<const PatchOnGreen> patches, double green_m2,
                                       double limit, double day, std::uint64_t seed);

}  // namespace swardwalk::infill
