#include "common/answers/history.h"

#include <algorithm>
#include <cmath>

#include "common/answers/closing_curve.h"
#include "common/answers/growth.h"
#include "common/answers/rainfall.h"
#include "common/answers/washed_out.h"
#include "common/geo/tape.h"

namespace swardwalk::answers {
namespace {

constexpr double unknownAreaShare = 0.10;

bool isWash(turf::Kind kind) { return kind == turf::Kind::washed || kind == turf::Kind::dug; }

bool grewBeyondDoubt(const measure::Measured& last, const measure::Measured& now) {
  const double uLast = last.u.value_or(unknownAreaShare * last.value);
  const double uNow = now.u.value_or(unknownAreaShare * now.value);
  return now.value - last.value > 2.0 * std::hypot(uLast, uNow);
}

/// One thing that happened, so that sightings, sowings and closings run in one order.
struct Happening {
  enum class What { sighting, sowing, closed };
  double day = 0.0;
  What what = What::sighting;
  std::size_t index = 0;
};

std::vector<Happening> happenings(const course::Patch& patch) {
  std::vector<Happening> all;
  for (std::size_t i = 0; i < patch.sightings.size(); ++i) {
    all.push_back({Calendar::dayOf(patch.sightings[i].seen), Happening::What::sighting, i});
  }
  for (std::size_t i = 0; i < patch.repairs.size(); ++i) {
    if (patch.repairs[i].seedLot.empty() && !patch.repairs[i].seed_g) continue;
    all.push_back({Calendar::dayOf(patch.repairs[i].done), Happening::What::sowing, i});
  }
  for (std::size_t i = 0; i < patch.closed.size(); ++i) {
    all.push_back({Calendar::dayOf(patch.closed[i].seen), Happening::What::closed, i});
  }
  // Seen, then sown, then closed where a clock gives them one moment.
  std::stable_sort(all.begin(), all.end(), [](const Happening& a, const Happening& b) {
    return std::tie(a.day, a.what) < std::tie(b.day, b.what);
  });
  return all;
}

/// Walks through what happened and fills chapters, sizes, sown and closed days.
class Reader {
 public:
  Reader(const course::Patch& patch, const Settings& settings, PatchStory& story, KeptWork& kept)
      : patch_(patch), settings_(settings), story_(story), kept_(kept) {}

  void read() {
    for (const Happening& happening : happenings(patch_)) {
      switch (happening.what) {
        case Happening::What::sighting:
          see(happening);
          break;
        case Happening::What::sowing:
          sow(happening);
          break;
        case Happening::What::closed:
          story_.history.closedDay = happening.day;
          break;
      }
    }
    story_.history.chapter = std::max<int>(1, static_cast<int>(story_.chapters.size()));
    for (const Sized& sized : sizes_) {
      story_.history.sizes.push_back({sized.day, sized.area_m2});
    }
    story_.timesWashed = static_cast<int>(
        std::count_if(story_.chapters.begin(), story_.chapters.end(),
                      [&](const Chapter& chapter) { return beganWithWash(chapter); }));
  }

  const std::vector<Sized>& sizes() const { return sizes_; }

 private:
  bool beganWithWash(const Chapter& chapter) const {
    if (chapter.begins == Chapter::Begins::washed) return true;
    return (chapter.begins == Chapter::Begins::first ||
            chapter.begins == Chapter::Begins::reopened) &&
           chapter.firstSighting < patch_.sightings.size() &&
           patch_.sightings[chapter.firstSighting].kind == turf::Kind::washed;
  }

  std::optional<Chapter::Begins> begins(const course::Sighting& sighting,
                                        const std::optional<measure::Measured>& area) const {
    if (story_.chapters.empty()) return Chapter::Begins::first;
    if (story_.history.closedDay) return Chapter::Begins::reopened;
    const auto washedOrDug =
        sighting.kind == turf::Kind::washed ? Chapter::Begins::washed : Chapter::Begins::dug;
    if (seen_ > 0 && kind_ != sighting.kind) {
      if (isWash(sighting.kind)) return washedOrDug;
      if (kind_ == turf::Kind::hungry || sighting.kind == turf::Kind::hungry) {
        return Chapter::Begins::otherKind;
      }
    }
    if (isWash(sighting.kind) && area && !sizes_.empty() &&
        grewBeyondDoubt(sizes_.back().area_m2, *area)) {
      return washedOrDug;
    }
    return std::nullopt;
  }

  void begin(Chapter::Begins begins, std::size_t sighting, double day) {
    story_.chapters.push_back({begins, sighting, day});
    sizes_.clear();
    story_.history.sownDay.reset();
    story_.history.closedDay.reset();
  }

  void see(const Happening& happening) {
    const course::Sighting& sighting = patch_.sightings[happening.index];
    const std::optional<measure::Measured> area = keptArea(sighting);
    if (const auto why = begins(sighting, area)) begin(*why, happening.index, happening.day);
    if (area) sizes_.push_back({happening.day, *area, &sighting});
    kind_ = sighting.kind;
    if (!story_.firstSeenDay) story_.firstSeenDay = happening.day;
    story_.lastSeenDay = happening.day;
    seen_ = happening.index + 1;
  }

