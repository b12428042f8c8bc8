#pragma once

#include <span>

#include "common/geo/position.h"
#include "common/measure/measured.h"

namespace swardwalk::geo {

/// Area of an outline that was drawn corner by corner on a plan. Corner i was placed to
/// `corners_u_m[i]` (standard uncertainty on each axis) by a finger, each by itself:
///   Var = sum u_i^2 |P(i+1) - P(i-1)|^2 / 4 + sum u_i^2 u_(i+1)^2 / 2
/// (JCGM 100:2008 5.1.2 on the shoelace formula; the second sum is exact for normal errors).
/// Beside that stands the doubt where the patch's edge is, `edge_u_m`, as in `outlineArea_m2`.
/// Three corners or more, as many uncertainties; the ring must not cross itself.
measure::Measured drawnArea_m2(const LocalRing& corners, std::span<const double> corners_u_m,
                               double edge_u_m);

}  // namespace swardwalk::geo
