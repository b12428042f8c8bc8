#include <fmt/format.h>

#include "common/answers/answer_text.h"
#include "common/answers/sentences.h"

namespace swardwalk::answers {

Look lookOf(const PatchProgress& patch) {
  if (patch.verdict == infill::Verdict::closed) return Look::closed;
  switch (patch.sowing) {
    case repair::SowingState::waiting:
    case repair::SowingState::due:
    case repair::SowingState::overdue:
      return Look::sownWaiting;
    case repair::SowingState::up:
      return Look::up;
    case repair::SowingState::none:
    case repair::SowingState::washedOut:
      break;
  }
  constexpr double ringFrom = 0.005;
  const bool ring =
      patch.verdict != infill::Verdict::feed && patch.shareClosed.value_or(0.0) > ringFrom;
  return ring ? Look::closing : Look::open;
}

std::string whyLook(const PatchProgress& patch, const Calendar& calendar) {
  constexpr int longAgo_d = 10;
  const PatchStory& story = *patch.story;
  if (!patch.area_m2) return "never measured";
  switch (patch.sowing) {
    case repair::SowingState::waiting:
    case repair::SowingState::due:
    case repair::SowingState::overdue:
      return "is its seed up?";
    case repair::SowingState::none:
    case repair::SowingState::up:
    case repair::SowingState::washedOut:
      break;
  }
  const auto seen = calendar.dateOf(story.lastSizeDay);
  const int ago = seen ? static_cast<int>((calendar.on() - *seen).count()) : 0;
  if (ago >= longAgo_d) return fmt::format("not measured for {}", counted(ago, "day", "days"));
  if (patch.verdict == infill::Verdict::stalled)
    return "one more size tells whether it moves at all";
  if (story.history.sizes.size() == 1) return "one sighting so far";
  return "large, and its size on opening day is in doubt";
}

std::string_view word(Look look) {
  switch (look) {
    case Look::open:
      return "open";
    case Look::closing:
      return "closing";
    case Look::sownWaiting:
      return "sown and waiting";
    case Look::up:
      return "up";
    case Look::closed:
      return "closed";
  }
  return "";
}

std::string_view word(Weight weight) {
  switch (weight) {
    case Weight::calm:
      return "calm";
    case Weight::good:
      return "good";
    case Weight::watch:
      return "watch";
    case Weight::stop:
      return "stop";
  }
  return "";
}

}  // namespace swardwalk::answers