  std::optional<measure::Measured> keptArea(const course::Sighting& sighting) {
    Inputs inputs;
    inputs.add(measuredDigest(sighting)).add(settings_["edge_u_m"]);
    return kept_.areas.get(inputs.digest(), [&] { return areaOf(sighting, settings_); });
  }

  void sow(const Happening& happening) {
    if (story_.history.sownDay) {
      std::vector<Sized> last;
      if (!sizes_.empty()) last.push_back(sizes_.back());
      begin(Chapter::Begins::sownAgain, seen_, happening.day);
      sizes_ = std::move(last);
    } else if (story_.chapters.empty()) {
      begin(Chapter::Begins::first, 0, happening.day);
    }
    story_.history.sownDay = happening.day;
    story_.sownLot = patch_.repairs[happening.index].seedLot;
    story_.sowing.sownDay = happening.day;
  }

  const course::Patch& patch_;
  const Settings& settings_;
  PatchStory& story_;
  KeptWork& kept_;
  std::vector<Sized> sizes_;
  std::size_t seen_ = 0;                ///< sightings so far
  turf::Kind kind_ = turf::Kind::bare;  ///< of the last of them
};

Changes changesSince(const course::CourseState& state, std::string_view green,
                     const PatchStory& story, const Calendar& calendar) {
  constexpr double otherHeight_mm = 0.25;
  constexpr double otherSeason_c = 3.0;
  Changes changes;
  if (story.fedDay && *story.fedDay > story.firstSizeDay) changes.fedDay = story.fedDay;
  std::optional<double> before_mm;
  std::optional<double> last_mm;
  for (const course::Mowing& mowing : state.mowings) {
    if (mowing.green != green || !mowing.height_mm) continue;
    if (Calendar::dayOf(mowing.done) <= story.firstSizeDay) before_mm = mowing.height_mm;
    last_mm = mowing.height_mm;
  }
  if (before_mm && last_mm && std::abs(*last_mm - *before_mm) > otherHeight_mm) {
    changes.cutFrom_mm = before_mm;
    changes.cutTo_mm = last_mm;
  }
  const auto first = calendar.dateOf(story.firstSizeDay);
  const auto last = calendar.dateOf(story.lastSizeDay);
  const auto then_c = first && last ? meanTemperature_c(state, *first, *last) : std::nullopt;
  if (then_c && story.mean_c && std::abs(*story.mean_c - *then_c) >= otherSeason_c) {
    changes.warmer_c = *story.mean_c - *then_c;
  }
  return changes;
}

/// An outline is seen from above; a tape lies on the slope itself.
double surfaceStretch(const course::Sighting& sighting, std::optional<double> slope_percent) {
  const bool fromAbove = !sighting.area_m2 && !sighting.outline.empty();
  return fromAbove && slope_percent ? std::hypot(1.0, *slope_percent / 100.0) : 1.0;
}

bool isClosed(const infill::PatchHistory& history) {
  if (history.closedDay) return true;
  if (history.sizes.empty()) return false;
  double largest_m2 = 0.0;
  for (const infill::SizeSeen& size : history.sizes) {
    largest_m2 = std::max(largest_m2, size.area_m2.value);
  }
  return history.sizes.back().area_m2.value < infill::closedShare * largest_m2;
}

}  // namespace

std::optional<measure::Measured> areaOf(const course::Sighting& sighting,
                                        const Settings& settings) {
  if (!settings.changed("edge_u_m") || sighting.edge_u_m != geo::defaultEdge_u_m) {
    return course::areaOf(sighting);
  }
  course::Sighting own = sighting;
  own.edge_u_m = settings["edge_u_m"];
  return course::areaOf(own);
}

bool fedSinceSeen(const PatchStory& story, const Calendar& calendar, const Settings& settings) {
  return story.fedDay && (!story.lastSeenDay || *story.fedDay >= *story.lastSeenDay) &&
         calendar.today() - *story.fedDay < settings["fed_shows_after_d"];
}

std::shared_ptr<PatchStory> storyOf(const course::CourseState& state, const course::Patch& patch,
                                    const Calendar& calendar, const Settings& settings,
                                    Seasons& seasons, KeptWork& kept) {
  auto story = std::make_shared<PatchStory>();
  story->patch = patch.id;
  story->zone = patch.zone;
  story->zoneSpecies = speciesOf(state, patch.green, patch.zone);
  const auto slope_percent = slopeOf_percent(state, patch.green, patch.zone);
  story->slope = onSlope(patch.zone, slope_percent, settings);

  infill::PatchHistory& history = story->history;
  history.kind = patch.kind;
  history.today = calendar.today();
  history.sightings = static_cast<int>(patch.sightings.size());
  history.puttableAfterTouching_d = settings["puttable_after_touching_d"];

  Reader reader(patch, settings, *story, kept);
  reader.read();
  const std::vector<Sized>& sizes = reader.sizes();
  if (!sizes.empty()) {
    story->firstArea_m2 = sizes.front().area_m2;
    story->lastArea_m2 = sizes.back().area_m2;
    story->firstSizeDay = sizes.front().day;
    story->lastSizeDay = sizes.back().day;
    story->surfaceStretch = surfaceStretch(*sizes.back().sighting, slope_percent);
  }
  story->mean_c = seasons.now_c();
  if (const turf::Species* species = fastestCreeper(story->zoneSpecies, settings)) {
    history.prior = seasons.priorFor(*species);
    history.time = seasons.timeFor(*species);
    story->priorSpecies = species->name;
    story->tooCold = seasons.tooCold(*species) && !seasons.typicalYear();
    story->coldest_c = species->coldestGrows_c;
  }
  history.coverSeen = coverOf(sizes);
  // Nothing more is computed of a closed patch, and a course gathers many of them.
  if (!isClosed(history)) {
    KeptCurve trusted = trustedCurve(sizes, history, kept);
    story->form = trusted.form;
    story->curve = std::move(trusted.curve);
  }
  history.curve = story->curve.get();

  for (const course::Repair& repair : patch.repairs) {
    const double done = Calendar::dayOf(repair.done);
    if (repair.turf_m2) history.turfedDay = done;
    if (repair.rakedBack) story->rakedBackDay = done;
    if (!repair.fill.empty() || repair.fill_l) story->filledDay = done;
    if (!repair.feed.empty() || repair.feed_g) story->fedDay = done;
  }
  if (!patch.green.empty() && patch.zone == course::Zone::green) {
    const auto feedOn = [&](double day) {
      story->fedDay = std::max(day, story->fedDay.value_or(day));
    };
    for (const course::Repair& repair : state.greenRepairs) {
      if (repair.green != patch.green) continue;
      if (!repair.feed.empty() || repair.feed_g) feedOn(Calendar::dayOf(repair.done));
    }
    for (const course::Feeding& feeding : state.feedings) {
      if (feeding.green == patch.green) feedOn(Calendar::dayOf(feeding.done));
    }
  }
  if (history.sizes.size() > 1) {
    story->changes = changesSince(state, patch.green, *story, calendar);
  }
  // Turf of an earlier chapter was dug or washed away since.
  if (history.turfedDay && !story->chapters.empty() &&
      *history.turfedDay < story->chapters.back().day) {
    history.turfedDay.reset();
  }
  for (const course::Sighting& sighting : patch.sightings) {
    if (sighting.depths_mm.empty()) continue;
    story->depths_mm = sighting.depths_mm;
    story->depthDay = Calendar::dayOf(sighting.seen);
  }
  if (story->depthDay && story->filledDay && *story->filledDay >= *story->depthDay) {
    story->depths_mm.clear();
  }

  if (history.sownDay) {
    story->sowing.sownDay = history.sownDay;
    story->sowing.today = calendar.today();
    const turf::Species* species = mainSpecies(state, story->sownLot, story->zoneSpecies, settings);
    const measure::Date sownOn = *calendar.dateOf(history.sownDay);
    std::optional<double> mean = meanTemperature_c(state, sownOn, calendar.on());
    if (!mean) mean = story->mean_c;
    if (species != nullptr) {
      history.daysUntilUp = seasons.daysUntilUp(*species, *history.sownDay);
      history.sownToPuttable_d = turf::sownToPuttableFor(*species, mean);
    }
    story->sowing.daysUntilUp = history.daysUntilUp;
    for (const course::CameUp& cameUp : patch.cameUp) {
      const double seen = Calendar::dayOf(cameUp.seen);
      // A share of 0 says that somebody looked and nothing was up.
      if (seen >= *history.sownDay && cameUp.share.value_or(1.0) > 0.0 && !history.upDay) {
        history.upDay = seen;
      }
    }
    story->sowing.upDay = history.upDay;
    story->wash = washOf(state, story->slope, story->sowing, calendar, settings);
    if (story->wash) story->sowing.washedDay = story->wash->day;
    story->sowingState = repair::sowingState(story->sowing);
    if (story->sowingState == repair::SowingState::washedOut) {
      // The seed is gone: what is left closes from its edge, if at all.
      history.sownDay.reset();
      history.daysUntilUp.reset();
      history.sownToPuttable_d.reset();
    }
  } else {
    // A new chapter took what was sown in the one before: lost only if it was not up.
    story->wash = washBeforeUp(state, patch, *story, calendar);
    if (story->wash) {
      story->sowing.today = calendar.today();
      story->sowing.washedDay = story->wash->day;
      story->sowingState = repair::SowingState::washedOut;
    } else {
      story->sowing = {};
    }
  }
  return story;
}

}  // namespace swardwalk::answers
