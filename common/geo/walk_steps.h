#pragma once

#include <span>
#include <vector>

#include "common/geo/drift.h"
#include "common/geo/local_plane.h"
#include "common/geo/walk.h"

namespace swardwalk::geo {

/// From the fixes of a walk to the steps that are believed; see `walkedOutline`.

/// A fix on the plane, its time counted from the first.
struct Step {
  LocalPoint point;
  TimedError error;
};

/// The fixes that may be believed by themselves, in order of time, one for each time.
std::vector<Fix> usableFixes(std::span<const Fix> fixes, const WalkSettings& settings);

/// The middle of a list by rank, which one wild value does not move. Not of an empty one.
double median(std::vector<double> values);

/// A plane amid the fixes, of which there must be one.
LocalPlane planeAmong(const std::vector<Fix>& fixes);

std::vector<Step> stepsOn(const LocalPlane& plane, const std::vector<Fix>& fixes,
                          const WalkSettings& settings);

/// Leaves out what a walker cannot have done. A walk begins where three fixes in a row
/// agree; a place that was wrongly left is reached again as time goes on.
std::vector<Step> withoutOutliers(const std::vector<Step>& steps, const WalkSettings& settings);

/// Leaves out what stands still.
std::vector<Step> moving(const std::vector<Step>& steps, const WalkSettings& settings);

}  // namespace swardwalk::geo
