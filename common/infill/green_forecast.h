#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <vector>

#include "common/infill/patch_forecast.h"

namespace swardwalk::infill {

/// One open patch of a green that counts as bare (bare, dug or washed).
struct PatchOnGreen {
  const PatchHistory* history = nullptr;
  const PatchForecast* forecast = nullptr;
};

/// A stand that is thin everywhere, by frames thrown at random: share of bare ground besides
/// the patches.
struct ThinStand {
  double share = 0.0;
  double u = 0.0;
  double day = 0.0;
};

/// Probability that the bare share of a green is below `limit`, puttable, on `day`:
/// seeded Monte Carlo over its patches, reproducible to the bit. `green_m2` above 0.
/// An area is counted until it is puttable. Their doubts hang together by
/// `sharedOnGreen`. Patches about which nothing can be said stay as large as they were
/// seen; stalled ones with the chance that they stand still, else they creep; one of which
/// no size is known counts as the middle one of the others. Hungry patches do not count. A
/// thin stand covers as living plants do (`coverPace_d`), and then has to knit. Nothing where no
/// patch has a size and there are any, or where area, limit or day is no number.
std::optional<double> probabilityReady(std::span<const PatchOnGreen> patches, double green_m2,
                                       double limit, double day, std::uint64_t seed,
                                       const std::optional<ThinStand>& thin = std::nullopt);

/// A patch whose next measurement would move that probability.
struct NextLook {
  std::size_t patch = 0;  ///< index into `patches`
  double moves = 0.0;     ///< by how much on average, 0..1; 1 where no size is known
};

/// How well a person measures where an edge is.
inline constexpr double lookEdge_u_mm = 10.0;

/// The patches to look at first, at most `most`: a measurement today tells a part of what is
/// uncertain of a patch's area on `day` (correlation of its edge today and then, over its
/// paths; half for a sowing or a stalled patch), and the probability moves with that area
/// (mean of its absolute change over quarters of the draws). Those of unknown size come
/// first; those that move it by less than half a per cent are left out.
std::vector<NextLook> nextLooks(std::span<const PatchOnGreen> patches, double green_m2,
                                double limit, double day, double today, std::uint64_t seed,
                                std::size_t most);

}  // namespace swardwalk::infill
