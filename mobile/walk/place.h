#pragma once

#include <optional>

#include "common/geo/position.h"

namespace swardwalk::mobile {

/// Where something is marked, and how one knows.
struct Place {
  /// `green`: nobody knows where, only on which green.
  enum class By { standing, tapping, green };
  geo::Position position;
  std::optional<double> accuracy_m;  ///< standard uncertainty on each axis
  By by = By::standing;
};

}  // namespace swardwalk::mobile
