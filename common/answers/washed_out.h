#pragma once

#include <optional>

#include "common/answers/history.h"

/// Was seed carried off before it came up?
namespace swardwalk::answers {

/// The first rain after the sowing that washes fresh seed away: on a slope (`onSlope`)
/// 10 mm an hour or 20 mm a day, on flat sand 40 mm an hour (settings). It counts
/// from the sowing until the seed must be up; never once it was seen up. The rain of a
/// day is that of all its records, a longer record shared out by time; an hour's rain is
/// the recorded peak, at least the mean of the record. A record that began before the
/// sowing has its peak left out: nobody knows on which side of the sowing it fell.
std::optional<Wash> washOf(const course::CourseState& state, bool slope,
                           const repair::Sowing& sowing, const Calendar& calendar,
                           const Settings& settings);

/// A person saw the place washed anew after the last sowing, which was not up: the
/// story's last chapter began with that sighting.
std::optional<Wash> washBeforeUp(const course::CourseState& state, const course::Patch& patch,
                                 const PatchStory& story, const Calendar& calendar);

}  // namespace swardwalk::answers
