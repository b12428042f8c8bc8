#include "mobile/plan/plan_source.h"

namespace swardwalk::mobile {

void PlanSource::set(PlanScene scene, bool refit) {
  scene_ = std::move(scene);
  Q_EMIT changed();
  if (refit) Q_EMIT refitWanted();
}

void PlanSource::setWalker(std::optional<PlanPosition> position, geo::LocalRing track) {
  scene_.position = std::move(position);
  scene_.track = std::move(track);
  Q_EMIT changed();
}

}  // namespace swardwalk::mobile
