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

/// How much of the doubt about their creep the patches of one green share, as the
/// correlation of two of them: weather and feeding are the same, the places are not.
/// Common practice, no source.
inline constexpr double sharedOnGreen = 0.5;

/// Probability that the bare share of a green is below `limit`, puttable, on `day`:
/// seeded Monte Carlo over its patches, reproducible to the bit. `green_m2` above 0.
/// An area is counted until it is puttable. Patches about which nothing can be said stay
/// as large as they were seen; one of which no size is known counts as the middle one of
/// the others. Hungry patches do not count. Nothing where no patch has a size, or where
/// area, limit or day is no number.
std::optional<double> probabilityReady(std::span<const PatchOnGreen> patches, double green_m2,
                                       double limit, double day, std::uint64_t seed);

}  // namespace swardwalk::infill
