#include "mobile/walk/place_model.h"

#include <algorithm>

#include "mobile/app/lengths.h"
#include "mobile/walk/bearings.h"

namespace swardwalk::mobile {

PlaceModel::PlaceModel(Store& store, Whereabouts& whereabouts, MarkModel& mark, QObject* parent)
    : QObject(parent),
      store_(&store),
      whereabouts_(&whereabouts),
      mark_(&mark),
      tape_(NumberField::Measured{
          tr("Tape"), measure::Quantity::length, {0.01, 2, 10}, {0.1, 2, 33}, 200}),
      paces_(NumberField::Counted{tr("Paces"), tr("paces"), {0.5, 1, 20}, 400}),
      marks_({{"name", [](const MarkRow& row) { return QVariant(row.name); }},
              {"line", [](const MarkRow& row) { return QVariant(row.line); }},
              {"reading", [](const MarkRow& row) { return QVariant(row.reading); }},
              {"chosen", [](const MarkRow& row) { return QVariant(row.chosen); }}}) {
  connect(whereabouts_, &Whereabouts::moved, this, &PlaceModel::take);
  connect(&tape_, &NumberField::changed, this, [this] {
    if (!open_ || way_ != Tapes || chosen_.empty()) return;
    if (tape_.known() && *tape_.value() > 0.0) {
      readings_m_[chosen_.back()] = *tape_.value();
    } else {
      readings_m_.erase(chosen_.back());
    }
    side_ = -1;
    refresh();
  });
  connect(&paces_, &NumberField::changed, this, [this] {
    if (open_) refresh();
  });
}

void PlaceModel::begin() {
  open_ = true;
  readings_m_.clear();
  side_ = -1;
  markName_.clear();
  tape_.setUnits(store_->units());
  chooseWay(Stand);
}

void PlaceModel::chooseWay(Way way) {
  way_ = way;
  chosen_.clear();
  fixes_.clear();
  trouble_ = {};
  paces_.set({});
  if (const auto here = whereabouts_->current()) fixes_.push_back(*here);
  refresh();
}

void PlaceModel::setMarkName(const QString& name) {
  markName_ = name.trimmed();
  refresh();
}

void PlaceModel::take(const geo::Fix& fix) {
  if (!open_) return;
  fixes_.push_back(fix);
  refresh();
}

const course::Mark* PlaceModel::markNamed(const std::string& name) const {
  for (const course::Mark& mark : store_->state().marks) {
    if (mark.name == name) return &mark;
  }
  return nullptr;
}

void PlaceModel::chooseMark(const QString& name) {
  const std::string mark = name.toStdString();
  trouble_ = {};
  if (way_ == OwnPace) {
    // From one to the other: a third begins anew.
    if (chosen_.size() > 1) chosen_.clear();
    std::erase(chosen_, mark);
    chosen_.push_back(mark);
  } else {
    chosen_ = {mark};
    // Whoever names the mark stands on it now, and not where the fixes before were taken.
    if (way_ == Correct || way_ == NewMark) fixes_.clear();
    if (way_ == NewMark) markName_ = name;
  }
  if (way_ == Tapes) {
    const auto reading = readings_m_.find(mark);
    tape_.set(reading == readings_m_.end() ? std::nullopt : std::optional(reading->second));
  }
  refresh();
}

void PlaceModel::chooseSide(int side) {
  side_ = side;
  refresh();
}

void PlaceModel::refreshMarks() {
  std::vector<MarkRow> rows;
  const auto here = whereabouts_->last();
  for (const course::Mark& mark : store_->state().marks) {
    MarkRow row;
    row.name = text(mark.name);
    row.line = doubtText(mark.accuracy_m.value_or(geo::defaultMark_u_m), store_->units());
    if (here) {
      row.line += tr(", %1 away")
                      .arg(distanceText(bearing(here->position, mark.position).distance_m,
                                        store_->units()));
    }
    const auto reading = readings_m_.find(mark.name);
    if (way_ == Tapes && reading != readings_m_.end())
      row.reading = lengthText(reading->second, 2, store_->units());
    row.chosen = std::find(chosen_.begin(), chosen_.end(), mark.name) != chosen_.end();
    rows.push_back(std::move(row));
  }
  marks_.set(std::move(rows));
}

void PlaceModel::refresh() {
  show_ = {};
  show_.side = side_;
  if (store_->state().marks.empty() && way_ != Stand && way_ != NewMark)
    show_.empty =
        tr("No mark is recorded yet. Stand on a sprinkler head or a drain lid, and "
           "record it under New mark.");
  switch (way_) {
    case Stand:
      showStanding();
      break;
    case Tapes:
      showTapes();
      break;
    case Correct:
      showCorrection();
      break;
    case NewMark:
      showNewMark();
      break;
    case OwnPace:
      showPace();
      break;
  }
  if (!trouble_.title.isEmpty()) show_.advice = trouble_;
  refreshMarks();
  Q_EMIT changed();
}

bool PlaceModel::act() {
  if (!show_.canAct) return false;
  bool done = false;
  switch (way_) {
    case Stand:
      done = takeStanding();
      break;
    case Tapes:
      done = takeTapes();
      break;
    case Correct:
      done = takeCorrection();
      break;
    case NewMark:
      done = takeNewMark();
      break;
    case OwnPace:
      done = takePace();
      break;
  }
  if (done) {
    finish();
  } else {
    refresh();
  }
  return done;
}

void PlaceModel::finish() {
  open_ = false;
  Q_EMIT closed();
}

void PlaceModel::back() { finish(); }

}  // namespace swardwalk::mobile
