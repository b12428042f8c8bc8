#pragma once

#include "common/geo/position.h"

namespace swardwalk::infill {

/// A rectangle on the plane, metres.
inline geo::LocalShape rectangle(double length_m, double width_m) {
  geo::LocalPolygon polygon;
  polygon.outer = {{0, 0}, {length_m, 0}, {length_m, width_m}, {0, width_m}};
  return {polygon};
}

}  // namespace swardwalk::infill
