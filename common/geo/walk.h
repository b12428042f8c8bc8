#pragma once

#include <span>
#include <string>
#include <vector>

#include "common/failure.h"
#include "common/geo/error_times.h"
#include "common/geo/local_plane.h"
#include "common/geo/outline.h"
#include "common/geo/position.h"
#include "common/measure/write.h"

namespace swardwalk::geo {

/// How fixes of a walk are believed. Every number is a setting with its reason.
struct WalkSettings {
  /// Fixes said to be worse than this are left out; absent accuracy takes `assumed`.
  double worstAccuracy_m = 15.0;
  double assumedAccuracy_m = 4.0;
  /// Faster than a walk: such a step is an outlier of the receiver.
  double fastest_m_s = 4.0;
  /// Times after which a receiver's error may have drifted away, before the walk itself is
  /// looked at (`errorsOf`).
  ErrorTimes errorTimes = possibleErrorTimes();
  /// How well a walker follows the edge, on each axis, before the walk itself is looked
  /// at (common practice, no source).
  double edge_u_m = defaultWalkEdge_u_m;
  static constexpr double defaultWalkEdge_u_m = 0.1;
  /// Length along the edge over which a walker's deviation keeps its side: about a step
  /// (common practice, no source).
  double edgeCorrelation_m = 0.5;
  /// Fixes nearer than this to the last one kept add nothing but the receiver's shiver
  /// and are left out, so that who stands still adds neither weight nor length. Times
  /// the accuracy, but not finer or coarser than these.
  double thinShare = 0.1;
  double thinFinest_m = 0.05;
  double thinCoarsest_m = 0.5;
  measure::UnitSystem units = measure::UnitSystem::metric;  ///< of the warnings
};

/// More fixes than this in one walk are refused: ten a second for nearly three hours.
inline constexpr std::size_t mostFixesOfWalk = 100'000;

/// An outline that was walked, with what became of its fixes.
struct WalkedOutline {
  LocalShape shape;  ///< on `plane`; empty where nothing was enclosed; its area is `area_m2`
  LocalPlane plane;
  measure::Measured area_m2;
  measure::Measured perimeter_m;
  int fixesUsed = 0;         ///< believed, also where one adds nothing to the shape
  int fixesDropped = 0;      ///< not believed; both together are all that were given
  double closedGap_m = 0.0;  ///< from the last used fix to the first
  bool tooSmall = false;     ///< the uncertainty is more than a third of the area
  std::vector<std::string> warnings;
};

/// Turns the fixes of a walk round a patch into its outline. Fails with `invalid` and
/// words for people where fewer than three usable fixes are left, or there are more
/// than `mostFixesOfWalk`. Thread safe.
///
/// Fixes are put in order of time. Not believed are those without a place on the globe,
/// with an accuracy worse than the settings allow, of a time already taken, and those
/// farther from the last believed one than a walk and both fixes' errors explain. Those
/// that stand still are believed, and add no point. Between two fixes the edge is taken
/// to bend as its neighbours say: a chord would cut every bend short (by h^2/12 for each
/// radian, h being the step). The ring is closed, thinned within a twentieth of its
/// accuracy, freed of loops of a metre or of its accuracy, and resolved (see `resolved`); parts
/// under a hundredth are the shiver of the receiver and fall away.
///
/// Uncertainty of the area: the derivatives g of the shoelace area by the coordinates of
/// the fixes, and the full covariance of their errors, a first-order Gauss-Markov
/// process on each axis, S_ij = u_i u_j exp(-|t_i - t_j| / errorTime): Var = g' S g
/// (JCGM 100:2008 5.2.2), summed in one pass because the exponential of a sum is the
/// product of exponentials; plus the second-order term of the shoelace, which for this
/// process leaves only neighbours and the closing edge; both as the mean over the error
/// times that are likely for this walk (`errorsOf`); plus the walker's own deviations
/// from the edge (`outlineArea_m2`) and a quarter of what the bends added. `WALKS.md` shows
/// how often the truth lies within. The perimeter's is found the same way; the length that errors
/// add to every step on average is taken off.
Result<WalkedOutline> walkedOutline(std::span<const Fix> fixes, const WalkSettings& settings);

}  // namespace swardwalk::geo
