#include "common/answers/thin_stand.h"

#include <algorithm>

#include "common/measure/sampled_share.h"

namespace swardwalk::answers {

std::vector<const course::Frame*> framesTogether(const course::CourseState& state,
                                                 std::string_view green, const Calendar& calendar) {
  constexpr double together_d = 14.0;
  double last = 0.0;
  std::vector<const course::Frame*> frames;
  for (const course::Frame& frame : state.frames) {
    const double day = Calendar::dayOf(frame.seen);
    if (frame.green != green || frame.squares <= 0 || day > calendar.today()) continue;
    frames.push_back(&frame);
    last = std::max(last, day);
  }
  std::erase_if(frames, [&](const course::Frame* frame) {
    return Calendar::dayOf(frame->seen) < last - together_d;
  });
  return frames;
}

std::optional<FramesThrown> thinStandOf(const course::CourseState& state, std::string_view green,
                                        const Calendar& calendar) {
  const auto frames = framesTogether(state, green, calendar);
  if (frames.empty()) return std::nullopt;
  FramesThrown thrown;
  std::vector<measure::ThrownFrame> counts;
  for (const course::Frame* frame : frames) {
    counts.push_back({frame->squaresBare, frame->squares});
    thrown.day = std::max(thrown.day, Calendar::dayOf(frame->seen));
  }
  thrown.frames = static_cast<int>(frames.size());
  thrown.share = measure::sampledShare(counts);
  return thrown;
}

bool looked(const course::CourseState& state, std::string_view green) {
  const auto patch = [&](const course::Patch& one) {
    return one.green == green && (!one.sightings.empty() || !one.closed.empty());
  };
  const auto here = [&](const auto& one) { return one.green == green; };
  return std::any_of(state.patches.begin(), state.patches.end(), patch) ||
         std::any_of(state.frames.begin(), state.frames.end(), here) ||
         std::any_of(state.rounds.begin(), state.rounds.end(), here);
}

}  // namespace swardwalk::answers
