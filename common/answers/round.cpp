#include "common/answers/round.h"

#include <fmt/format.h>

#include <algorithm>

#include "common/answers/calendar.h"
#include "common/answers/history.h"
#include "common/answers/rainfall.h"
#include "common/answers/sentences.h"
#include "common/geo/local_plane.h"
#include "common/geo/outline.h"
#include "common/geo/walking_order.h"

namespace swardwalk::answers {
namespace {

using repair::SowingState;

struct Reason {
  std::string why;
  Weight weight = Weight::calm;
};

/// Why one patch wants a look; words for people.
class Reasons {
 public:
  Reasons(const course::CourseState& state, const Calendar& calendar, const Settings& settings)
      : state_(state), calendar_(calendar), settings_(settings) {}

  std::optional<Reason> of(const PatchProgress& patch) const {
    const PatchStory& story = *patch.story;
    if (patch.sowing == SowingState::washedOut) {
      return Reason{fmt::format("{}: look, and sow again.",
                                patch.note.empty() ? "The seed may be gone" : patch.note),
                    Weight::stop};
    }
    if (auto reason = afterStorm(patch, story)) return reason;
    if (auto reason = seedDue(patch, story)) return reason;
    if (patch.verdict == infill::Verdict::growing) {
      return Reason{patch.answer + ": look for the cause.", Weight::stop};
    }
    if (!patch.area_m2) return Reason{"It has no size yet: measure it.", Weight::watch};
    return notSeen(story);
  }

 private:
  std::string day(double day) const { return dateWords(*calendar_.dateOf(day), calendar_.on()); }

  bool seenToday(const PatchStory& story) const {
    return story.lastSeenDay && calendar_.dateOf(story.lastSeenDay) == calendar_.on();
  }

  std::optional<Reason> afterStorm(const PatchProgress& patch, const PatchStory& story) const {
    if (!story.lastSeenDay) return std::nullopt;
    const Rainfall rain = rainBetween(state_, *story.lastSeenDay, calendar_.today(), calendar_);
    const bool storm = rain.wettest && (rain.day_mm >= settings_["rain_slope_mm_d"] ||
                                        rain.hour_mm >= settings_["rain_slope_mm_h"]);
    if (!storm) return std::nullopt;
    std::string what;
    if (story.timesWashed > 0) {
      what = "It washed before";
    } else if (story.slope) {
      what = fmt::format("It lies on the {}", course::word(patch.zone));
    } else if (patch.sowing == SowingState::waiting || patch.sowing == SowingState::due) {
      what = "Its seed is not up";
    } else {
      return std::nullopt;
    }
    const auto fallen = measure::write({rain.day_mm, std::nullopt}, measure::Quantity::rain,
                                       measure::UnitSystem::metric);
    return Reason{fmt::format("{}, and {} fell on {} since it was last seen.", what, fallen.text(),
                              dateWords(*rain.wettest, calendar_.on())),
                  Weight::stop};
  }

  std::optional<Reason> seedDue(const PatchProgress& patch, const PatchStory& story) const {
    const bool overdue = patch.sowing == SowingState::overdue;
    if ((!overdue && patch.sowing != SowingState::due) || seenToday(story)) return std::nullopt;
    const repair::Sowing& sowing = story.sowing;
    const double since =
        *sowing.sownDay + (overdue ? sowing.daysUntilUp->high : sowing.daysUntilUp->low);
    return Reason{fmt::format("Sown {}, {} since {}: is it up?", day(*sowing.sownDay),
                              overdue ? "overdue" : "due", day(since)),
                  overdue ? Weight::watch : Weight::calm};
  }

  std::optional<Reason> notSeen(const PatchStory& story) const {
    if (!story.lastSeenDay) return std::nullopt;
    const auto days = (calendar_.on() - *calendar_.dateOf(*story.lastSeenDay)).count();
    if (static_cast<double>(days) < settings_["look_again_after_d"]) return std::nullopt;
    return Reason{fmt::format("Not seen for {}.", counted(static_cast<int>(days), "day", "days")),
                  Weight::calm};
  }

  const course::CourseState& state_;
  const Calendar& calendar_;
  const Settings& settings_;
};

std::optional<geo::Position> middleOf(const geo::GlobeShape& shape) {
  if (shape.empty()) return std::nullopt;
  const geo::LocalPlane plane = geo::planeFor(shape);
  return plane.toGlobe(geo::centroid(plane.toLocal(shape)));
}

std::optional<geo::Position> placeOfPatch(const course::CourseState& state,
                                          const PatchProgress& patch) {
  if (const course::Patch* records = state.patch(patch.patch)) {
    for (auto seen = records->sightings.rbegin(); seen != records->sightings.rend(); ++seen) {
      if (const auto place = course::placeOf(*seen)) return place;
    }
  }
  for (const course::Green& green : state.greens) {
    if (green.name == patch.green) return middleOf(green.shape);
  }
  return std::nullopt;
}

/// Puts the stops in walking order and returns the way's length, m.
double order(std::vector<RoundStop>& stops, const std::optional<geo::Position>& from) {
  const auto placed = std::stable_partition(stops.begin(), stops.end(),
                                            [](const RoundStop& stop) { return stop.place; });
  if (placed == stops.begin()) return 0.0;
  geo::GlobeRing spanned;
  for (auto stop = stops.begin(); stop != placed; ++stop) spanned.push_back(*stop->place);
  const geo::LocalPlane plane = geo::planeFor(spanned);
  const geo::WalkingOrder walk = geo::walkingOrder(
      plane.toLocal(spanned), from ? std::optional(plane.toLocal(*from)) : std::nullopt);
  std::vector<RoundStop> ordered;
  ordered.reserve(stops.size());
  for (const std::size_t stop : walk.order) ordered.push_back(std::move(stops[stop]));
  std::move(placed, stops.end(), std::back_inserter(ordered));
  stops = std::move(ordered);
  return walk.length_m;
}

std::string headlineOf(const Round& round) {
  if (round.stops.empty()) return "Nothing asks to be looked at first";
  return fmt::format("{} to look at, {:.0f} m to walk",
                     capital(counted(static_cast<int>(round.stops.size()), "place", "places")),
                     round.walk_m);
}

}  // namespace

Round round(const course::CourseState& state, const Progress& progress,
            const std::optional<geo::Position>& from) {
  const Calendar calendar(state, progress.on);
  const Settings settings(state.course.settings);
  const Reasons reasons(state, calendar, settings);
  Round out;
  out.on = progress.on;
  out.incomplete = progress.incomplete;
  out.notes = progress.notes;
  for (const PatchProgress& patch : progress.patches) {
    if (patch.verdict == infill::Verdict::closed) continue;
    auto reason = reasons.of(patch);
    if (!reason) continue;
    out.stops.push_back({patch.patch, patch.label, patch.heading, patch.green,
                         placeOfPatch(state, patch), std::move(reason->why), reason->weight});
  }
  out.walk_m = order(out.stops, from);
  out.headline = headlineOf(out);
  return out;
}

}  // namespace swardwalk::answers
