#include "mobile/materials/materials_model.h"

#include "common/answers/plan_text.h"
#include "mobile/materials/material_words.h"

namespace swardwalk::mobile {

namespace {

using Row = MaterialsModel::Row;

Shelves::Shelf shownAs(course::Shelf shelf) {
  switch (shelf) {
    case course::Shelf::seedLot:
      return Shelves::SeedLot;
    case course::Shelf::feed:
      return Shelves::Feed;
    case course::Shelf::fill:
      return Shelves::Fill;
    case course::Shelf::turf:
      return Shelves::Turf;
  }
  return Shelves::SeedLot;
}

}  // namespace

QString leftWords(const answers::Stock& stock, course::Shelf shelf, const std::string& name,
                  measure::UnitSystem units) {
  const auto left = stock.left(shelf, name);
  if (!left) return MaterialsModel::tr("not counted");
  const measure::Measured amount{*left, std::nullopt};
  const measure::Written written =
      shelf == course::Shelf::turf
          ? measure::write(amount, measure::Quantity::area, units)
          : answers::writeAmount(amount,
                                 shelf == course::Shelf::fill ? answers::MaterialSort::fill
                                                              : answers::MaterialSort::seed,
                                 units);
  return MaterialsModel::tr("%1 left").arg(text(written.text()));
}

MaterialsModel::MaterialsModel(Store& store, QObject* parent)
    : QObject(parent),
      store_(&store),
      rows_({{"shelf", [](const Row& row) { return QVariant::fromValue(row.shelf); }},
             {"heading", [](const Row& row) { return row.heading; }},
             {"name", [](const Row& row) { return row.name; }},
             {"words", [](const Row& row) { return row.words; }},
             {"remaining", [](const Row& row) { return row.remaining; }}}) {}

void MaterialsModel::begin() {
  const course::CourseState& state = store_->state();
  const answers::Stock stock(state);
  std::vector<Row> rows;
  const auto addAll = [&](course::Shelf shelf, const QString& title, const QString& none,
                          const auto& materials) {
    rows.push_back({shownAs(shelf), true, title, materials.empty() ? none : QString(), {}});
    for (const auto& material : materials) {
      rows.push_back({shownAs(shelf), false, text(material.name),
                      wordsOf(material, store_->units()),
                      leftWords(stock, shelf, material.name, store_->units())});
    }
  };
  addAll(course::Shelf::seedLot, tr("Seed"), tr("None recorded: the plan sows nothing."),
         state.seedLots);
  addAll(course::Shelf::fill, tr("Sand and other fill"),
         tr("None recorded: the plan fills nothing."), state.fills);
  addAll(course::Shelf::feed, tr("Feed"), tr("None recorded: the plan feeds nothing."),
         state.feeds);
  addAll(course::Shelf::turf, tr("Turf"), tr("None recorded: the plan turfs nothing."),
         state.turfs);
  rows_.set(std::move(rows));
  QStringList notes;
  for (const std::string& note : stock.notes()) notes << text(note);
  notes_ = notes.join(QLatin1Char('\n'));
  Q_EMIT changed();
}

void MaterialsModel::correct(Shelves::Shelf shelf, const QString& name) {
  Q_EMIT formWanted(shelf, name);
}

void MaterialsModel::add(Shelves::Shelf shelf) { Q_EMIT formWanted(shelf, QString()); }

void MaterialsModel::back() { Q_EMIT closed(); }

}  // namespace swardwalk::mobile
