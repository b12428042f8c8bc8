#pragma once

#include <span>
#include <string>
#include <variant>
#include <vector>

#include "common/failure.h"
#include "common/geo/position.h"
#include "common/measure/measured.h"
#include "common/measure/write.h"

/// How large is what somebody drew or walked?
namespace swardwalk::answers {

/// An outline that is taken as it stands.
struct DrawnOutline {
  geo::GlobeShape shape;
  /// How well each edge was placed; without it the area's doubt is unknown.
  std::optional<double> edge_u_m;
  /// Single places that make the shape's one ring, where it came as a list of them.
  int places = 0;
  int unreadable = 0;  ///< places that were there and made no sense
};

/// A walk with a receiver, to be cleaned.
struct Track {
  std::vector<geo::Fix> fixes;
  int unreadable = 0;  ///< positions that were there and made no sense
};

struct ToMeasure {
  std::string name;
  std::variant<DrawnOutline, Track> what;
  std::vector<std::string> warnings;  ///< of whoever read it
};

struct MeasuredOutline {
  std::string name;
  measure::Measured area_m2;  ///< 0 or more, whichever way round it runs
  measure::Measured perimeter_m;
  int fixesUsed = 0;
  int fixesDropped = 0;
  double closedGap_m = 0.0;  ///< from the last place to the first
  std::vector<std::string> warnings;
};

/// An outline farther across than this is no green, and a plane no picture of it.
inline constexpr double widestOutline_m = 20'000.0;

/// Measures one. A drawn ring that crosses itself is resolved, with a warning. A track
/// becomes an outline as `geo::walkedOutline` says. `units` are those of the warnings.
/// Fails with `invalid` where there is nothing to measure.
///
/// Doubt of a drawn outline: `geo::outlineArea_m2` for its area; for its perimeter that of
/// a rectangle whose four edges are placed, 4 `edge_u_m` (JCGM 100:2008 5.1.2).
Result<MeasuredOutline> measureOutline(const ToMeasure& outline, measure::UnitSystem units);

/// The answer as contract.md writes it.
std::string measureJson(std::span<const MeasuredOutline> outlines);
std::string measureText(std::span<const MeasuredOutline> outlines, measure::UnitSystem units);
std::string measureCsv(std::span<const MeasuredOutline> outlines);

}  // namespace swardwalk::answers
