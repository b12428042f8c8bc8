#pragma once

#include <optional>
#include <string_view>
#include <vector>

#include "common/answers/calendar.h"
#include "common/course/state.h"
#include "common/measure/measured.h"

namespace swardwalk::answers {

/// Bare share of a green by frames thrown at random over it.
struct FramesThrown {
  measure::Measured share;
  int frames = 0;
  double day = 0.0;  ///< of the last one
};

/// The frames of a green in the fortnight up to the last one, by time.
std::vector<const course::Frame*> framesTogether(const course::CourseState& state,
                                                 std::string_view green, const Calendar& calendar);

/// Of the frames in the fortnight up to the last one. Frames are clusters: the share is the
/// ratio of all bare squares to all squares, its uncertainty comes from the scatter between
/// frames, sqrt(sum (a - R m)^2 / (n - 1) / n) / mean m (Cochran 1977, "Sampling
/// Techniques", 6.3); unknown for one frame.
std::optional<FramesThrown> thinStandOf(const course::CourseState& state, std::string_view green,
                                        const Calendar& calendar);

/// Did anybody look at this green: a patch, a frame or a round?
bool looked(const course::CourseState& state, std::string_view green);

}  // namespace swardwalk::answers
