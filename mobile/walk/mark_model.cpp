#include "mobile/walk/mark_model.h"

#include <cmath>
#include <numbers>

#include "common/geo/tape.h"
#include "common/geo/walk.h"
#include "mobile/walk/bearings.h"
#include "mobile/walk/kinds.h"

namespace swardwalk::mobile {

namespace {

geo::TapeForm tapeForm(MarkModel::Form form) {
  switch (form) {
    case MarkModel::Oval:
      return geo::TapeForm::ellipse;
    case MarkModel::Rectangle:
      return geo::TapeForm::rectangle;
    case MarkModel::Triangle:
      return geo::TapeForm::triangle;
  }
  return geo::TapeForm::ellipse;
}

/// What is shown of the ground around a new patch.
constexpr double miniPlanReach_m = 5.0;
/// A walker's pace that nobody found yet (common practice, no source).
constexpr double defaultPace_m = 0.75;
constexpr double defaultPace_u_m = 0.1;
/// A share judged by eye, as a standard uncertainty (common practice, no source).
constexpr double shareByEye_u = 0.1;

}  // namespace

MarkModel::MarkModel(Store& store, Whereabouts& whereabouts, WalkModel& walk, QObject* parent)
    : QObject(parent),
      store_(&store),
      whereabouts_(&whereabouts),
      walk_(&walk),
      depths_(store),
      length_(NumberField::Measured{
          tr("Length"), measure::Quantity::length, {0.02, 2, 0.5}, {0.1, 2, 1.5}, 100}),
      width_(NumberField::Measured{
          tr("Width"), measure::Quantity::length, {0.02, 2, 0.4}, {0.1, 2, 1.3}, 100}),
      lengthPaces_(NumberField::Counted{tr("Length"), tr("paces"), {0.5, 1, 2}, 200}),
      widthPaces_(NumberField::Counted{tr("Width"), tr("paces"), {0.5, 1, 1}, 200}),
      squaresBare_(NumberField::Counted{tr("Bare squares"), QString(), {1, 0, 0}, 10000}),
      squares_(NumberField::Counted{tr("All squares"), QString(), {1, 0, 100}, 10000}),
      frameSide_(NumberField::Measured{
          tr("Side of the frame"), measure::Quantity::length, {0.05, 2, 0.5}, {0.1, 2, 1.6}, 5}),
      bareShare_(NumberField::Counted{tr("Bare share"), tr("%"), {5, 0, 50}, 100}) {
  for (NumberField* field : {&length_, &width_, &lengthPaces_, &widthPaces_, &squaresBare_,
                             &squares_, &frameSide_, &bareShare_}) {
    connect(field, &NumberField::changed, this, &MarkModel::refresh);
  }
  connect(&depths_, &DepthsModel::changed, this, &MarkModel::refresh);
  connect(whereabouts_, &Whereabouts::changed, this, [this] {
    if (!open_) return;
    refreshPlan();
    refresh();
  });
}

void MarkModel::setNote(const QString& note) {
  if (note_ == note) return;
  note_ = note;
  Q_EMIT noteChanged();
}

void MarkModel::begin(const std::string& patch) {
  open_ = true;
  patch_ = patch;
  near_.clear();
  kind_ = Show::NoKind;
  way_ = Tape;
  form_ = Oval;
  place_.reset();
  findPlace();
  if (const course::Patch* known = patch.empty() ? nullptr : store_->state().patch(patch)) {
    kind_ = Show::kindOf(known->kind);
    green_ = known->green;
  }
  for (NumberField* field :
       {&length_, &width_, &lengthPaces_, &widthPaces_, &squaresBare_, &bareShare_})
    field->set({});
  for (NumberField* field : {&length_, &width_, &frameSide_}) field->setUnits(store_->units());
  depths_.begin();
  squares_.set(100);
  frameSide_.set(0.5);
  setNote({});
  show_.trouble = {};
  refreshPlan();
  refresh();
}

void MarkModel::chooseKind(Show::Kind kind) {
  kind_ = kind;
  refresh();
}

void MarkModel::chooseWay(Way way) {
  way_ = way;
  refresh();
}

void MarkModel::chooseForm(Form form) {
  form_ = form;
  refresh();
}

void MarkModel::tapPlace(double east, double north, double doubt) {
  if (!walk_->coursePlan()) return;
  const geo::Position there = walk_->coursePlan()->plane.toGlobe(geo::LocalPoint{east, north});
  place_ = Place{there, doubt, Place::By::tapping};
  if (patch_.empty()) green_ = walk_->greenOf(place_);
  refreshPlan();
  refresh();
}

void MarkModel::usePlace(Place place) {
  place_ = std::move(place);
  if (patch_.empty()) green_ = walk_->greenOf(place_);
  refreshPlan();
  refresh();
}

void MarkModel::takeSame() {
  if (near_.empty()) return;
  patch_ = near_;
  if (const course::Patch* known = store_->state().patch(patch_)) green_ = known->green;
  refresh();
}

std::optional<measure::Measured> MarkModel::share() const {
  if (way_ == Frame || !bareShare_.known() || *bareShare_.value() >= 100.0) return {};
  return measure::Measured{*bareShare_.value() / 100.0, shareByEye_u};
}

std::optional<measure::Measured> MarkModel::area() const {
  const auto whole = outlineArea();
  const auto bare = share();
  return whole && bare ? *bare * *whole : whole;
}

std::optional<measure::Measured> MarkModel::outlineArea() const {
  if (way_ == Frame) {
    if (!squaresBare_.known() || squares_.value().value_or(0) < 1 || !frameSide_.known()) return {};
    const double side_m = *frameSide_.value();
    return geo::frameArea_m2(qRound(*squaresBare_.value()), qRound(*squares_.value()),
                             side_m * side_m, geo::defaultEdge_u_m);
  }
  const NumberField& along = way_ == Paces ? lengthPaces_ : length_;
  const NumberField& across = way_ == Paces ? widthPaces_ : width_;
  if (!along.known() || !across.known()) return {};
  if (way_ == Paces) {
    return geo::pacedArea_m2(tapeForm(form_), *along.value(), *across.value(), pace(),
                             geo::defaultEdge_u_m);
  }
  return geo::tapeArea_m2(tapeForm(form_), *length_.value(), *width_.value(), geo::defaultEdge_u_m);
}

measure::Measured MarkModel::pace() const {
  const TabletSettings& settings = store_->settings();
  if (settings.pace_m) return {*settings.pace_m, settings.pace_u_m};
  return {defaultPace_m, defaultPace_u_m};
}

/// What walking round a place of this size would give with the receiver as it is now:
/// the same computation as for a real walk, on fixes made for it.
std::optional<double> MarkModel::receiverDoubt_m2(double length_m, double width_m) const {
  const auto here = whereabouts_->current();
  if (!here || !here->accuracy_m || length_m <= 0 || width_m <= 0) return std::nullopt;
  const geo::LocalPlane plane(here->position);
  std::vector<geo::Fix> walk;
  geo::LocalPoint last;
  double at_s = 0.0;
  for (const geo::LocalPoint& point : geo::tapeRing(tapeForm(form_), length_m, width_m, 24)) {
    if (!walk.empty()) {
      // Slow steps round a small place: half a metre a second.
      at_s += std::hypot(point.east_m - last.east_m, point.north_m - last.north_m) / 0.5;
    }
    last = point;
    geo::Fix fix = *here;
    fix.position = plane.toGlobe(point);
    fix.time = here->time + std::chrono::milliseconds(std::llround(at_s * 1000));
    walk.push_back(fix);
  }
  const auto outline = geo::walkedOutline(walk, {});
  if (!outline) return std::nullopt;
  return outline->area_m2.u;
}

void MarkModel::refreshSame() {
  show_.same = {};
  show_.canBeSame = false;
  near_.clear();
  if (!patch_.empty() || kind_ == Show::NoKind) return;
  if (!place_ || place_->by == Place::By::green) {
    show_.same.weight = Show::Watch;
    show_.same.title = tr("No place yet.");
    show_.same.reason =
        place_ ? tr("Tap the place on the plan. Without it the sighting lies somewhere on %1.")
                     .arg(text(green_))
               : tr("Wait for a position: there is no green here to tap on.");
    return;
  }
  answers::SameQuestion question;
  question.position = place_->position;
  question.u_m = place_->accuracy_m;
  question.kind = turfKind(kind_);
  question.green = green_;
  if (const auto size = outlineArea())
    question.radius_m = std::sqrt(size->value / std::numbers::pi);
  const answers::SameAnswer same = store_->openPatches().find(question);
  show_.same.title = text(same.title);
  show_.same.reason = text(same.reason);
  if (same.candidates.empty()) return;
  near_ = same.candidates.front().patch;
  show_.canBeSame = true;
  show_.sameButton = tr("It is %1").arg(text(same.candidates.front().heading));
  show_.same.weight = Show::Watch;
}

/// A place that was tapped, taped or stood on stays; else it is where one stands now, else
/// somewhere on the green.
void MarkModel::findPlace() {
  if (place_ && place_->isKept()) return;
  place_ = walk_->place();
  if (patch_.empty()) green_ = walk_->greenOf(place_);
  if (!place_) place_ = somewhereOn(store_->state(), green_);
}

void MarkModel::refreshPlan() {
  findPlace();
  show_.hasPlan = walk_->coursePlan().has_value();
  if (!show_.hasPlan) return;
  PlanScene scene = walk_->plan()->scene();
  scene.track.clear();
  scene.seenReach_m.reset();
  scene.pin.reset();
  scene.outline.reset();
  if (scene.position) scene.position->label = scene.position->label.section(QLatin1Char(','), 0, 0);
  for (PlanPatch& patch : scene.patches) patch.chosen = patch.id == patch_;
  if (place_ && place_->by != Place::By::green) {
    const geo::LocalPoint at = walk_->coursePlan()->plane.toLocal(place_->position);
    const double reach_m = std::max(miniPlanReach_m, place_->accuracy_m.value_or(0) * 1.6);
    scene.low = {at.east_m - reach_m, at.north_m - reach_m};
    scene.high = {at.east_m + reach_m, at.north_m + reach_m};
    if (place_->isKept()) scene.pin = at;
  }
  plan_.set(std::move(scene), true);
}

void MarkModel::refresh() {
  const auto* progress = patch_.empty() ? nullptr : store_->patchProgress(patch_);
  const QString on = green_.empty() ? tr("the course") : text(green_);
  show_.title = progress != nullptr ? tr("Measure %1").arg(text(progress->heading))
                                    : tr("Mark on %1").arg(on);
  const QString kind = kind_ == Show::NoKind ? tr("Choose a kind") : kindTitle(turfKind(kind_));
  const QString what = progress != nullptr ? text(progress->heading) : tr("new");
  QString where = tr("no place yet");
  if (place_ && place_->by == Place::By::tapping) where = tr("where you tapped");
  if (place_ && place_->by == Place::By::standing) where = tr("where you stand");
  if (place_ && place_->by == Place::By::correcting) where = tr("where you stand, corrected");
  if (place_ && place_->by == Place::By::averaging) where = tr("where you stood");
  if (place_ && place_->by == Place::By::taping) where = tr("by tape from marks");
  show_.subject = kind_ == Show::NoKind ? kind : tr("%1, %2, %3").arg(kind, what, where);

  const auto size = area();
  show_.share = share() ? tr("%1 % bare").arg(bareShare_.figure()) : QString();
  show_.area =
      size ? WrittenText::from(measure::write(*size, measure::Quantity::area, store_->units()))
           : WrittenText{};
  const bool half = (way_ == Tape && length_.known() != width_.known()) ||
                    (way_ == Paces && lengthPaces_.known() != widthPaces_.known());
  show_.noArea = half ? ((way_ == Paces ? lengthPaces_ : length_).known()
                             ? tr("The area follows with the width.")
                             : tr("The area follows with the length."))
                      : tr("Not measured");
  show_.advice = {};
  if (way_ == Paces) {
    const bool found = store_->settings().pace_m.has_value();
    show_.advice.weight = found ? Show::Calm : Show::Watch;
    show_.advice.title =
        tr("Your pace: %1")
            .arg(WrittenText::from(
                     measure::write(pace(), measure::Quantity::length, store_->units()))
                     .text());
    show_.advice.reason = found ? tr("Found by walking between two marks.")
                                : tr("A usual one. Find yours: how placed, own pace.");
  }
  if (size && way_ == Tape && !share()) {
    const auto doubt_m2 = receiverDoubt_m2(*length_.value(), *width_.value());
    if (doubt_m2 && size->u && *doubt_m2 > *size->u) {
      show_.advice.weight = Show::Good;
      const WrittenText doubt = WrittenText::from(
          measure::write({size->value, doubt_m2}, measure::Quantity::area, store_->units()));
      show_.advice.title = tr("The tape fits.");
      show_.advice.reason = tr("The receiver alone would give %1 %2.").arg(doubt.doubt, doubt.unit);
    }
  }
  show_.depth = depths_.line(kind_);
  refreshSame();
  show_.canSave = kind_ != Show::NoKind && !half && (place_ || !patch_.empty());
  Q_EMIT changed();
}

void MarkModel::walkOutline() {
  if (kind_ != Show::NoKind) Q_EMIT outlineWanted();
}

void MarkModel::drawOutline() {
  if (kind_ != Show::NoKind) Q_EMIT drawingWanted();
}

course::Sighting MarkModel::sightingSoFar() const {
  course::Sighting sighting;
  sighting.patch = patch_;
  sighting.kind = turfKind(kind_);
  sighting.seen = store_->now();
  sighting.green = green_;
  if (const course::Patch* known = patch_.empty() ? nullptr : store_->state().patch(patch_)) {
    sighting.label = known->label;
  } else {
    sighting.patch = store_->newPatchId();
    sighting.label = store_->nextLabel(green_);
  }
  const course::Patch* again = store_->state().patch(sighting.patch);
  if (again != nullptr && (!place_ || place_->by == Place::By::green)) {
    // Another look at a known patch is at that patch, however well one knows where one is.
    sighting.point = mobile::placeOf(*again);
    sighting.accuracy_m = placeAccuracy_m(*again);
  } else if (place_) {
    sighting.point = place_->position;
    sighting.accuracy_m = place_->accuracy_m;
    sighting.tapes = place_->tapes;
    sighting.corrected = place_->corrected;
  }
  if (const auto bare = share()) {
    sighting.bareShare = bare->value;
    sighting.bareShare_u = bare->u;
  }
  sighting.depths_mm = depths_.readings_mm();
  sighting.source.note = note_.trimmed().toStdString();
  return sighting;
}

bool MarkModel::save() {
  if (!show_.canSave) return false;
  course::Sighting sighting = sightingSoFar();
  if (area()) {
    if (way_ == Frame) {
      const double side_m = *frameSide_.value();
      sighting.frame = course::FrameCount{qRound(*squaresBare_.value()), qRound(*squares_.value()),
                                          side_m * side_m};
    } else if (way_ == Paces) {
      const double length_paces = *lengthPaces_.value();
      const double width_paces = *widthPaces_.value();
      sighting.paces = course::PacedSize{length_paces, width_paces, pace()};
      sighting.tape = course::TapeSize{tapeForm(form_), length_paces * pace().value,
                                       width_paces * pace().value};
    } else {
      sighting.tape = course::TapeSize{tapeForm(form_), *length_.value(), *width_.value()};
    }
  }
  const auto record = store_->write([&](course::Recorder& recorder) {
    return recorder.walkedSighting(sighting, place_ ? place_->fixes : std::vector<geo::Fix>());
  });
  if (!record) {
    show_.trouble = adviceFrom(record.error());
    Q_EMIT changed();
    return false;
  }
  const auto* progress = store_->patchProgress(sighting.patch);
  walk_->savedNow(*record, progress != nullptr ? text(progress->heading) : text(sighting.label));
  back();
  return true;
}

void MarkModel::back() {
  open_ = false;
  Q_EMIT closed();
}

}  // namespace swardwalk::mobile
