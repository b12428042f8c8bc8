#pragma once

#include <vector>

#include "common/course/state.h"
#include "common/measure/measured.h"

namespace swardwalk::answers {

/// One open patch that counts as bare: its last size and the shape it had then.
struct BarePatch {
  measure::Measured area_m2;
  geo::GlobeShape shape;  ///< empty where none is known
};

/// Bare ground inside a green, overlaps once. A shape counts inside the outline only, as
/// densely as its measured area fills it (a bare share of a half counts half); a shape
/// of which nothing lies inside counts whole, because the crew's word for the green goes
/// before the receiver's. Uncertainty: the patches' own, independent (GUM 5.1.2); unknown
/// as soon as one is.
measure::Measured bareArea_m2(const geo::GlobeShape& green, const std::vector<BarePatch>& patches);

/// What a patch that was not looked at for some days is known to: its edge may have moved in
/// as far as it creeps, all round (of a disc).
measure::Measured carried(const measure::Measured& area_m2, double days_d, double creep_mm_d);

}  // namespace swardwalk::answers
