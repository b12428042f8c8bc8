#pragma once

#include <QString>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "common/geo/local_plane.h"
#include "mobile/app/show.h"

/// What a plan shows, on the plane of the green that it is about. Plain values.
namespace swardwalk::mobile {

struct PlanGreen {
  QString name;
  geo::LocalShape shape;
};

struct PlanPatch {
  std::string id;
  QString number;  ///< right of the symbol
  SymbolLook look;
  geo::LocalPoint place;
  geo::LocalShape shape;  ///< empty where no size is known
  bool chosen = false;
};

/// Where the walker is.
struct PlanPosition {
  geo::LocalPoint place;
  std::optional<double> accuracy_m;
  QString label;  ///< "± 2.4 m, 1 s old"
  std::optional<double> heading_deg;
};

/// An outline that is being walked.
struct PlanOutline {
  geo::LocalRing points;
  Show::Kind kind = Show::NoKind;
  QString gapLabel;  ///< "Gap 0.8 m"
};

struct PlanScene {
  std::vector<PlanGreen> greens;
  std::vector<geo::LocalShape> surrounds;
  std::vector<PlanPatch> patches;
  std::vector<geo::LocalPoint> marks;
  geo::LocalRing track;               ///< of the round, in order
  std::optional<double> seenReach_m;  ///< how far from the track grass counts as seen
  int ownGreen = -1;                  ///< of `greens`; hatched where not yet seen
  std::optional<PlanPosition> position;
  std::optional<geo::LocalPoint> pin;  ///< a place that was tapped
  std::optional<PlanOutline> outline;
  /// What "Whole green" shows.
  geo::LocalPoint low;
  geo::LocalPoint high;
};

}  // namespace swardwalk::mobile
