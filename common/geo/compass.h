#pragma once

#include <string_view>

#include "common/geo/position.h"

namespace swardwalk::geo {

double distance_m(LocalPoint from, LocalPoint to);

/// Clockwise from north, 0 to under 360; 0 where both are the same place.
double bearing_deg(LocalPoint from, LocalPoint to);

/// One of the eight words "north", "north-east" … for a bearing; any finite number.
std::string_view compassWord(double bearing_deg);

}  // namespace swardwalk::geo
