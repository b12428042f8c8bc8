#include "common/repair/choice.h"

namespace swardwalk::repair {

std::string_view word(SowingState state) {
  switch (state) {
    case SowingState::none:
      return "";
    case SowingState::waiting:
      return "waiting";
    case SowingState::due:
      return "due";
    case SowingState::up:
      return "up";
    case SowingState::overdue:
      return "overdue";
    case SowingState::washedOut:
      return "washed out";
  }
  return {};
}

SowingState sowingState(const Sowing& sowing) {
  if (!sowing.sownDay) return SowingState::none;
  const double sown = *sowing.sownDay;
  if (sowing.upDay && *sowing.upDay >= sown) return SowingState::up;
  if (sowing.washedDay && *sowing.washedDay >= sown) return SowingState::washedOut;
  // Too cold for it to move, or nothing known of the grass: it lies and waits.
  if (!sowing.daysUntilUp) return SowingState::waiting;
  const double lies_d = sowing.today - sown;
  if (lies_d < sowing.daysUntilUp->low) return SowingState::waiting;
  if (lies_d <= sowing.daysUntilUp->high) return SowingState::due;
  return SowingState::overdue;
}

}  // namespace swardwalk::repair
