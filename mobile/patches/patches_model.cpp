#include "mobile/patches/patches_model.h"

#include <algorithm>
#include <map>

#include "common/answers/urgency.h"
#include "mobile/plan/course_plan.h"

namespace swardwalk::mobile {

namespace {

using Row = PatchesModel::Row;

std::vector<Rows<Row>::Column> rowColumns() {
  return {{"sort", [](const Row& row) { return QVariant::fromValue(row.sort); }},
          {"id", [](const Row& row) { return row.id; }},
          {"other", [](const Row& row) { return row.other; }},
          {"title", [](const Row& row) { return row.title; }},
          {"second", [](const Row& row) { return row.second; }},
          {"look", [](const Row& row) { return QVariant::fromValue(row.look); }},
          {"answer", [](const Row& row) { return row.answer; }},
          {"weight", [](const Row& row) { return QVariant::fromValue(row.weight); }},
          {"area", [](const Row& row) { return QVariant::fromValue(row.area); }}};
}

std::vector<Rows<PatchesModel::FilterRow>::Column> filterColumns() {
  using Filter = PatchesModel::FilterRow;
  return {{"kind", [](const Filter& row) { return QVariant::fromValue(row.kind); }},
          {"title", [](const Filter& row) { return row.title; }},
          {"chosen", [](const Filter& row) { return row.chosen; }}};
}

Row patchRow(const answers::PatchProgress& patch) {
  Row row;
  row.id = text(patch.patch);
  row.title = text(patch.heading);
  row.second = text(patch.kindText);
  row.look = SymbolLook::from(patch);
  row.answer = text(patch.brief);
  row.weight = Show::weightOf(patch.weight);
  row.area = WrittenText::from(patch.area);
  return row;
}

Row greenRow(const std::string& name, const answers::GreenProgress* green) {
  Row row;
  row.sort = PatchesModel::GreenHeading;
  row.id = text(name);
  row.title = name.empty() ? PatchesModel::tr("On no green") : text(name);
  if (green != nullptr) {
    row.second = text(green->summary);
    row.weight = Show::weightOf(green->weight);
    row.answer = text(green->readyText);
  }
  return row;
}

/// What to measure first, because the green's chance hangs on it.
Row lookNextRow(const answers::GreenProgress& green) {
  Row row;
  row.sort = PatchesModel::LookNextLine;
  row.id = text(green.green);
  row.second = PatchesModel::tr("Measure next: %1").arg(text(green.lookNextText));
  return row;
}

/// Two that may be one: why, and a way to the question.
Row sameRow(const answers::SamePair& pair) {
  Row row;
  row.sort = PatchesModel::SameLine;
  row.id = text(pair.patch);
  row.other = text(pair.other);
  row.title =
      PatchesModel::tr("Same patch? %1 and %2").arg(text(pair.heading), text(pair.otherHeading));
  row.second = text(pair.reason);
  row.answer = PatchesModel::tr("Decide");
  return row;
}

QString closedLine(std::size_t closed, const answers::GreenProgress* green) {
  if (green != nullptr && !green->closedText.empty()) return text(green->closedText);
  return PatchesModel::tr("%1 closed").arg(closed);
}

}  // namespace

PatchesModel::PatchesModel(Store& store, QObject* parent)
    : QObject(parent),
      store_(&store),
      same_(store),
      rows_(rowColumns()),
      filters_(filterColumns()) {
  connect(store_, &Store::changed, this, [this] {
    stale_ = true;
    if (visible_) rebuild();
  });
}

void PatchesModel::setVisible(bool visible) {
  visible_ = visible;
  if (!visible_) same_.leave();
  if (visible_ && stale_) rebuild();
}

void PatchesModel::filterBy(Show::Kind kind) {
  kind_ = kind;
  rebuild();
}

void PatchesModel::showClosed(const QString& green) {
  const std::string name = green.toStdString();
  if (!closedShown_.erase(name)) closedShown_.insert(name);
  rebuild();
}

void PatchesModel::openPatch(const QString& id) { Q_EMIT patchWanted(id); }

void PatchesModel::showPlan() { Q_EMIT planWanted(); }

void PatchesModel::rebuild() {
  stale_ = false;
  const answers::Progress& progress = store_->progress();
  headline_ = text(progress.headline);
  headlineWeight_ = Show::weightOf(progress.headlineWeight);

  std::map<std::string, std::vector<const answers::PatchProgress*>> open;
  std::map<std::string, std::vector<const answers::PatchProgress*>> closed;
  std::map<Show::Kind, int> counts;
  int all = 0;
  for (const auto& patch : progress.patches) {
    const Show::Kind kind = Show::kindOf(patch.kind);
    if (patch.look != answers::Look::closed) {
      ++counts[kind];
      ++all;
    }
    if (kind_ != Show::NoKind && kind != kind_) continue;
    (patch.look == answers::Look::closed ? closed : open)[patch.green].push_back(&patch);
  }

  std::vector<std::string> greens;
  for (const auto& green : progress.greens) greens.push_back(green.green);
  if (open.contains("") || closed.contains("")) greens.emplace_back();
  std::vector<Row> rows;
  QStringList overview;
  for (const std::string& green : greens) {
    auto& patches = open[green];
    auto& done = closed[green];
    overview << tr("%1, %2 open")
                    .arg(green.empty() ? tr("On no green") : text(green))
                    .arg(patches.size());
    if (patches.empty() && done.empty() && kind_ != Show::NoKind) continue;
    const answers::GreenProgress* progressOf = store_->greenProgress(green);
    rows.push_back(greenRow(green, progressOf));
    const bool wholeGreen = kind_ == Show::NoKind;
    if (wholeGreen && progressOf != nullptr && !progressOf->lookNextText.empty()) {
      rows.push_back(lookNextRow(*progressOf));
    }
    for (const answers::SamePair& pair : progress.samePatches) {
      if (wholeGreen && pair.green == green) rows.push_back(sameRow(pair));
    }
    std::stable_sort(patches.begin(), patches.end(), [](const auto* a, const auto* b) {
      return answers::urgency(*a) < answers::urgency(*b);
    });
    for (const auto* patch : patches) rows.push_back(patchRow(*patch));
    if (done.empty()) continue;
    Row line;
    line.sort = ClosedLine;
    line.id = text(green);
    line.title =
        closedLine(done.size(), kind_ == Show::NoKind ? store_->greenProgress(green) : nullptr);
    line.answer = closedShown_.contains(green) ? tr("Hide") : tr("Show");
    rows.push_back(std::move(line));
    if (!closedShown_.contains(green)) continue;
    for (const auto* patch : done) rows.push_back(patchRow(*patch));
  }
  rows_.set(std::move(rows));
  overview_ = overview.join(QStringLiteral(". "));
  if (!overview_.isEmpty()) overview_ += QLatin1Char('.');

  std::vector<FilterRow> filters{{Show::NoKind, tr("All %1").arg(all), kind_ == Show::NoKind}};
  for (const turf::Kind kind :
       {turf::Kind::bare, turf::Kind::hungry, turf::Kind::dug, turf::Kind::washed}) {
    const Show::Kind shown = Show::kindOf(kind);
    filters.push_back({shown, tr("%1 %2").arg(kindTitle(kind)).arg(counts[shown]), kind_ == shown});
  }
  filters_.set(std::move(filters));
  Q_EMIT changed();
}

}  // namespace swardwalk::mobile
