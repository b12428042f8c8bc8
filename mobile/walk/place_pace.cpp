#include "mobile/walk/place_model.h"

#include <cmath>

#include "common/geo/standing.h"
#include "mobile/app/lengths.h"
#include "mobile/walk/bearings.h"
#include "mobile/walk/place_words.h"

namespace swardwalk::mobile {

std::optional<double> PlaceModel::betweenMarks_m(double& u_m) const {
  if (chosen_.size() != 2) return std::nullopt;
  const course::Mark* a = markNamed(chosen_[0]);
  const course::Mark* b = markNamed(chosen_[1]);
  if (a == nullptr || b == nullptr) return std::nullopt;
  u_m = std::hypot(a->accuracy_m.value_or(geo::defaultMark_u_m),
                   b->accuracy_m.value_or(geo::defaultMark_u_m));
  return bearing(a->position, b->position).distance_m;
}

void PlaceModel::showPace() {
  show_.subject = tr("Choose two marks, walk from one to the other, enter your paces");
  show_.action = tr("Keep this pace");
  const TabletSettings& settings = store_->settings();
  if (settings.pace_m)
    show_.second = tr("Kept: %1 a pace").arg(lengthText(*settings.pace_m, 2, store_->units()));
  double u_m = 0.0;
  const auto length_m = betweenMarks_m(u_m);
  if (!length_m) {
    show_.answer = tr("Choose two marks");
    return;
  }
  show_.second = tr("%1 between them").arg(distanceText(*length_m, store_->units()));
  if (!paces_.known() || *paces_.value() < 5.0) {
    show_.answer = tr("Five paces or more");
    return;
  }
  const geo::PaceWalk walk{*length_m, u_m, *paces_.value()};
  const measure::Measured pace_m = geo::paceOf_m({&walk, 1});
  show_.answer =
      tr("%1 a pace")
          .arg(text(measure::write(pace_m, measure::Quantity::length, store_->units()).text()));
  show_.canAct = pace_m.value > 0.3 && pace_m.value < 1.5;
  if (!show_.canAct)
    show_.advice =
        watch(tr("Nobody paces so"), tr("Count again, and see that these are the marks."));
}

bool PlaceModel::takePace() {
  double u_m = 0.0;
  const auto length_m = betweenMarks_m(u_m);
  if (!length_m) return false;
  const geo::PaceWalk walk{*length_m, u_m, *paces_.value()};
  const measure::Measured pace_m = geo::paceOf_m({&walk, 1});
  store_->settings().pace_m = pace_m.value;
  store_->settings().pace_u_m = pace_m.u.value_or(0.0);
  store_->settings().save();
  return true;
}

}  // namespace swardwalk::mobile
