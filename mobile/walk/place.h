#pragma once

#include <optional>
#include <vector>

#include "common/course/features.h"
#include "common/geo/position.h"

namespace swardwalk::mobile {

/// Where something is marked, and how one knows.
struct Place {
  /// `green`: nobody knows where, only on which green.
  enum class By { standing, tapping, averaging, correcting, taping, green };
  geo::Position position;
  std::optional<double> accuracy_m;  ///< standard uncertainty on each axis
  By by = By::standing;

  // What was entered (Q2).
  std::vector<course::TapeReading> tapes = {};
  std::vector<geo::Fix> fixes = {};  ///< of who stood on it
  std::optional<course::CorrectedReading> corrected = {};

  /// Somebody took the trouble: it stays where one goes on standing elsewhere.
  bool isKept() const { return by == By::tapping || by == By::averaging || by == By::taping; }
};

}  // namespace swardwalk::mobile
