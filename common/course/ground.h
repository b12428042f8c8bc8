#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "common/course/features.h"
#include "common/geo/local_plane.h"

namespace swardwalk::course {

/// Greens and their surrounds, ready to be asked what lies where. Immutable.
class Ground {
 public:
  Ground(const std::vector<Green>& greens, const std::vector<Surround>& surrounds);

  struct Spot {
    std::string green;
    Zone zone = Zone::green;
  };
  /// The green, else the surround, that holds the place.
  std::optional<Spot> at(geo::Position place) const;
  /// The zone of this green that holds the place; the green itself where none does.
  Zone zoneOf(std::string_view green, geo::Position place) const;

 private:
  struct Area {
    Spot spot;
    geo::LocalPlane plane;
    geo::LocalShape shape;
  };
  static bool holds(const Area& area, geo::Position place);
  void add(const std::string& green, Zone zone, const geo::GlobeShape& shape);

  std::vector<Area> areas_;  ///< greens first
};

}  // namespace swardwalk::course
