#pragma once

#include <string>
#include <vector>

#include "common/geo/local_plane.h"

/// The invented course: Quillbeck lies in the open sea on every map, so that it is
/// nobody's.
namespace swardwalk::sample {

struct TrueGreen {
  std::string name;
  double east_m = 0.0;  ///< of its middle, on the course's plane
  double north_m = 0.0;
  double radius_m = 0.0;
  double squash = 1.0;  ///< north radius over east radius
  double lobe = 0.0;    ///< how far from an ellipse
  double turn = 0.0;    ///< radians
  std::string species;
  std::string walker;  ///< the tablet that mostly walks it: "a", "b", "c"
};

const std::vector<TrueGreen>& greens();

geo::LocalPlane coursePlane();

/// The green's outline, or of its surround `outward_m` further out, counter-clockwise.
geo::LocalRing outlineOf(const TrueGreen& green, double outward_m = 0.0);

/// A place on the green: `angle` radians from east, `reach` 0 (middle) to 1 (edge).
geo::LocalPoint placeOn(const TrueGreen& green, double angle, double reach);

/// The course file that the greenkeeper sets up before the first walk: greens, zones,
/// marks, materials. Days as YYYY-MM-DD; Mill opens on `earlyDay`, before the others.
std::string courseFile(const std::string& openingDay, const std::string& earlyDay,
                       const std::string& tested);

}  // namespace swardwalk::sample
