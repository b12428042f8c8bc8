#include "common/answers/young_turf.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "common/answers/history.h"
#include "common/answers/sentences.h"

namespace swardwalk::answers {
namespace {

using measure::Quantity;
using repair::SowingState;

std::optional<double> lastCut_mm(const course::CourseState& state, const PatchProgress& patch) {
  if (patch.zone != course::Zone::green) return std::nullopt;
  const course::Mowing* last = nullptr;
  for (const course::Mowing& mowing : state.mowings) {
    if (mowing.green != patch.green || !mowing.height_mm) continue;
    if (last == nullptr || last->done <= mowing.done) last = &mowing;
  }
  return last == nullptr ? std::nullopt : last->height_mm;
}

class YoungTurf {
 public:
  YoungTurf(const course::CourseState& state, const PatchProgress& patch, const Calendar& calendar,
            const Settings& settings, measure::UnitSystem units)
      : state_(state), patch_(patch), calendar_(calendar), settings_(settings), units_(units) {}

  std::vector<std::string> words() const {
    const PatchStory& story = *patch_.story;
    if (patch_.sowing == SowingState::waiting || patch_.sowing == SowingState::due) {
      return {"Keep mower and drag mat off it until it is up and holds."};
    }
    if (patch_.sowing == SowingState::up && story.sowing.upDay) {
      const double mow = *story.sowing.upDay + settings_["mower_off_after_up_d"];
      if (calendar_.today() >= mow) return {firstCut("Where a tug holds, roll it lightly")};
      return {fmt::format("No mowing and no drag mat before {}.", day(mow)),
              firstCut("Then, where a tug holds, roll it lightly")};
    }
    if (story.history.turfedDay) {
      const double mow = *story.history.turfedDay + settings_["turf_roots_after_d"];
      if (calendar_.today() >= mow) return {firstCut("Where no corner lifts, roll it")};
      return {fmt::format("Keep the turf moist; no mowing and no drag mat before {}.", day(mow)),
              firstCut("Then, where no corner lifts, roll it")};
    }
    return {};
  }

 private:
  std::string day(double day) const { return dateWords(*calendar_.dateOf(day), calendar_.on()); }

  std::string mm(double height_mm) const {
    return measure::writeSet(height_mm, Quantity::depth, units_);
  }

  std::string firstCut(std::string_view begin) const {
    const double first_mm = settings_["first_cut_mm"];
    const double slow = settings_["step_down_low_mm_week"];
    const double fast = std::max(slow, settings_["step_down_high_mm_week"]);
    std::string text =
        fmt::format("{} and cut it at {}; lower by {} to {} a week", begin, mm(first_mm),
                    measure::writeSet(slow, Quantity::depth, units_), mm(fast));
    const auto cut_mm = lastCut_mm(state_, patch_);
    if (!cut_mm || !(*cut_mm < first_mm)) return text + ".";
    const auto weeks = [&](double step_mm) {
      return static_cast<int>(std::ceil((first_mm - *cut_mm) / step_mm - 1e-9));
    };
    const int soonest = weeks(fast);
    const int latest = weeks(slow);
    text += soonest == latest ? fmt::format(": at the green's {} after {}.", mm(*cut_mm),
                                            counted(latest, "week", "weeks"))
                              : fmt::format(": at the green's {} after {} to {} weeks.",
                                            mm(*cut_mm), count(soonest), count(latest));
    return text;
  }

  const course::CourseState& state_;
  const PatchProgress& patch_;
  const Calendar& calendar_;
  const Settings& settings_;
  measure::UnitSystem units_;
};

}  // namespace

std::vector<std::string> youngTurfWords(const course::CourseState& state,
                                        const PatchProgress& patch, const Calendar& calendar,
                                        const Settings& settings, measure::UnitSystem units) {
  return YoungTurf(state, patch, calendar, settings, units).words();
}

}  // namespace swardwalk::answers
