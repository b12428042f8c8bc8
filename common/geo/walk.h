#pragma once

#include <span>
#include <string>
#include <vector>

#include "common/geo/outline.h"
#include "common/geo/position.h"

namespace swardwalk::geo {

/// How fixes of a walk are believed. Every number is a setting with its reason.
struct WalkSettings {
  /// Fixes said to be worse than this are left out; absent accuracy takes `assumed`.
  double worstAccuracy_m = 15.0;
  double assumedAccuracy_m = 4.0;
  /// Faster than a walk: such a step is an outlier of the receiver.
  double fastest_m_s = 4.0;
  /// Time after which a receiver's error has drifted away (Gauss-Markov), s. Bounds of
  /// 10 to 900 s for multipath: Joerger & Pervan, NAVIGATION (ION).
  double errorTime_s = 120.0;
  /// How well the walker follows the edge, on each axis.
  double edge_u_m = defaultWalkEdge_u_m;
  static constexpr double defaultWalkEdge_u_m = 0.1;
};

/// An outline that was walked, with what became of its fixes.
struct WalkedOutline {
  LocalShape shape;  ///< on `plane`; empty where nothing was enclosed
  LocalPlane plane;
  measure::Measured area_m2;
  measure::Measured perimeter_m;
  int fixesUsed = 0;
  int fixesDropped = 0;
  double closedGap_m = 0.0;  ///< from the last used fix to the first
  bool tooSmall = false;     ///< the uncertainty is more than a third of the area
  std::vector<std::string> warnings;
};

/// Turns the fixes of a walk round a patch into its outline. Fails with `invalid` and
/// words for people where fewer than three usable fixes are left.
Result<WalkedOutline> walkedOutline(std::span<const Fix> fixes, const WalkSettings& settings);

}  // namespace swardwalk::geo
