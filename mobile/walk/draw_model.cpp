#include "mobile/walk/draw_model.h"

#include <algorithm>

#include "common/geo/drawn.h"
#include "common/geo/outline.h"
#include "mobile/app/lengths.h"
#include "mobile/walk/place_words.h"

namespace swardwalk::mobile {

namespace {

/// What is shown of the ground round a place that is known, at first.
constexpr double planReach_m = 4.0;

}  // namespace

DrawModel::DrawModel(Store& store, WalkModel& walk, MarkModel& mark, QObject* parent)
    : QObject(parent), store_(&store), walk_(&walk), mark_(&mark) {}

void DrawModel::begin() {
  corners_.clear();
  corners_u_m_.clear();
  trouble_ = {};
  refresh(true);
}

void DrawModel::addCorner(double east, double north, double doubt) {
  if (corners_.size() >= mostCorners || !(doubt > 0.0)) return;
  corners_.push_back({east, north});
  corners_u_m_.push_back(doubt);
  trouble_ = {};
  refresh(false);
}

void DrawModel::stepBack() {
  if (corners_.empty()) return;
  corners_.pop_back();
  corners_u_m_.pop_back();
  trouble_ = {};
  refresh(false);
}

void DrawModel::refreshPlan(bool refit) {
  if (!walk_->coursePlan()) return;
  PlanScene scene = walk_->plan()->scene();
  scene.track.clear();
  scene.seenReach_m.reset();
  scene.pin.reset();
  const auto& place = mark_->place();
  if (place && place->by != Place::By::green) {
    const geo::LocalPoint at = walk_->coursePlan()->plane.toLocal(place->position);
    const double reach_m = std::max(planReach_m, place->accuracy_m.value_or(0.0) * 1.6);
    scene.low = {at.east_m - reach_m, at.north_m - reach_m};
    scene.high = {at.east_m + reach_m, at.north_m + reach_m};
  }
  if (!corners_.empty()) {
    PlanOutline outline;
    outline.points = corners_;
    outline.kind = mark_->kind();
    scene.outline = std::move(outline);
  }
  plan_.set(std::move(scene), refit);
}

void DrawModel::refresh(bool refit) {
  refreshPlan(refit);
  show_ = {};
  area_m2_.reset();
  show_.subject = walk_->coursePlan() ? tr("Tap the corners, once round the patch")
                                      : tr("There is no green here to draw on");
  show_.canStepBack = !corners_.empty();
  show_.second = tr("Two fingers zoom: the closer, the finer.");
  if (!corners_.empty()) {
    const double worst_m = *std::max_element(corners_u_m_.begin(), corners_u_m_.end());
    show_.second = tr("%1, each to %2")
                       .arg(counted(corners_.size(), "corner", "corners"),
                            doubtText(worst_m, store_->units()));
  }
  if (corners_.size() >= 3) {
    if (geo::crossesItself(corners_)) {
      show_.advice = watch(tr("The line crosses itself"),
                           tr("Take corners back until it runs once round the patch."));
    } else {
      area_m2_ = geo::drawnArea_m2(corners_, corners_u_m_, geo::defaultEdge_u_m);
      show_.area =
          WrittenText::from(measure::write(*area_m2_, measure::Quantity::area, store_->units()));
      show_.canSave = area_m2_->value > 0.0;
      if (area_m2_->u.value_or(0.0) > area_m2_->value / 3.0)
        show_.advice = watch(tr("Too small for a finger at this scale"),
                             tr("Zoom in and draw it again, or measure it by tape."));
    }
  }
  if (!trouble_.title.isEmpty()) show_.advice = trouble_;
  Q_EMIT changed();
}

bool DrawModel::save() {
  if (!show_.canSave || !walk_->coursePlan()) return false;
  course::Sighting sighting = mark_->sightingSoFar();
  sighting.outline = {{walk_->coursePlan()->plane.toGlobe(corners_), {}}};
  sighting.corners_u_m = corners_u_m_;
  // The computed area carries the finger's doubt, which the outline alone can't give.
  sighting.area_m2 = area_m2_;
  // It lies where it was drawn.
  sighting.point.reset();
  sighting.tapes.clear();
  sighting.corrected.reset();
  sighting.accuracy_m = *std::max_element(corners_u_m_.begin(), corners_u_m_.end());
  const auto record =
      store_->write([&](course::Recorder& recorder) { return recorder.sighting(sighting); });
  if (!record) {
    trouble_ = adviceFrom(record.error());
    refresh(false);
    return false;
  }
  const auto* progress = store_->patchProgress(sighting.patch);
  walk_->savedNow(*record, progress != nullptr ? text(progress->heading) : text(sighting.label));
  Q_EMIT saved();
  return true;
}

void DrawModel::back() { Q_EMIT left(); }

}  // namespace swardwalk::mobile
