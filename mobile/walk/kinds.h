#pragma once

#include "common/turf/kind.h"
#include "mobile/app/show.h"

namespace swardwalk::mobile {

/// The kind that a tile stands for; `kind` must not be NoKind.
turf::Kind turfKind(Show::Kind kind);

}  // namespace swardwalk::mobile
