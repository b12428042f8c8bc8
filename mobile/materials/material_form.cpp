#include "mobile/materials/material_form.h"

#include <algorithm>
#include <cmath>

#include "common/turf/species.h"
#include "mobile/materials/material_words.h"

namespace swardwalk::mobile {

namespace {

using measure::Quantity;

NumberField::Counted percent(const QString& label, double start) {
  return {label, QStringLiteral("%"), {1, 1, start}, 100};
}

/// Shares of a blend that miss one by more than this are a slip.
constexpr double shareSlack = 0.005;

std::optional<double> share(const NumberField& field) {
  if (!field.value()) return std::nullopt;
  return *field.value() / 100.0;
}

std::optional<double> hundredfold(const std::optional<double>& share) {
  if (!share) return std::nullopt;
  return 100.0 * *share;
}

course::Shelf shelfOf(Shelves::Shelf shelf) { return static_cast<course::Shelf>(shelf); }

template <class Material>
const Material* named(const std::vector<Material>& materials, const std::string& name) {
  const auto found = std::find_if(materials.begin(), materials.end(),
                                  [&](const Material& one) { return one.name == name; });
  return found == materials.end() ? nullptr : &*found;
}

}  // namespace

MaterialForm::MaterialForm(Store& store, QObject* parent)
    : QObject(parent),
      store_(&store),
      purity_(percent(tr("Purity"), 95)),
      germination_(percent(tr("Germination"), 80)),
      seedsLow_(NumberField::Counted{tr("Seeds a gram, at least"), {}, {100, 0, 1000}, 100000}),
      seedsHigh_(NumberField::Counted{tr("Seeds a gram, at most"), {}, {100, 0, 1000}, 100000}),
      nitrogen_(percent(tr("Nitrogen, N"), 0)),
      phosphate_(percent(tr("Phosphate, P₂O₅"), 0)),
      potash_(percent(tr("Potash, K₂O"), 0)),
      labelRate_(NumberField::Measured{
          tr("Rate on the label"), Quantity::areaRate, {1, 1, 0}, {0.1, 2, 0}, 1000}),
      ceiling_(NumberField::Measured{
          tr("Never more than"), Quantity::areaRate, {1, 1, 0}, {0.1, 2, 0}, 1000}),
      soluble_(percent(tr("Of the nitrogen soluble at once"), 0)),
      density_(NumberField::Counted{
          tr("A litre, loose, weighs"), QStringLiteral("kg"), {0.05, 2, 1.45}, 10}),
      settles_(percent(tr("Settles by"), 0)),
      thickness_(
          NumberField::Measured{tr("Thickness"), Quantity::depth, {1, 0, 10}, {0.1, 2, 0}, 200}),
      piece_(NumberField::Measured{tr("A piece"), Quantity::area, {0.01, 3, 0}, {0.1, 2, 0}, 100}),
      stock_(NumberField::Measured{
          tr("In stock, counted now"), Quantity::fillMass, {0.1, 2, 0}, {0.1, 2, 0}, 1000000}),
      turfStock_(NumberField::Measured{
          tr("In stock, counted now"), Quantity::area, {0.1, 2, 0}, {1, 1, 0}, 100000}),
      grasses_({{"name", [](const Grass& row) { return QVariant(row.name); }},
                {"picked", [](const Grass& row) { return QVariant(row.picked); }},
                {"share", [](const Grass& row) { return QVariant::fromValue(row.share.get()); }}}) {
  for (NumberField* field : {&purity_, &germination_, &seedsLow_, &seedsHigh_, &nitrogen_,
                             &phosphate_, &potash_, &labelRate_, &ceiling_, &soluble_, &density_,
                             &settles_, &thickness_, &piece_, &stock_, &turfStock_}) {
    connect(field, &NumberField::changed, this, &MaterialForm::refresh);
  }
}

QVariantList MaterialForm::fields() const {
  const auto list = [](std::initializer_list<const NumberField*> fields) {
    QVariantList all;
    for (const NumberField* field : fields)
      all << QVariant::fromValue(const_cast<NumberField*>(field));
    return all;
  };
  switch (show_.shelf) {
    case Shelves::SeedLot:
      return list({&purity_, &germination_, &seedsLow_, &seedsHigh_, &stock_});
    case Shelves::Feed:
      return list({&nitrogen_, &phosphate_, &potash_, &labelRate_, &ceiling_, &soluble_, &stock_});
    case Shelves::Fill:
      return list({&density_, &settles_, &stock_});
    case Shelves::Turf:
      return list({&thickness_, &piece_, &turfStock_});
  }
  return {};
}

void MaterialForm::addGrass(const QString& name) {
  auto grasses = grasses_.rows();
  auto field = std::make_shared<NumberField>(percent(tr("%1, share").arg(name), 50));
  connect(field.get(), &NumberField::changed, this, &MaterialForm::refresh);
  grasses.push_back({name, false, std::move(field)});
  grasses_.set(std::move(grasses));
}

void MaterialForm::pickGrass(const std::string& name, double share) {
  const turf::Species* known = turf::findSpecies(name);
  const QString shown = text(known != nullptr ? known->name : std::string_view(name));
  const auto isIt = [&](const Grass& grass) { return grass.name == shown; };
  if (std::none_of(grasses_.rows().begin(), grasses_.rows().end(), isIt)) addGrass(shown);
  auto grasses = grasses_.rows();
  const auto grass = std::find_if(grasses.begin(), grasses.end(), isIt);
  grass->picked = true;
  grass->share->set(100.0 * share);
  grasses_.set(std::move(grasses));
}

NumberField* MaterialForm::shareOf(const QString& name) {
  for (const Grass& grass : grasses_.rows()) {
    if (grass.name == name) return grass.share.get();
  }
  return nullptr;
}

void MaterialForm::clear() {
  for (NumberField* field : {&purity_, &germination_, &seedsLow_, &seedsHigh_, &nitrogen_,
                             &phosphate_, &potash_, &labelRate_, &ceiling_, &soluble_, &density_,
                             &settles_, &thickness_, &piece_, &stock_, &turfStock_}) {
    field->set({});
    field->setUnits(store_->units());
  }
  grasses_.set({});
  for (const turf::Species& species : turf::allSpecies()) addGrass(text(species.name));
  sharesByNumber_ = false;
  stated_.reset();
  tested_.clear();
  packs_.clear();
  show_ = {};
}

void MaterialForm::fillFrom(const turf::SeedLot& lot) {
  for (const turf::BlendPart& part : lot.parts) pickGrass(part.species, part.share);
  sharesByNumber_ = lot.sharesByNumber;
  purity_.set(100.0 * lot.purity);
  germination_.set(100.0 * lot.germination);
  seedsLow_.set(lot.seedsPerGramLow);
  seedsHigh_.set(lot.seedsPerGramHigh);
  stated_ = lot.stock_kg;
  if (lot.tested) tested_ = text(measure::isoDate(*lot.tested));
  packs_ = writePacks(lot.packs);
  show_.bulk = lot.packs.bulk;
}

void MaterialForm::fillFrom(const turf::Feed& feed) {
  nitrogen_.set(feed.nitrogen_percent);
  phosphate_.set(feed.phosphate_percent);
  potash_.set(feed.potash_percent);
  labelRate_.set(feed.labelRate_g_m2);
  ceiling_.set(feed.ceiling_g_m2);
  soluble_.set(hundredfold(feed.solubleNitrogenShare));
  stated_ = feed.stock_kg;
  packs_ = writePacks(feed.packs);
  show_.bulk = feed.packs.bulk;
}

void MaterialForm::fillFrom(const turf::Fill& fill) {
  density_.set(fill.bulkDensity_kg_l);
  settles_.set(hundredfold(fill.settlesBy));
  stated_ = fill.stock_kg;
  packs_ = writePacks(fill.packs);
  show_.bulk = fill.packs.bulk;
}

void MaterialForm::fillFrom(const turf::Turf& turf) {
  pickGrass(turf.species, 1.0);
  thickness_.set(turf.thickness_mm);
  piece_.set(turf.piece_m2);
  stated_ = turf.stock_m2;
}

void MaterialForm::begin(Shelves::Shelf shelf, const QString& name) {
  clear();
  name_ = name;
  show_.shelf = shelf;
  show_.isNew = name.isEmpty();
  show_.title = name;
  const course::CourseState& state = store_->state();
  const std::string wanted = name.toStdString();
  switch (shelf) {
    case Shelves::SeedLot:
      if (show_.isNew) show_.title = tr("New seed lot");
      if (const auto* lot = named(state.seedLots, wanted)) fillFrom(*lot);
      break;
    case Shelves::Feed:
      if (show_.isNew) show_.title = tr("New feed");
      if (const auto* feed = named(state.feeds, wanted)) fillFrom(*feed);
      break;
    case Shelves::Fill:
      if (show_.isNew) show_.title = tr("New sand or fill");
      if (const auto* fill = named(state.fills, wanted)) fillFrom(*fill);
      break;
    case Shelves::Turf:
      if (show_.isNew) show_.title = tr("New turf");
      if (const auto* turf = named(state.turfs, wanted)) fillFrom(*turf);
      break;
  }
  if (!show_.isNew) {
    show_.left = leftWords(answers::Stock(state), shelfOf(shelf), wanted, store_->units());
  }
  Q_EMIT begun();
  refresh();
}

void MaterialForm::setName(const QString& name) {
  name_ = name;
  refresh();
}

void MaterialForm::setTested(const QString& tested) {
  tested_ = tested;
  refresh();
}

void MaterialForm::setPacks(const QString& packs) {
  packs_ = packs;
  refresh();
}

void MaterialForm::toggleGrass(const QString& name) {
  auto grasses = grasses_.rows();
  for (Grass& grass : grasses) {
    if (grass.name == name) {
      grass.picked = !grass.picked;
    } else if (show_.shelf == Shelves::Turf) {
      grass.picked = false;
    }
  }
  grasses_.set(std::move(grasses));
  refresh();
}

void MaterialForm::toggleBulk() {
  show_.bulk = !show_.bulk;
  refresh();
}

std::vector<const MaterialForm::Grass*> MaterialForm::picked() const {
  std::vector<const Grass*> picked;
  for (const Grass& grass : grasses_.rows()) {
    if (grass.picked) picked.push_back(&grass);
  }
  return picked;
}

bool MaterialForm::blend() const { return show_.shelf == Shelves::SeedLot && picked().size() > 1; }

QStringList MaterialForm::missing() const {
  QStringList missing;
  if (name_.trimmed().isEmpty()) missing << tr("the name");
  switch (show_.shelf) {
    case Shelves::SeedLot:
      if (picked().empty()) missing << tr("the grass");
      if (!purity_.known()) missing << tr("the purity");
      if (!germination_.known()) missing << tr("the germination");
      break;
    case Shelves::Fill:
      if (!density_.known()) missing << tr("what a litre weighs");
      break;
    case Shelves::Turf:
      if (picked().empty()) missing << tr("the grass");
      break;
    case Shelves::Feed:
      break;
  }
  return missing;
}

void MaterialForm::refresh() {
  const QStringList needed = missing();
  show_.missing =
      needed.isEmpty() ? QString() : tr("Still needed: %1").arg(needed.join(QStringLiteral(", ")));
  show_.trouble = {};
  Q_EMIT changed();
}

bool MaterialForm::isTaken() const {
  const course::CourseState& state = store_->state();
  const std::string name = name_.trimmed().toStdString();
  switch (show_.shelf) {
    case Shelves::SeedLot:
      return named(state.seedLots, name) != nullptr;
    case Shelves::Feed:
      return named(state.feeds, name) != nullptr;
    case Shelves::Fill:
      return named(state.fills, name) != nullptr;
    case Shelves::Turf:
      return named(state.turfs, name) != nullptr;
  }
  return false;
}

Result<void> MaterialForm::check() const {
  const auto wrong = [](const QString& what, const QString& todo) {
    return fail(FailureKind::invalid, {}, what.toStdString(), todo.toStdString());
  };
  if (show_.isNew && isTaken()) {
    return wrong(tr("%1 is in the list already").arg(name_.trimmed()),
                 tr("go back and open it to correct it, or give this one another name"));
  }
  if (!readPacks(packs_)) {
    return wrong(tr("the pack sizes cannot be read: %1").arg(packs_),
                 tr("write kilograms with spaces between them, as 0.25 1 10"));
  }
  if (show_.shelf == Shelves::SeedLot && !tested_.trimmed().isEmpty() &&
      !measure::parseDate(tested_.trimmed().toStdString())) {
    return wrong(tr("the day of the test cannot be read: %1").arg(tested_),
                 tr("write it as 2027-03-01, or leave it empty"));
  }
  if (seedsLow_.known() != seedsHigh_.known()) {
    return wrong(tr("of the seeds a gram one number is missing"),
                 tr("give both, the same twice where the label has one"));
  }
  if (show_.shelf == Shelves::Feed) {
    const int known = nitrogen_.known() + phosphate_.known() + potash_.known();
    if (known != 0 && known != 3) {
      return wrong(tr("part of the analysis is missing"),
                   tr("give all three from the bag, 0 where it has none"));
    }
  }
  if (blend()) {
    double sum = 0.0;
    for (const Grass* grass : picked()) sum += grass->share->value().value_or(0.0) / 100.0;
    if (std::abs(sum - 1.0) > shareSlack) {
      return wrong(tr("the shares of the grasses make %1 % together")
                       .arg(QString::number(100.0 * sum, 'g', 4)),
                   tr("copy the shares from the label: together they are 100 %"));
    }
  }
  return {};
}

MaterialForm::Counted MaterialForm::counted() const {
  const NumberField& field = show_.shelf == Shelves::Turf ? turfStock_ : stock_;
  if (field.known()) return {field.value(), store_->now()};
  if (show_.isNew) return {};
  const course::CourseState& state = store_->state();
  const std::string name = name_.toStdString();
  const course::Shelf shelf = shelfOf(show_.shelf);
  const auto count =
      std::find_if(state.stockCounts.begin(), state.stockCounts.end(),
                   [&](const auto& one) { return one.shelf == shelf && one.material == name; });
  if (count == state.stockCounts.end()) return {};
  if (count->counted) return {stated_, count->counted};
  // The old count has no time of its own, and a new record would move it: what was used
  // since would be there again.
  return {answers::Stock(state).left(shelf, name), store_->now()};
}

Result<journal::Record> MaterialForm::write() {
  const std::string name = name_.trimmed().toStdString();
  const auto [stock, when] = counted();
  const turf::Packs packs{readPacks(packs_).value_or(std::vector<double>{}), show_.bulk};
  return store_->write([&, stock = stock,
                        when = when](course::Recorder& recorder) -> Result<journal::Record> {
    switch (show_.shelf) {
      case Shelves::SeedLot: {
        turf::SeedLot lot;
        lot.name = name;
        const auto grasses = picked();
        for (const Grass* grass : grasses) {
          lot.parts.push_back({grass->name.toStdString(),
                               grasses.size() == 1 ? 1.0 : share(*grass->share).value_or(0.0)});
        }
        lot.sharesByNumber = sharesByNumber_;
        lot.purity = share(purity_).value_or(0.0);
        lot.germination = share(germination_).value_or(0.0);
        if (const auto day = measure::parseDate(tested_.trimmed().toStdString())) lot.tested = *day;
        lot.seedsPerGramLow = seedsLow_.value();
        lot.seedsPerGramHigh = seedsHigh_.value();
        lot.packs = packs;
        lot.stock_kg = stock;
        return recorder.seedLot(lot, when);
      }
      case Shelves::Feed:
        return recorder.feed({name, nitrogen_.value(), phosphate_.value(), potash_.value(),
                              labelRate_.value(), ceiling_.value(), share(soluble_), packs, stock},
                             when);
      case Shelves::Fill:
        return recorder.fill({name, density_.value().value_or(0.0), share(settles_), packs, stock},
                             when);
      case Shelves::Turf:
        return recorder.turf(
            {name, picked().front()->name.toStdString(), thickness_.value(), piece_.value(), stock},
            when);
    }
    return fail(FailureKind::invalid, {}, "no such material", {});
  });
}

bool MaterialForm::save() {
  if (!show_.missing.isEmpty()) return false;
  auto saved = check();
  if (saved) saved = write().map([](const journal::Record&) {});
  if (!saved) {
    show_.trouble = adviceFrom(saved.error());
    Q_EMIT changed();
    return false;
  }
  back();
  return true;
}

void MaterialForm::back() { Q_EMIT closed(); }

}  // namespace swardwalk::mobile
