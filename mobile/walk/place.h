#pragma once

#include <optional>

#include "common/geo/position.h"

namespace swardwalk::mobile {

/// Where something is marked, and how one knows.
struct Place {
  enum class By { standing, tapping };
  geo::Position position;
  std::optional<double> accuracy_m;  ///< standard uncertainty on each axis
  By by = By::standing;
};

}  // namespace swardwalk::mobile
