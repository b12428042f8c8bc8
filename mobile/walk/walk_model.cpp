#include "mobile/walk/walk_model.h"

#include <algorithm>

#include "mobile/app/lengths.h"
#include "mobile/walk/bearings.h"

namespace swardwalk::mobile {

namespace {

std::vector<Rows<WalkModel::ThenRow>::Column> thenColumns() {
  using Row = WalkModel::ThenRow;
  return {{"look", [](const Row& row) { return QVariant::fromValue(row.look); }},
          {"title", [](const Row& row) { return row.title; }},
          {"away", [](const Row& row) { return row.away; }}};
}

std::vector<Rows<WalkModel::GreenRow>::Column> greenColumns() {
  using Row = WalkModel::GreenRow;
  return {{"name", [](const Row& row) { return row.name; }},
          {"line", [](const Row& row) { return row.line; }},
          {"current", [](const Row& row) { return row.current; }}};
}

bool isOpen(Store& store, const course::Patch& patch) {
  const auto* progress = store.patchProgress(patch.id);
  return progress == nullptr || progress->look != answers::Look::closed;
}

}  // namespace

WalkModel::WalkModel(Store& store, Whereabouts& whereabouts, QObject* parent)
    : QObject(parent),
      store_(&store),
      whereabouts_(&whereabouts),
      round_(store),
      then_(thenColumns()),
      greens_(greenColumns()) {
  if (round_.running()) green_ = round_.round()->green;
  connect(store_, &Store::changed, this, &WalkModel::rebuild);
  connect(whereabouts_, &Whereabouts::moved, this, &WalkModel::moved);
  connect(whereabouts_, &Whereabouts::changed, this, &WalkModel::refreshWalker);
  rebuild();
}

std::optional<Place> WalkModel::place() const {
  if (pin_) return pin_;
  const auto fix = whereabouts_->current();
  if (!fix) return std::nullopt;
  if (const auto better = whereabouts_->corrected()) {
    Place place{better->position, better->u_m, Place::By::correcting};
    place.corrected = better->reading;
    return place;
  }
  return Place{fix->position, fix->accuracy_m, Place::By::standing};
}

std::string WalkModel::greenOf(const std::optional<Place>& place) const {
  if (place) {
    std::string there = greenAt(store_->state(), place->position);
    if (!there.empty()) return there;
  }
  return green_;
}

void WalkModel::chooseGreen(const QString& name) {
  green_ = name.toStdString();
  chosen_.clear();
  pin_.reset();
  rebuild();
}

void WalkModel::choosePatch(const QString& id) {
  const std::string wanted = id.toStdString();
  chosen_ = chosen_ == wanted ? std::string() : wanted;
  rebuild();
}

void WalkModel::tapPlace(double east, double north, double doubt) {
  if (!coursePlan_) return;
  pin_ = Place{coursePlan_->plane.toGlobe(geo::LocalPoint{east, north}), doubt, Place::By::tapping};
  chosen_.clear();
  rebuild();
}

void WalkModel::forgetPin() {
  pin_.reset();
  rebuild();
}

void WalkModel::startRound() {
  const auto started = round_.start(green_);
  if (!started) {
    show_.saved = text(started.error().text());
    show_.savedWeight = Show::Stop;
  }
  if (const auto fix = whereabouts_->current()) round_.walkedTo(fix->position);
  rebuild();
}

void WalkModel::finishRound() {
  const QString green = text(round_.round()->green);
  const auto record = round_.finish();
  if (record) {
    savedNow(*record, tr("Round of %1").arg(green));
  } else {
    show_.saved = text(record.error().text());
    show_.savedWeight = Show::Stop;
  }
  rebuild();
}

void WalkModel::savedNow(const journal::Record& record, const QString& what) {
  undoable_ = record.digest;
  undoWords_ = what;
  show_.saved = tr("%1 saved %2").arg(what, text(store_->zone().clockTime(store_->now())));
  show_.savedWeight = Show::Calm;
  show_.canUndo = true;
  show_.canPhoto = record.content.type == "sighting";
  savedPatch_ = record.content.subject;
  chosen_.clear();
  pin_.reset();
  rebuild();
}

void WalkModel::undo() {
  if (!undoable_) return;
  const journal::Digest digest = *undoable_;
  const auto record = store_->write(
      [&](course::Recorder& recorder) { return recorder.withdraw(digest, "taken back at once"); });
  if (record) {
    undoable_.reset();
    show_.saved = tr("%1 taken back").arg(undoWords_);
    show_.savedWeight = Show::Calm;
    show_.canUndo = false;
    show_.canPhoto = false;
  } else {
    show_.saved = text(record.error().text());
    show_.savedWeight = Show::Stop;
  }
  rebuild();
}

void WalkModel::mark() { Q_EMIT markWanted({}); }

void WalkModel::measureNear() {
  if (near_.there) Q_EMIT markWanted(text(near_.id));
}

void WalkModel::resumeDraft() { Q_EMIT draftWanted(); }

void WalkModel::walkGreen() { Q_EMIT greenWalkWanted(); }

void WalkModel::countFrames() { Q_EMIT framesWanted(); }

void WalkModel::openShed() { Q_EMIT shedWanted(); }

void WalkModel::setDraft(const QString& words) {
  show_.draft = words;
  Q_EMIT changed();
}

void WalkModel::moved(const geo::Fix& fix) {
  const bool usable = !fix.accuracy_m || *fix.accuracy_m <= Whereabouts::poor_m;
  if (round_.running() && usable) {
    round_.walkedTo(fix.position);
    takeTrack();
  } else if (!round_.running() && !pin_) {
    // Whoever walks over to another green wants to see that one.
    const std::string there = greenAt(store_->state(), fix.position);
    if (!there.empty() && there != green_) chooseGreen(text(there));
  }
}

void WalkModel::takeTrack() {
  if (!coursePlan_ || !round_.running()) return;
  const geo::GlobeRing& track = round_.round()->track;
  while (track_.size() < track.size()) {
    const geo::LocalPoint next = coursePlan_->plane.toLocal(track[track_.size()]);
    seenGrass_.walk(track_.empty() ? next : track_.back(), next);
    track_.push_back(next);
  }
}

void WalkModel::rebuild() {
  const course::CourseState& state = store_->state();
  const bool another = !coursePlan_ || !show_.hasGreen || show_.green != text(green_);
  if (state.green(green_) == nullptr) {
    green_ = state.greens.empty() ? std::string() : state.greens.front().name;
  }
  coursePlan_ = planOf(*store_, green_);
  track_.clear();
  seenGrass_ = SeenGrass();
  if (coursePlan_ && round_.running()) {
    const PlanScene& scene = coursePlan_->scene;
    seenGrass_ = SeenGrass(scene.greens[static_cast<std::size_t>(scene.ownGreen)].shape);
    takeTrack();
  }
  refreshRail();
  if (coursePlan_) {
    PlanScene scene = coursePlan_->scene;
    for (PlanPatch& patch : scene.patches) patch.chosen = patch.id == chosen_;
    if (round_.running()) scene.seenReach_m = SeenGrass::reach_m;
    if (pin_) scene.pin = coursePlan_->plane.toLocal(pin_->position);
    plan_.set(std::move(scene), another);
  }
  refreshWalker();

  std::vector<GreenRow> greens;
  for (const course::Green& green : state.greens) {
    GreenRow row;
    row.name = text(green.name);
    row.current = green.name == green_;
    if (const auto* progress = store_->greenProgress(green.name)) {
      row.line = text(progress->openText);
    }
    greens.push_back(std::move(row));
  }
  greens_.set(std::move(greens));
}

void WalkModel::refreshWalker() {
  if (coursePlan_) {
    std::optional<PlanPosition> position;
    if (const auto& fix = whereabouts_->last()) {
      position.emplace();
      position->place = coursePlan_->plane.toLocal(fix->position);
      position->accuracy_m = fix->accuracy_m;
      position->label = whereabouts_->line();
      // A heading of somebody who stands still is the receiver's noise.
      if (fix->speed_m_s.value_or(0) > 0.3) position->heading_deg = fix->heading_deg;
    }
    plan_.setWalker(std::move(position), track_);
  }
  refreshRail();
  Q_EMIT changed();
}

bool WalkModel::seenThisRound(const course::Patch& patch) const {
  const measure::Instant since =
      round_.running()
          ? round_.round()->started
          : measure::Instant(store_->zone().endOf(store_->today() - std::chrono::days(1)));
  const auto after = [&](measure::Instant when) { return when >= since; };
  return std::any_of(patch.sightings.begin(), patch.sightings.end(),
                     [&](const auto& one) { return after(one.seen); }) ||
         std::any_of(patch.closed.begin(), patch.closed.end(),
                     [&](const auto& one) { return after(one.seen); }) ||
         std::any_of(patch.cameUp.begin(), patch.cameUp.end(),
                     [&](const auto& one) { return after(one.seen); });
}

NearPatch WalkModel::nearOf(const course::Patch& patch) const {
  NearPatch near;
  near.there = true;
  near.id = patch.id;
  if (const auto* progress = store_->patchProgress(patch.id)) {
    near.look = SymbolLook::from(*progress);
    near.title = tr("%1, %2").arg(text(progress->heading), kindWord(progress->kind));
    near.answer = text(progress->brief);
    near.weight = Show::weightOf(progress->weight);
    near.area = WrittenText::from(progress->area);
    near.seen = tr("on %1").arg(text(progress->seenText));
  }
  const auto fix = whereabouts_->current();
  const auto there = placeOf(patch);
  if (fix && there) {
    const Bearing way = bearing(fix->position, *there);
    near.distance = distanceText(way.distance_m, store_->units());
    near.compass = way.compass();
    near.bearing = way.from_north_deg;
    near.maybeSame =
        fix->accuracy_m && mayBeSamePlace(way.distance_m, *fix->accuracy_m, placeAccuracy_m(patch));
  }
  return near;
}

void WalkModel::refreshRail() {
  const course::CourseState& state = store_->state();
  show_.hasGreen = coursePlan_.has_value();
  show_.green = text(green_);
  show_.running = round_.running();
  show_.severalGreens = state.greens.size() > 1;
  show_.rain = rainSinceLastRound();
  show_.pin = pin_ ? tr("Mark takes the place that you tapped.") : QString();

  const auto fix = whereabouts_->current();
  std::vector<std::pair<double, const course::Patch*>> left;
  std::uint64_t all = 0;
  for (const course::Patch& patch : state.patches) {
    if (patch.green != green_ || !isOpen(*store_, patch)) continue;
    ++all;
    if (seenThisRound(patch)) continue;
    double order = 0.0;
    const auto there = placeOf(patch);
    if (fix && there) {
      order = bearing(fix->position, *there).distance_m;
    } else if (const auto* progress = store_->patchProgress(patch.id)) {
      order = progress->late ? 0.0 : 1.0;
    }
    left.emplace_back(order, &patch);
  }
  std::stable_sort(left.begin(), left.end(),
                   [](const auto& a, const auto& b) { return a.first < b.first; });

  const std::uint64_t done = all - left.size();
  show_.seen = round_.running() ? seenGrass_.share() : 0.0;
  if (round_.running()) {
    show_.round = tr("%1 % seen, %2 of %3")
                      .arg(qRound(show_.seen * 100))
                      .arg(done)
                      .arg(counted(all, "patch", "patches"));
  } else {
    show_.round = tr("%1 of %2 seen today").arg(done).arg(counted(all, "patch", "patches"));
    show_.seen = all == 0 ? 0.0 : static_cast<double>(done) / static_cast<double>(all);
  }

  near_ = NearPatch{};
  if (const course::Patch* chosen = chosen_.empty() ? nullptr : state.patch(chosen_)) {
    near_ = nearOf(*chosen);
    near_.why = tr("Chosen on the plan");
  } else if (!left.empty()) {
    near_ = nearOf(*left.front().second);
    near_.why = fix ? tr("Nearest not yet seen") : tr("Not yet seen");
    left.erase(left.begin());
  }
  std::vector<ThenRow> then;
  for (const auto& [order, patch] : left) {
    if (then.size() == 2) break;
    const NearPatch next = nearOf(*patch);
    then.push_back(
        {next.look, next.title,
         next.distance.isEmpty() ? next.seen : tr("%1 %2").arg(next.distance, next.compass)});
  }
  then_.set(std::move(then));
}

QString WalkModel::rainSinceLastRound() const {
  const course::CourseState& state = store_->state();
  std::optional<measure::Instant> last;
  for (const course::Round& round : state.rounds) {
    if (round.green != green_) continue;
    if (!last || round.started > *last) last = round.started;
  }
  if (!last) return tr("No round walked yet");
  double rain_mm = 0.0;
  for (const course::Water& rain : state.rain) {
    if (rain.to > *last) rain_mm += rain.amount_mm;
  }
  if (rain_mm <= 0) return tr("No rain since the last round");
  return tr("%1 rain since the last round")
      .arg(text(measure::write({rain_mm, std::nullopt}, measure::Quantity::rain, store_->units())
                    .text()));
}

}  // namespace swardwalk::mobile
