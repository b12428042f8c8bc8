#include "mobile/walk/place_model.h"

#include <algorithm>
#include <cmath>

#include "common/geo/standing.h"
#include "mobile/app/lengths.h"
#include "mobile/walk/place_words.h"

namespace swardwalk::mobile {

// Places of who stands still: on the patch, on a mark that is known, on one that is new.

/// "± 2.6 m" and what it came from.
void PlaceModel::showStanding() {
  show_.subject = tr("Stand still on the patch");
  show_.action = tr("Take this place");
  const auto place = geo::averagedStanding(fixes_);
  if (!place) {
    show_.answer = tr("Waiting for a position");
    show_.advice = watch(whereabouts_->title(), whereabouts_->reason());
    return;
  }
  show_.answer = doubtText(place->u_m, store_->units());
  show_.second = tr("%1 fixes in %2, the receiver alone %3")
                     .arg(place->used)
                     .arg(spanWords(std::chrono::seconds(std::lround(place->lasted_s))))
                     .arg(doubtText(place->bare_m, store_->units()));
  show_.advice.title = tr("It gets better slowly");
  show_.advice.reason =
      tr("A receiver's error lasts for minutes, so sixty fixes a second apart are not sixty "
         "measurements. Two tapes from marks are far better.");
  show_.canAct = true;
}

bool PlaceModel::takeStanding() {
  const auto standing = geo::averagedStanding(fixes_);
  if (!standing) return false;
  Place place{standing->position, standing->u_m, Place::By::averaging};
  place.fixes = fixes_;
  mark_->usePlace(std::move(place));
  return true;
}

void PlaceModel::showCorrection() {
  show_.subject = tr("Stand still on a mark for half a minute");
  show_.action = tr("Take the error off");
  if (const auto held = whereabouts_->corrected()) {
    show_.second = tr("Corrected on %1: %2 now")
                       .arg(text(held->reading.mark), doubtText(held->u_m, store_->units()));
  }
  if (chosen_.empty()) {
    show_.answer = tr("Choose the mark that you stand on");
    return;
  }
  const course::Mark* mark = markNamed(chosen_.front());
  if (mark == nullptr) return;
  const auto correction = geo::ReceiverCorrection::onMark(
      mark->position, mark->accuracy_m.value_or(geo::defaultMark_u_m), fixes_);
  if (!correction) {
    const double stood_s =
        fixes_.size() < 2
            ? 0.0
            : std::chrono::duration<double>(fixes_.back().time - fixes_.front().time).count();
    show_.answer = tr("%1 s of %2 s")
                       .arg(std::lround(stood_s))
                       .arg(std::lround(geo::ReceiverCorrection::wantedStanding_s));
    if (stood_s >= geo::ReceiverCorrection::leastStanding_s) {
      show_.answer = tr("Not on this mark");
      show_.advice =
          watch(sentence(correction.error().what), sentence(correction.error().todo) + ".");
    }
    return;
  }
  const auto now = fixes_.empty() ? std::nullopt : correction->apply(fixes_.back());
  show_.answer =
      tr("Off by %1")
          .arg(lengthText(std::hypot(correction->found().east_m, correction->found().north_m), 1,
                          store_->units()));
  if (now) {
    show_.second = tr("%1 just now, instead of %2; it grows within minutes")
                       .arg(doubtText(now->u_m, store_->units()),
                            doubtText(fixes_.back().accuracy_m.value_or(geo::assumedAccuracy_m),
                                      store_->units()));
  }
  show_.canAct = true;
}

bool PlaceModel::takeCorrection() {
  const course::Mark* mark = markNamed(chosen_.front());
  if (mark == nullptr) return false;
  const auto correction = geo::ReceiverCorrection::onMark(
      mark->position, mark->accuracy_m.value_or(geo::defaultMark_u_m), fixes_);
  if (!correction) return false;
  whereabouts_->correctBy(*correction, mark->name);
  return true;
}

/// The mean over this visit and all before.
course::Mark PlaceModel::markStoodOn() const {
  course::Mark mark;
  mark.name = markName_.toStdString();
  if (const course::Mark* known = markNamed(mark.name)) {
    mark = *known;
    mark.source = {};
    // What was known before anybody stood on it counts as a visit of long ago.
    if (mark.visits.empty() && known->accuracy_m && *known->accuracy_m > 0.0)
      mark.visits.push_back({measure::Instant(), known->position, *known->accuracy_m});
  }
  if (const auto place = geo::averagedStanding(fixes_))
    mark.visits.push_back({fixes_.back().time, place->position, std::max(place->u_m, 0.001)});
  if (!mark.visits.empty()) {
    const geo::StandingPlace mean = geo::averagedVisits(mark.visits);
    mark.position = mean.position;
    mark.accuracy_m = mean.u_m;
  }
  return mark;
}

void PlaceModel::showNewMark() {
  show_.subject = tr("Stand on the mark; name it, or choose one to visit again");
  show_.action = tr("Record the mark");
  const course::Mark mark = markStoodOn();
  if (fixes_.empty() || mark.visits.empty()) {
    show_.answer = tr("Waiting for a position");
    return;
  }
  show_.answer = doubtText(mark.accuracy_m.value_or(0.0), store_->units());
  show_.second = counted(mark.visits.size(), "visit", "visits");
  show_.advice.title = tr("Visits on other days make it better");
  show_.advice.reason = tr("A mark from a plan or a survey is better still: import it.");
  show_.canAct = !markName_.isEmpty();
}

bool PlaceModel::takeNewMark() {
  const course::Mark mark = markStoodOn();
  const auto record =
      store_->write([&](course::Recorder& recorder) { return recorder.mark(mark, fixes_); });
  if (!record) trouble_ = adviceFrom(record.error());
  return record.has_value();
}

}  // namespace swardwalk::mobile
