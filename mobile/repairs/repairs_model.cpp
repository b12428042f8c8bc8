#include "mobile/repairs/repairs_model.h"

#include <algorithm>
#include <map>

#include "common/answers/sentences.h"

namespace swardwalk::mobile {

namespace {

using Row = RepairsModel::Row;
using AmountRow = RepairsModel::AmountRow;

std::vector<Rows<Row>::Column> rowColumns() {
  return {{"sort", [](const Row& row) { return QVariant::fromValue(row.sort); }},
          {"id", [](const Row& row) { return row.id; }},
          {"title", [](const Row& row) { return row.title; }},
          {"choice", [](const Row& row) { return row.choice; }},
          {"second", [](const Row& row) { return row.second; }},
          {"look", [](const Row& row) { return QVariant::fromValue(row.look); }},
          {"fill", [](const Row& row) { return QVariant::fromValue(row.fill); }},
          {"turf", [](const Row& row) { return QVariant::fromValue(row.turf); }},
          {"seed", [](const Row& row) { return QVariant::fromValue(row.seed); }},
          {"feed", [](const Row& row) { return QVariant::fromValue(row.feed); }},
          {"chosen", [](const Row& row) { return row.chosen; }}};
}

std::vector<Rows<AmountRow>::Column> amountColumns() {
  return {{"material", [](const AmountRow& row) { return row.material; }},
          {"amount", [](const AmountRow& row) { return QVariant::fromValue(row.amount); }}};
}

/// The unit with what it is of: "kg sand", "g seed".
WrittenText of(const measure::Written& written, const char* what) {
  WrittenText amount = WrittenText::from(written);
  if (!amount.figure.isEmpty()) amount.unit += QLatin1Char(' ') + QString::fromUtf8(what);
  return amount;
}

WrittenText amountDone(const std::optional<double>& amount, const char* unit) {
  if (!amount) return {};
  const measure::Written plain = measure::write(
      {*amount, std::nullopt}, measure::Quantity::seedMass, measure::UnitSystem::metric);
  return {text(plain.figure), {}, QString::fromUtf8(unit)};
}

/// "sand" for a fill that is called so, else its own name.
QString shortName(const std::string& material) {
  const QString name = text(material);
  return name.contains(QStringLiteral("sand"), Qt::CaseInsensitive) ? QStringLiteral("sand") : name;
}

}  // namespace

bool isWork(repair::Choice choice) {
  return choice != repair::Choice::leave && choice != repair::Choice::lookAgain;
}

course::Repair repairAsPlanned(const answers::PlannedPatch& planned, measure::Instant done) {
  course::Repair repair;
  repair.patch = planned.patch;
  repair.done = done;
  if (planned.fill_l) {
    repair.fill = planned.fill;
    repair.fill_l = planned.fill_l->value;
  }
  if (planned.seed_g) {
    repair.seedLot = planned.seedLot;
    repair.seed_g = planned.seed_g->value;
  }
  if (planned.feed_g) {
    repair.feed = planned.feed;
    repair.feed_g = planned.feed_g->value;
  }
  if (planned.turf_m2) repair.turf_m2 = planned.turf_m2->value;
  return repair;
}

RepairsModel::RepairsModel(Store& store, QObject* parent)
    : QObject(parent),
      store_(&store),
      rows_(rowColumns()),
      totals_({{"material", [](const TotalRow& row) { return row.material; }},
               {"amount", [](const TotalRow& row) { return QVariant::fromValue(row.amount); }},
               {"order", [](const TotalRow& row) { return row.order; }}}),
      loads_({{"title", [](const LoadRow& row) { return row.title; }},
              {"weight", [](const LoadRow& row) { return QVariant::fromValue(row.weight); }},
              {"labels", [](const LoadRow& row) { return row.labels; }}}),
      hunger_({{"title", [](const HungerRow& row) { return row.title; }},
               {"balance", [](const HungerRow& row) { return row.balance; }},
               {"warning", [](const HungerRow& row) { return row.warning; }},
               {"advice", [](const HungerRow& row) { return row.advice; }}}),
      amounts_(amountColumns()),
      cautions_({{"caution", [](const CautionRow& row) { return row.text; }}}) {
  connect(store_, &Store::changed, this, [this] {
    stale_ = true;
    if (visible_) rebuild();
  });
}

void RepairsModel::setVisible(bool visible) {
  visible_ = visible;
  if (!visible_) saved_ = {};
  if (visible_ && stale_) rebuild();
}

const answers::PlannedPatch* RepairsModel::planned(const std::string& patch) {
  for (const answers::PlannedPatch& one : store_->plan().patches) {
    if (one.patch == patch) return &one;
  }
  return nullptr;
}

const course::Repair* RepairsModel::doneToday(const course::Patch& patch) const {
  for (auto repair = patch.repairs.rbegin(); repair != patch.repairs.rend(); ++repair) {
    if (store_->zone().dateOf(repair->done) == store_->today()) return &*repair;
  }
  return nullptr;
}

Row RepairsModel::doneRow(const course::Patch& patch, const course::Repair& repair) const {
  Row row;
  row.sort = DoneToday;
  row.id = text(patch.id);
  if (const auto* progress = store_->patchProgress(patch.id)) {
    row.title = text(progress->heading);
    row.look = SymbolLook::from(*progress);
  }
  QStringList what;
  if (repair.rakedBack) what << tr("Raked back");
  if (repair.fill_l) what << tr("Filled");
  if (repair.seed_g) what << tr("Sown");
  if (repair.turf_m2) what << tr("Turfed");
  if (repair.feed_g) what << tr("Fed");
  row.choice = what.join(QStringLiteral(", ")).toLower();
  if (!row.choice.isEmpty()) row.choice[0] = row.choice[0].toUpper();
  row.second = tr("Done %1").arg(text(store_->zone().clockTime(repair.done)));
  if (!repair.source.author.empty())
    row.second += QStringLiteral(", ") + text(repair.source.author);
  row.fill = amountDone(repair.fill_l, "l");
  row.turf = amountDone(repair.turf_m2, "m²");
  row.seed = amountDone(repair.seed_g, "g seed");
  row.feed = amountDone(repair.feed_g, "g feed");
  return row;
}

void RepairsModel::rebuild() {
  stale_ = false;
  const answers::Plan& plan = store_->plan();
  std::map<std::string, std::vector<Row>> rows;
  std::uint64_t done = 0;
  std::uint64_t left = 0;
  std::uint64_t alone = 0;
  std::map<std::string, bool> repairedToday;
  for (const course::Patch& patch : store_->state().patches) {
    if (const course::Repair* repair = doneToday(patch)) {
      rows[patch.green].push_back(doneRow(patch, *repair));
      repairedToday[patch.id] = true;
      ++done;
    }
  }
  std::string first;
  for (const answers::PlannedPatch& one : plan.patches) {
    if (repairedToday.contains(one.patch)) continue;
    if (!isWork(one.choice)) {
      ++alone;
      continue;
    }
    ++left;
    if (first.empty()) first = one.patch;
    Row row;
    row.id = text(one.patch);
    row.title = text(one.heading);
    row.choice = text(one.choiceText);
    row.look = SymbolLook{Show::kindOf(one.kind), Show::lookOf(one.look), 0.0, one.late};
    if (const auto* progress = store_->patchProgress(one.patch)) {
      row.look = SymbolLook::from(*progress);
      row.second = progress->look == answers::Look::closing && !progress->area.figure.empty()
                       ? WrittenText::from(progress->area).text()
                       : tr("seen %1").arg(text(progress->seenText));
      if (progress->late) row.second += tr(", late");
      if (!one.who.empty()) row.second += tr(", for %1").arg(text(one.who));
    }
    row.fill = WrittenText::from(one.fillMassText);
    if (!row.fill.figure.isEmpty()) row.fill.unit += QLatin1Char(' ') + shortName(one.fill);
    row.turf = of(one.turfText, "turf");
    row.seed = of(one.seedText, "seed");
    row.feed = of(one.feedText, "feed");
    rows[one.green].push_back(std::move(row));
  }
  if (!chosenByHand_ || (planned(chosen_) == nullptr && !repairedToday.contains(chosen_))) {
    chosen_ = first;
    chosenByHand_ = false;
  }

  std::vector<Row> all;
  for (auto& [green, list] : rows) {
    Row heading;
    heading.sort = GreenHeading;
    heading.title = green.empty() ? tr("On no green") : text(green);
    const auto toDo = static_cast<std::uint64_t>(
        std::count_if(list.begin(), list.end(), [](const Row& row) { return row.sort == ToDo; }));
    heading.second = tr("%1 left").arg(toDo);
    all.push_back(heading);
    for (Row& row : list) {
      row.chosen = row.id == text(chosen_);
      all.push_back(std::move(row));
    }
  }
  rows_.set(std::move(all));

  headline_ = left == 0 ? (done == 0 ? tr("Nothing to mend today") : tr("All repairs done today"))
                        : tr("%1 left today").arg(counted(left, "repair", "repairs"));
  second_ = tr("%1 of %2 done.").arg(done).arg(done + left);
  if (alone > 0) second_ += tr(" %1 left alone.").arg(counted(alone, "patch", "patches"));

  fillFooter();
  fillRail();
}

void RepairsModel::fillFooter() {
  const answers::Plan& plan = store_->plan();
  std::vector<TotalRow> totals;
  for (const answers::OrderLine& line : plan.order) {
    totals.push_back({text(line.material), WrittenText::from(line.neededText), text(line.text)});
  }
  totals_.set(std::move(totals));
  std::vector<CautionRow> cautions;
  for (const answers::Caution& caution : plan.cautions) cautions.push_back({text(caution.text)});
  cautions_.set(std::move(cautions));
  std::vector<LoadRow> loads;
  for (const answers::CartLoad& load : plan.loads) {
    loads.push_back({tr("Load %1, %2")
                         .arg(load.number)
                         .arg(load.green.empty() ? tr("on no green") : text(load.green)),
                     WrittenText::from(load.text), text(load.labels)});
  }
  loads_.set(std::move(loads));
  std::vector<HungerRow> hunger;
  for (const answers::GreenNitrogen& nitrogen : plan.nitrogen) {
    HungerRow row;
    row.title = tr("Nitrogen on %1").arg(text(nitrogen.green));
    row.balance = text(nitrogen.text);
    QStringList warnings;
    for (const std::string& warning : nitrogen.warnings)
      warnings << text(answers::capital(warning)) + QLatin1Char('.');
    row.warning = warnings.join(QLatin1Char(' '));
    QStringList advice;
    if (!nitrogen.feeding.empty()) advice << text(nitrogen.feeding);
    for (const std::string& words : nitrogen.hungry) advice << text(words);
    row.advice = advice.join(QLatin1Char('\n'));
    hunger.push_back(std::move(row));
  }
  hunger_.set(std::move(hunger));
}

void RepairsModel::fillRail() {
  next_ = {};
  std::vector<AmountRow> amounts;
  const auto add = [&](const std::string& material, const measure::Written& written) {
    if (!written.figure.empty()) amounts.push_back({text(material), WrittenText::from(written)});
  };
  for (const Row& row : rows_.rows()) {
    if (row.id != text(chosen_) || row.sort == GreenHeading) continue;
    next_.there = true;
    next_.title = row.title;
    next_.choice = row.choice;
    next_.look = row.look;
    next_.done = row.sort == DoneToday;
    next_.why = next_.done ? row.second : chosenByHand_ ? tr("Chosen") : tr("Next");
  }
  if (const auto* one = planned(chosen_); one != nullptr && !next_.done) {
    next_.reason = text(one->reason);
    QStringList warnings;
    for (const std::string& warning : one->warnings) warnings << text(warning);
    next_.warning = warnings.join(QStringLiteral(". "));
    add(one->turf, one->turfText);
    add(one->fill, one->fillMassText);
    add(one->fill, one->fillText);
    add(one->seedLot, one->seedText);
    add(one->feed, one->feedText);
    next_.canDo = !amounts.empty();
  }
  amounts_.set(std::move(amounts));
  Q_EMIT changed();
}

void RepairsModel::choose(const QString& patch) {
  chosen_ = patch.toStdString();
  chosenByHand_ = true;
  rebuild();
}

bool RepairsModel::doneAsPlanned(const QString& patch) {
  const auto* one = planned(patch.toStdString());
  if (one == nullptr) return false;
  const course::Repair repair = repairAsPlanned(*one, store_->now());
  if (!repair.fill_l && !repair.seed_g && !repair.feed_g && !repair.turf_m2) {
    // The plan knows no amounts: what was done has to be said.
    Q_EMIT repairWanted(patch);
    return false;
  }
  const QString title = text(one->heading);
  chosenByHand_ = false;
  const auto record =
      store_->write([&](course::Recorder& recorder) { return recorder.repair(repair); });
  saved_ = {};
  if (record) {
    saved_.weight = Show::Good;
    saved_.title = tr("%1 saved %2").arg(title, text(store_->zone().clockTime(store_->now())));
  } else {
    saved_ = adviceFrom(record.error());
  }
  Q_EMIT changed();
  return record.has_value();
}

bool RepairsModel::takeBack(const QString& patch) {
  const course::Patch* known = store_->state().patch(patch.toStdString());
  const course::Repair* repair = known != nullptr ? doneToday(*known) : nullptr;
  if (repair == nullptr) return false;
  const journal::Digest digest = repair->source.digest;
  const auto record = store_->write(
      [&](course::Recorder& recorder) { return recorder.withdraw(digest, "not done after all"); });
  saved_ = {};
  if (record) {
    saved_.title = tr("Taken back");
  } else {
    saved_ = adviceFrom(record.error());
  }
  Q_EMIT changed();
  return record.has_value();
}

bool RepairsModel::act() {
  const QString patch = text(chosen_);
  return next_.done ? takeBack(patch) : doneAsPlanned(patch);
}

void RepairsModel::walk() { Q_EMIT walkWanted(); }

void RepairsModel::chooseOtherwise() {
  if (next_.there) Q_EMIT choiceWanted(text(chosen_));
}

void RepairsModel::openMaterials() { Q_EMIT materialsWanted(); }

void RepairsModel::otherAmounts() {
  if (next_.there) Q_EMIT repairWanted(text(chosen_));
}

}  // namespace swardwalk::mobile
