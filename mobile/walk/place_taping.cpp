#include "mobile/walk/place_model.h"

#include <cmath>

#include "mobile/app/lengths.h"
#include "mobile/walk/bearings.h"
#include "mobile/walk/place_words.h"

namespace swardwalk::mobile {

namespace {

/// As many as a person measures; more only get in the way.
constexpr std::size_t mostTapes = 6;

}  // namespace

void PlaceModel::showTapes() {
  show_.subject = tr("Choose a mark, then enter the tape to the middle of the patch");
  show_.action = tr("Take this place");
  taped_.reset();
  if (readings_m_.size() < 2) {
    show_.answer = readings_m_.empty() ? tr("Two marks to go") : tr("One mark to go");
    return;
  }
  std::vector<course::TapeReading> readings;
  for (const auto& [mark, distance_m] : readings_m_) readings.push_back({mark, distance_m});
  const auto places = course::placesByTapes(readings, store_->state().marks);
  if (!places) {
    show_.answer = tr("No place yet");
    show_.advice = watch(sentence(places.error().what), sentence(places.error().todo) + ".");
    return;
  }
  taped_ = *places;
  if (taped_->places.size() == 2) {
    const auto side = [&](std::size_t i) {
      const geo::LocalPoint own = taped_->places[i].place;
      const geo::LocalPoint other = taped_->places[1 - i].place;
      const double from_north_deg =
          std::atan2(own.east_m - other.east_m, own.north_m - other.north_m) * 57.29577951308232;
      return tr("On the %1 side")
          .arg(Bearing{0.0, from_north_deg < 0.0 ? from_north_deg + 360.0 : from_north_deg}
                   .compass());
    };
    show_.firstSide = side(0);
    show_.secondSide = side(1);
    if (side_ < 0) {
      course::Sighting rough;
      if (const auto here = whereabouts_->current()) {
        rough.point = here->position;
        rough.accuracy_m = here->accuracy_m;
      }
      const auto settled =
          course::settledPlace(*taped_, rough, store_->state().green(mark_->green()));
      if (settled) side_ = settled->place == taped_->places[0].place ? 0 : 1;
    }
  } else {
    side_ = 0;
  }
  show_.side = side_;
  if (side_ < 0) {
    show_.answer = tr("Which side?");
    show_.second = tr("Two places fit, one on each side of the marks.");
    return;
  }
  const geo::TapePlace& place = taped_->places[static_cast<std::size_t>(side_)];
  show_.answer = doubtText(place.doubt.u_m(), store_->units());
  show_.second =
      place.spareReadings > 0
          ? tr("The tapes agree to %1.").arg(lengthText(place.worstMiss_m, 2, store_->units()))
          : tr("Two tapes can't check each other; a third would.");
  show_.canAct = readings_m_.size() <= mostTapes;
}

bool PlaceModel::takeTapes() {
  if (!taped_ || side_ < 0) return false;
  const geo::TapePlace& found = taped_->places[static_cast<std::size_t>(side_)];
  Place place{taped_->plane.toGlobe(found.place), found.doubt.u_m(), Place::By::taping};
  for (const auto& [mark, distance_m] : readings_m_) place.tapes.push_back({mark, distance_m});
  mark_->usePlace(std::move(place));
  return true;
}

}  // namespace swardwalk::mobile
