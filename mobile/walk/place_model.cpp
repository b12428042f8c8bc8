#include "mobile/walk/place_model.h"

#include <algorithm>
#include <cmath>

#include "common/geo/standing.h"
#include "mobile/walk/bearings.h"

namespace swardwalk::mobile {

namespace {

/// As many as a person measures; more only get in the way.
constexpr std::size_t mostTapes = 6;

AdviceText watch(const QString& title, const QString& reason) {
  AdviceText advice;
  advice.weight = Show::Watch;
  advice.title = title;
  advice.reason = reason;
  return advice;
}

QString sentence(const std::string& words) {
  QString line = text(words);
  if (!line.isEmpty()) line[0] = line[0].toUpper();
  return line;
}

}  // namespace

PlaceModel::PlaceModel(Store& store, Whereabouts& whereabouts, MarkModel& mark, QObject* parent)
    : QObject(parent),
      store_(&store),
      whereabouts_(&whereabouts),
      mark_(&mark),
      tape_({tr("Tape"), QStringLiteral("m"), 0.01, 2, 10, 200}),
      paces_({tr("Paces"), tr("paces"), 0.5, 1, 20, 400}),
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
    row.line =
        WrittenText::from(measure::write({0.0, mark.accuracy_m.value_or(geo::defaultMark_u_m)},
                                         measure::Quantity::length, measure::UnitSystem::metric))
            .doubt +
        QStringLiteral(" m");
    if (here)
      row.line += tr(", %1 away").arg(bearing(here->position, mark.position).distanceText());
    const auto reading = readings_m_.find(mark.name);
    if (way_ == Tapes && reading != readings_m_.end())
      row.reading = QStringLiteral("%1 m").arg(QString::number(reading->second, 'f', 2));
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
  show_.answer = tr("± %1 m").arg(QString::number(place->u_m, 'f', 2));
  show_.second = tr("%1 fixes in %2, the receiver alone ± %3 m")
                     .arg(place->used)
                     .arg(spanWords(std::chrono::seconds(std::lround(place->lasted_s))))
                     .arg(QString::number(place->bare_m, 'f', 2));
  show_.advice.title = tr("It gets better slowly");
  show_.advice.reason =
      tr("A receiver's error lasts for minutes, so sixty fixes a second apart are not sixty "
         "measurements. Two tapes from marks are far better.");
  show_.canAct = true;
}

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
  show_.answer = tr("± %1 m").arg(QString::number(place.doubt.u_m(), 'f', 2));
  show_.second =
      place.spareReadings > 0
          ? tr("The tapes agree to %1 m.").arg(QString::number(place.worstMiss_m, 'f', 2))
          : tr("Two tapes can't check each other; a third would.");
  show_.canAct = readings_m_.size() <= mostTapes;
}

void PlaceModel::showCorrection() {
  show_.subject = tr("Stand still on a mark for half a minute");
  show_.action = tr("Take the error off");
  if (const auto held = whereabouts_->corrected()) {
    show_.second = tr("Corrected on %1: ± %2 m now")
                       .arg(text(held->reading.mark), QString::number(held->u_m, 'f', 2));
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
      tr("Off by %1 m")
          .arg(QString::number(std::hypot(correction->found().east_m, correction->found().north_m),
                               'f', 1));
  if (now) {
    show_.second = tr("± %1 m just now, instead of ± %2 m; it grows within minutes")
                       .arg(QString::number(now->u_m, 'f', 2),
                            QString::number(
                                fixes_.back().accuracy_m.value_or(geo::assumedAccuracy_m), 'f', 2));
  }
  show_.canAct = true;
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
  show_.answer = tr("± %1 m").arg(QString::number(mark.accuracy_m.value_or(0.0), 'f', 2));
  show_.second = counted(mark.visits.size(), "visit", "visits");
  show_.advice.title = tr("Visits on other days make it better");
  show_.advice.reason = tr("A mark from a plan or a survey is better still: import it.");
  show_.canAct = !markName_.isEmpty();
}

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
    show_.second = tr("Kept: %1 m a pace").arg(QString::number(*settings.pace_m, 'f', 2));
  double u_m = 0.0;
  const auto length_m = betweenMarks_m(u_m);
  if (!length_m) {
    show_.answer = tr("Choose two marks");
    return;
  }
  show_.second = tr("%1 between them").arg(Bearing{*length_m, 0}.distanceText());
  if (!paces_.known() || *paces_.value() < 5.0) {
    show_.answer = tr("Five paces or more");
    return;
  }
  const geo::PaceWalk walk{*length_m, u_m, *paces_.value()};
  const measure::Measured pace_m = geo::paceOf_m({&walk, 1});
  show_.answer = tr("%1 ± %2 m a pace")
                     .arg(QString::number(pace_m.value, 'f', 2),
                          QString::number(pace_m.u.value_or(0.0), 'f', 2));
  show_.canAct = pace_m.value > 0.3 && pace_m.value < 1.5;
  if (!show_.canAct)
    show_.advice =
        watch(tr("Nobody paces so"), tr("Count again, and see that these are the marks."));
}

bool PlaceModel::act() {
  if (!show_.canAct) return false;
  if (way_ == Stand) {
    const auto standing = geo::averagedStanding(fixes_);
    if (!standing) return false;
    Place place{standing->position, standing->u_m, Place::By::averaging};
    place.fixes = fixes_;
    mark_->usePlace(std::move(place));
  } else if (way_ == Tapes) {
    if (!taped_ || side_ < 0) return false;
    const geo::TapePlace& found = taped_->places[static_cast<std::size_t>(side_)];
    Place place{taped_->plane.toGlobe(found.place), found.doubt.u_m(), Place::By::taping};
    for (const auto& [mark, distance_m] : readings_m_) place.tapes.push_back({mark, distance_m});
    mark_->usePlace(std::move(place));
  } else if (way_ == Correct) {
    const course::Mark* mark = markNamed(chosen_.front());
    if (mark == nullptr) return false;
    const auto correction = geo::ReceiverCorrection::onMark(
        mark->position, mark->accuracy_m.value_or(geo::defaultMark_u_m), fixes_);
    if (!correction) return false;
    whereabouts_->correctBy(*correction, mark->name);
  } else if (way_ == NewMark) {
    const course::Mark mark = markStoodOn();
    const auto record =
        store_->write([&](course::Recorder& recorder) { return recorder.mark(mark, fixes_); });
    if (!record) {
      trouble_ = adviceFrom(record.error());
      refresh();
      return false;
    }
  } else {
    double u_m = 0.0;
    const auto length_m = betweenMarks_m(u_m);
    if (!length_m) return false;
    const geo::PaceWalk walk{*length_m, u_m, *paces_.value()};
    const measure::Measured pace_m = geo::paceOf_m({&walk, 1});
    store_->settings().pace_m = pace_m.value;
    store_->settings().pace_u_m = pace_m.u.value_or(0.0);
    store_->settings().save();
  }
  finish();
  return true;
}

void PlaceModel::finish() {
  open_ = false;
  Q_EMIT closed();
}

void PlaceModel::back() { finish(); }

}  // namespace swardwalk::mobile
