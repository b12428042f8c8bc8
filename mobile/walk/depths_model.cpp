#include "mobile/walk/depths_model.h"

#include "common/answers/materials.h"
#include "common/answers/settings.h"
#include "mobile/walk/kinds.h"

namespace swardwalk::mobile {

DepthsModel::DepthsModel(Store& store, QObject* parent)
    : QObject(parent),
      store_(&store),
      reading_(NumberField::Measured{
          tr("Depth"), measure::Quantity::depth, {5, 0, 0}, {0.25, 2, 0}, 1000}),
      rows_({{"title", [](const Row& row) { return QVariant(row.title); }},
             {"figure", [](const Row& row) { return QVariant(row.figure); }}}) {
  connect(&reading_, &NumberField::changed, this, &DepthsModel::changed);
}

void DepthsModel::begin() {
  readings_mm_.clear();
  reading_.set({});
  reading_.setUnits(store_->units());
  kind_ = Show::NoKind;
  refresh();
}

void DepthsModel::add() {
  if (!canAdd()) return;
  readings_mm_.push_back(*reading_.value());
  reading_.set({});
  refresh();
}

void DepthsModel::back() {
  add();
  Q_EMIT closed();
}

void DepthsModel::takeOut(int row) {
  if (row < 0 || row >= count()) return;
  readings_mm_.erase(readings_mm_.begin() + row);
  refresh();
}

QString DepthsModel::line(Show::Kind kind) {
  // What several readings come to hangs on the kind: a bowl is told by its deepest.
  if (kind_ != kind) {
    kind_ = kind;
    refresh();
  }
  return readings_mm_.empty() ? QString() : tr("Depth %1").arg(answer_);
}

void DepthsModel::refresh() {
  std::vector<Row> rows;
  for (std::size_t i = 0; i < readings_mm_.size(); ++i) {
    const measure::Measured reading_mm{readings_mm_[i], std::nullopt};
    rows.push_back(
        {tr("Reading %1").arg(i + 1),
         text(measure::write(reading_mm, measure::Quantity::depth, store_->units()).text())});
  }
  rows_.set(std::move(rows));
  if (readings_mm_.empty()) {
    answer_ = tr("No depth yet");
    second_ = tr("Read it at several places along a channel.");
  } else {
    const answers::Settings settings(store_->state().course.settings);
    const turf::Kind kind = kind_ == Show::NoKind ? turf::Kind::bare : turfKind(kind_);
    const measure::Measured depth_mm =
        answers::depthOf_mm(kind, readings_mm_, settings["depth_u_mm"]);
    answer_ = text(measure::write(depth_mm, measure::Quantity::depth, store_->units()).text());
    second_ = kind == turf::Kind::dug
                  ? tr("The deepest of %1 counts.")
                        .arg(counted(rows_.rows().size(), "reading", "readings"))
                  : tr("The mean of %1.").arg(counted(rows_.rows().size(), "reading", "readings"));
  }
  Q_EMIT changed();
}

}  // namespace swardwalk::mobile
