#include "mobile/repairs/repair_form.h"

namespace swardwalk::mobile {

namespace {

/// Some of it, or nothing: 0 means that none was used.
std::optional<double> used(const NumberField& field) {
  if (!field.known() || *field.value() <= 0) return std::nullopt;
  return field.value();
}

std::optional<double> proposed(const std::optional<measure::Measured>& amount) {
  if (!amount) return std::nullopt;
  return amount->value;
}

template <class Material>
QStringList namesOf(const std::vector<Material>& materials) {
  QStringList names;
  for (const Material& material : materials) names << text(material.name);
  return names;
}

}  // namespace

RepairForm::RepairForm(Store& store, QObject* parent)
    : QObject(parent),
      store_(&store),
      fill_(NumberField::Measured{
          tr("Filled"), measure::Quantity::volume, {1, 1, 0}, {0.25, 2, 0}, 100000}),
      seed_(NumberField::Measured{
          tr("Sown"), measure::Quantity::seedMass, {1, 1, 0}, {0.05, 2, 0}, 100000}),
      turf_(NumberField::Measured{
          tr("Turfed"), measure::Quantity::area, {0.1, 2, 0}, {1, 1, 0}, 10000}),
      feed_(NumberField::Measured{
          tr("Fed"), measure::Quantity::seedMass, {1, 1, 0}, {0.05, 2, 0}, 100000}) {
  for (NumberField* field : {&fill_, &seed_, &turf_, &feed_}) {
    connect(field, &NumberField::changed, this, &RepairForm::refresh);
  }
}

void RepairForm::begin(const std::string& patch) {
  patch_ = patch;
  show_ = {};
  const course::CourseState& state = store_->state();
  show_.fills = namesOf(state.fills);
  show_.seedLots = namesOf(state.seedLots);
  show_.feeds = namesOf(state.feeds);
  show_.fill = show_.fills.value(0);
  show_.seedLot = show_.seedLots.value(0);
  show_.feed = show_.feeds.value(0);
  for (NumberField* field : {&fill_, &seed_, &turf_, &feed_}) {
    field->set({});
    field->setUnits(store_->units());
  }
  for (const answers::PlannedPatch& planned : store_->plan().patches) {
    if (planned.patch != patch_) continue;
    show_.planned = text(planned.choiceText);
    show_.reason = text(planned.reason);
    if (!planned.fill.empty()) show_.fill = text(planned.fill);
    if (!planned.seedLot.empty()) show_.seedLot = text(planned.seedLot);
    if (!planned.feed.empty()) show_.feed = text(planned.feed);
    fill_.set(proposed(planned.fill_l));
    seed_.set(proposed(planned.seed_g));
    turf_.set(proposed(planned.turf_m2));
    feed_.set(proposed(planned.feed_g));
  }
  if (const auto* progress = store_->patchProgress(patch_)) {
    show_.title = tr("Repair done on %1").arg(text(progress->heading));
    show_.look = SymbolLook::from(*progress);
  }
  refresh();
}

void RepairForm::toggleRakedBack() {
  show_.rakedBack = !show_.rakedBack;
  refresh();
}

void RepairForm::chooseFill(const QString& name) {
  show_.fill = name;
  refresh();
}

void RepairForm::chooseSeedLot(const QString& name) {
  show_.seedLot = name;
  refresh();
}

void RepairForm::chooseFeed(const QString& name) {
  show_.feed = name;
  refresh();
}

void RepairForm::refresh() {
  QStringList parts;
  if (show_.rakedBack) parts << tr("raked back");
  if (used(fill_))
    parts << tr("filled with %1 %2 of %3").arg(fill_.figure(), fill_.unit(), show_.fill);
  if (used(seed_))
    parts << tr("sown with %1 %2 of %3").arg(seed_.figure(), seed_.unit(), show_.seedLot);
  if (used(turf_)) parts << tr("turfed %1 %2").arg(turf_.figure(), turf_.unit());
  if (used(feed_))
    parts << tr("fed with %1 %2 of %3").arg(feed_.figure(), feed_.unit(), show_.feed);
  show_.canSave = !parts.isEmpty();
  show_.summary = parts.isEmpty() ? tr("Nothing entered yet") : parts.join(QStringLiteral(", "));
  show_.summary[0] = show_.summary[0].toUpper();
  Q_EMIT changed();
}

bool RepairForm::save() {
  course::Repair repair;
  repair.patch = patch_;
  repair.done = store_->now();
  repair.rakedBack = show_.rakedBack;
  if ((repair.fill_l = used(fill_))) repair.fill = show_.fill.toStdString();
  if ((repair.seed_g = used(seed_))) repair.seedLot = show_.seedLot.toStdString();
  if ((repair.feed_g = used(feed_))) repair.feed = show_.feed.toStdString();
  repair.turf_m2 = used(turf_);
  const auto record =
      store_->write([&](course::Recorder& recorder) { return recorder.repair(repair); });
  if (!record) {
    show_.trouble = adviceFrom(record.error());
    Q_EMIT changed();
    return false;
  }
  const auto* progress = store_->patchProgress(patch_);
  Q_EMIT saved(tr("Repair of %1 saved %2")
                   .arg(progress != nullptr ? text(progress->heading) : QString(),
                        text(store_->zone().clockTime(store_->now()))));
  back();
  return true;
}

void RepairForm::back() { Q_EMIT closed(); }

}  // namespace swardwalk::mobile
