#include "mobile/walk/outline_model.h"

#include <boost/json.hpp>
#include <cmath>

#include "mobile/app/lengths.h"
#include "mobile/walk/bearings.h"

namespace swardwalk::mobile {

namespace {

constexpr char noteKey[] = "outline kept as draft";
/// What is shown of the ground while an outline begins.
constexpr double planReach_m = 4.0;

boost::json::array ringJson(const geo::GlobeRing& ring) {
  boost::json::array places;
  for (const geo::Position& place : ring) {
    places.push_back(boost::json::array{place.longitude_deg, place.latitude_deg});
  }
  if (!ring.empty()) {
    places.push_back(boost::json::array{ring.front().longitude_deg, ring.front().latitude_deg});
  }
  return places;
}

}  // namespace

OutlineModel::OutlineModel(Store& store, Whereabouts& whereabouts, WalkModel& walk, MarkModel& mark,
                           QObject* parent)
    : QObject(parent), store_(&store), whereabouts_(&whereabouts), walk_(&walk), mark_(&mark) {
  connect(whereabouts_, &Whereabouts::moved, this, &OutlineModel::take);
  connect(whereabouts_, &Whereabouts::changed, this, [this] {
    if (open_) refreshTexts();
  });
  tellDraft();
}

void OutlineModel::tellDraft() {
  const auto note = store_->journal().note(noteKey);
  const auto draft = note ? OutlineDraft::read(*note) : std::nullopt;
  if (!draft) {
    walk_->setDraft({});
    return;
  }
  const QString of = draft->ofGreen ? tr("a green") : kindWord(draft->sighting.kind);
  walk_->setDraft(
      tr("Outline of %1 kept as draft, %2").arg(of, counted(draft->fixes.size(), "step", "steps")));
}

void OutlineModel::begin(OutlineDraft draft) {
  draft_ = std::move(draft);
  open_ = true;
  show_ = {};
  trouble_ = {};
  ownPlane_.reset();
  outline_.reset();
  if (draft_.fixes.empty()) {
    if (const auto here = whereabouts_->current()) draft_.fixes.push_back(*here);
  }
  compute();
  refreshPlan(true);
  refreshTexts();
}

void OutlineModel::beginPatch() {
  OutlineDraft draft;
  draft.sighting = mark_->sightingSoFar();
  draft.newPatch = mark_->patch().empty();
  begin(std::move(draft));
}

void OutlineModel::beginGreen() {
  OutlineDraft draft;
  draft.ofGreen = true;
  begin(std::move(draft));
}

bool OutlineModel::resume() {
  const auto note = store_->journal().note(noteKey);
  auto draft = note ? OutlineDraft::read(*note) : std::nullopt;
  if (!draft) return false;
  begin(std::move(*draft));
  // Whoever comes back is somewhere else: nothing is taken until the walk goes on.
  show_.paused = true;
  refreshTexts();
  return true;
}

void OutlineModel::setGreenName(const QString& name) {
  draft_.greenName = name.trimmed().toStdString();
  refreshTexts();
}

void OutlineModel::take(const geo::Fix& fix) {
  if (!open_ || show_.paused) return;
  draft_.fixes.push_back(fix);
  keep();
  compute();
  refreshPlan(false);
  refreshTexts();
}

void OutlineModel::keep() {
  const auto kept = store_->journal().setNote(noteKey, draft_.write());
  if (!kept) trouble_ = adviceFrom(kept.error());
}

void OutlineModel::pause() {
  show_.paused = !show_.paused;
  refreshTexts();
}

void OutlineModel::stepBack() {
  if (draft_.fixes.empty()) return;
  draft_.fixes.pop_back();
  keep();
  compute();
  refreshPlan(false);
  refreshTexts();
}

void OutlineModel::compute() {
  outline_.reset();
  auto outline = geo::walkedOutline(draft_.fixes, {});
  if (outline) {
    outline_ = std::move(*outline);
  } else {
    why_ = text(outline.error().what);
    if (!why_.isEmpty()) why_[0] = why_[0].toUpper();
  }
}

const geo::LocalPlane& OutlineModel::plane() const {
  return walk_->coursePlan() && !draft_.ofGreen ? walk_->coursePlan()->plane : *ownPlane_;
}

void OutlineModel::refreshPlan(bool refit) {
  PlanScene scene;
  if (walk_->coursePlan() && !draft_.ofGreen) {
    scene = walk_->plan()->scene();
    scene.track.clear();
    scene.seenReach_m.reset();
    scene.pin.reset();
  } else {
    if (!ownPlane_) {
      if (draft_.fixes.empty()) return;
      ownPlane_.emplace(draft_.fixes.front().position);
      refit = true;
    }
  }
  PlanOutline outline;
  outline.kind = draft_.ofGreen ? Show::NoKind : Show::kindOf(draft_.sighting.kind);
  for (const geo::Fix& fix : draft_.fixes) outline.points.push_back(plane().toLocal(fix.position));
  geo::LocalPoint low{-planReach_m, -planReach_m};
  geo::LocalPoint high{planReach_m, planReach_m};
  if (!outline.points.empty()) {
    low = high = outline.points.front();
    for (const geo::LocalPoint& point : outline.points) {
      low = {std::min(low.east_m, point.east_m), std::min(low.north_m, point.north_m)};
      high = {std::max(high.east_m, point.east_m), std::max(high.north_m, point.north_m)};
    }
    const double gap_m = std::hypot(outline.points.back().east_m - outline.points.front().east_m,
                                    outline.points.back().north_m - outline.points.front().north_m);
    outline.gapLabel = tr("Gap %1").arg(distanceText(gap_m, store_->units()));
    if (const auto& here = whereabouts_->last()) {
      scene.position.emplace();
      scene.position->place = outline.points.back();
      scene.position->accuracy_m = here->accuracy_m;
      scene.position->label = whereabouts_->line().section(QLatin1Char(','), 0, 0);
      if (here->speed_m_s.value_or(0) > 0.3) scene.position->heading_deg = here->heading_deg;
    }
  }
  // The circle of the receiver's doubt belongs into the picture as far as that is useful.
  const double around_m =
      std::max(planReach_m / 2, std::min(scene.position && scene.position->accuracy_m
                                             ? *scene.position->accuracy_m * 1.1
                                             : 0.0,
                                         10.0));
  // The view grows with the walk in steps, so that it does not creep at every fix.
  const auto grown = [](double value, double by) { return value + by; };
  low = {grown(low.east_m, -around_m), grown(low.north_m, -around_m)};
  high = {grown(high.east_m, around_m), grown(high.north_m, around_m)};
  const PlanScene& before = plan_.scene();
  const bool fits = !refit && low.east_m >= before.low.east_m &&
                    low.north_m >= before.low.north_m && high.east_m <= before.high.east_m &&
                    high.north_m <= before.high.north_m;
  if (fits) {
    scene.low = before.low;
    scene.high = before.high;
  } else {
    scene.low = {low.east_m - planReach_m / 2, low.north_m - planReach_m / 2};
    scene.high = {high.east_m + planReach_m / 2, high.north_m + planReach_m / 2};
  }
  scene.outline = std::move(outline);
  plan_.set(std::move(scene), !fits);
}

void OutlineModel::refreshTexts() {
  show_.ofGreen = draft_.ofGreen;
  show_.title = draft_.ofGreen ? tr("Walk a green") : tr("Walk the outline");
  if (draft_.ofGreen) {
    show_.subject = tr("Walk once round the green's edge");
  } else {
    const QString on =
        draft_.sighting.green.empty() ? tr("the course") : text(draft_.sighting.green);
    show_.subject = tr("%1, on %2").arg(kindTitle(draft_.sighting.kind), on);
  }
  show_.offerTape = false;
  show_.advice = {};
  if (outline_) {
    show_.area = WrittenText::from(
        measure::write(outline_->area_m2, measure::Quantity::area, store_->units()));
    show_.noArea = tr("if closed now");
    if (outline_->tooSmall && !draft_.ofGreen) {
      show_.advice.weight = Show::Watch;
      show_.advice.title = tr("Too small for this receiver: use the tape");
      show_.advice.reason = tr("The ± is more than a third of the area.");
      show_.offerTape = true;
    } else if (!outline_->warnings.empty()) {
      show_.advice.weight = Show::Watch;
      show_.advice.title = text(outline_->warnings.front());
      show_.advice.title[0] = show_.advice.title[0].toUpper();
    }
    show_.gap = distanceText(outline_->closedGap_m, store_->units());
  } else {
    show_.area = {};
    show_.noArea = why_;
    show_.gap = QStringLiteral("–");
  }
  double walked_m = 0.0;
  for (std::size_t i = 1; i < draft_.fixes.size(); ++i) {
    walked_m += bearing(draft_.fixes[i - 1].position, draft_.fixes[i].position).distance_m;
  }
  show_.walked = distanceText(walked_m, store_->units());
  show_.position = whereabouts_->line();
  const auto state = whereabouts_->state();
  if (show_.advice.title.isEmpty() && (state == Whereabouts::None || state == Whereabouts::Lost)) {
    show_.advice.weight = Show::Watch;
    show_.advice.title = whereabouts_->title();
    show_.advice.reason = tr("Wait for it, or leave and use the tape.");
  }
  if (!trouble_.title.isEmpty()) show_.advice = trouble_;
  show_.line = show_.paused ? tr("Paused: steps are not taken now.")
                            : tr("Every step is kept on this tablet.");
  show_.canStepBack = !draft_.fixes.empty();
  show_.canClose =
      outline_ && !outline_->shape.empty() && (!draft_.ofGreen || !draft_.greenName.empty());
  Q_EMIT changed();
}

Result<journal::Record> OutlineModel::saveGreen(const geo::GlobeShape& shape) {
  const auto founded = store_->foundCourse(text(draft_.greenName));
  if (!founded) return tl::unexpected(founded.error());
  boost::json::array polygons;
  for (const geo::GlobePolygon& polygon : shape) {
    boost::json::array rings{ringJson(polygon.outer)};
    for (const geo::GlobeRing& hole : polygon.holes) rings.push_back(ringJson(hole));
    polygons.push_back(std::move(rings));
  }
  boost::json::object geometry;
  geometry["type"] = "MultiPolygon";
  geometry["coordinates"] = std::move(polygons);
  boost::json::object properties;
  properties["name"] = draft_.greenName;
  boost::json::object body;
  body["geometry"] = std::move(geometry);
  body["properties"] = std::move(properties);
  return store_->write([&](course::Recorder& recorder) { return recorder.feature("green", body); });
}

Result<journal::Record> OutlineModel::savePatch(const geo::GlobeShape& shape) {
  course::Sighting sighting = draft_.sighting;
  sighting.outline = shape;
  sighting.seen = store_->now();
  sighting.edge_u_m = geo::WalkSettings::defaultWalkEdge_u_m;
  // The computed area carries the receiver's doubt, which the outline alone can't give.
  sighting.area_m2 = outline_->area_m2;
  sighting.point.reset();
  return store_->write(
      [&](course::Recorder& recorder) { return recorder.walkedSighting(sighting, draft_.fixes); });
}

bool OutlineModel::closeOutline() {
  if (!show_.canClose) return false;
  geo::GlobeShape shape;
  for (const geo::LocalPolygon& polygon : outline_->shape) {
    geo::GlobePolygon part;
    part.outer = outline_->plane.toGlobe(polygon.outer);
    for (const geo::LocalRing& hole : polygon.holes) {
      part.holes.push_back(outline_->plane.toGlobe(hole));
    }
    shape.push_back(std::move(part));
  }
  const auto record = draft_.ofGreen ? saveGreen(shape) : savePatch(shape);
  if (!record) {
    trouble_ = adviceFrom(record.error());
    refreshTexts();
    return false;
  }
  QString saved = text(draft_.greenName);
  if (draft_.ofGreen) {
    walk_->chooseGreen(saved);
  } else {
    const auto* progress = store_->patchProgress(draft_.sighting.patch);
    saved = progress != nullptr ? text(progress->heading) : text(draft_.sighting.label);
  }
  walk_->savedNow(*record, saved);
  end();
  forget();
  return true;
}

void OutlineModel::useTape() {
  end();
  forget();
  Q_EMIT tapeWanted();
}

void OutlineModel::leave() {
  if (draft_.fixes.empty()) {
    forget();
  } else {
    keep();
  }
  end();
  tellDraft();
  Q_EMIT closed();
}

void OutlineModel::end() { open_ = false; }

void OutlineModel::forget() {
  open_ = false;
  draft_ = {};
  const auto kept = store_->journal().setNote(noteKey, "{}");
  if (!kept) trouble_ = adviceFrom(kept.error());
  tellDraft();
  Q_EMIT closed();
}

}  // namespace swardwalk::mobile
