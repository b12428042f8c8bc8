#pragma once

#include <vector>

#include "common/answers/kept_work.h"
#include "common/course/features.h"
#include "common/infill/patch_forecast.h"
#include "common/measure/measured.h"

/// Along which curve the sizes of one chapter of a patch's life close.
namespace swardwalk::answers {

/// A sighting with its size, on a day as `Calendar` counts them.
struct Sized {
  double day = 0.0;
  measure::Measured area_m2;
  const course::Sighting* sighting = nullptr;
};

/// Living plants inside an outline that does not shrink: every size of the chapter was
/// measured with a bare share of 5 to 95 %, in an outline that is still nine tenths of the
/// first. Empty otherwise: then the gap closes from its edge.
std::vector<infill::CoverSeen> coverOf(const std::vector<Sized>& sizes);

/// The curve of the chapter's largest form, its area brought to what was measured. Without
/// the wild size, if there is one: its form would be the largest, and is no form of this place
/// at all. Without a form a curve of nothing.
KeptCurve trustedCurve(const std::vector<Sized>& sizes, const infill::PatchHistory& history,
                       KeptWork& kept);

}  // namespace swardwalk::answers
