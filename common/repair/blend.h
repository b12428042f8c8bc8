#pragma once

#include <optional>
#include <vector>

#include "common/turf/materials.h"
#include "common/turf/species.h"

/// What a seed lot of one grass or several comes to as a whole.
namespace swardwalk::repair {

/// One part of a blend with what is known of its grass.
struct BlendedGrass {
  double share = 1.0;  ///< as the lot states it; need not add up to 1
  const turf::Species* species = nullptr;
};

struct BlendCounts {
  turf::Range seedsPerGram;
  turf::Range livePerSquareCentimetre;  ///< seedlings wanted
  std::vector<double> byWeight;         ///< shares of the parts, adding up to 1
};

/// Seeds in a gram: the mean of the grasses' counts, by weight; where shares are of the
/// seeds a part weighs share / count. Seedlings wanted: each takes up the room that it has
/// in a stand of its own grass, so that room per seed is the mean by number (our own
/// rule; of a single grass it is the grass's figure). Nothing where no share is above 0
/// or a grass is not known.
std::optional<BlendCounts> countsOf(const std::vector<BlendedGrass>& parts, bool sharesByNumber);

}  // namespace swardwalk::repair
