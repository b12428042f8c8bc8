#include "mobile/patches/patch_model.h"

#include <QUrl>

#include "common/answers/chart.h"
#include "common/journal/photo_folder.h"
#include "mobile/app/theme.h"
#include "mobile/plan/course_plan.h"

namespace swardwalk::mobile {

namespace {

/// As wide as the card in portrait, so that nothing in it becomes smaller than it is drawn.
constexpr int chartWidth_px = 728;
constexpr int chartHeight_px = 250;

std::vector<Rows<PatchModel::LifeRow>::Column> lifeColumns() {
  using Row = PatchModel::LifeRow;
  return {{"date", [](const Row& row) { return row.date; }},
          {"who", [](const Row& row) { return row.who; }},
          {"what", [](const Row& row) { return row.what; }},
          {"amount", [](const Row& row) { return QVariant::fromValue(row.amount); }}};
}

std::vector<Rows<PatchModel::OptionRow>::Column> optionColumns() {
  using Row = PatchModel::OptionRow;
  return {{"title", [](const Row& row) { return row.title; }},
          {"reason", [](const Row& row) { return row.reason; }},
          {"weight", [](const Row& row) { return QVariant::fromValue(row.weight); }}};
}

Show::Weight chanceWeight(const std::optional<double>& probability) {
  // The limits of look.md, "The review page", 2.
  if (!probability) return Show::Calm;
  if (*probability < 0.5) return Show::Stop;
  if (*probability < 0.8) return Show::Watch;
  return Show::Good;
}

}  // namespace

QString pictureAddress(const std::string& svg) {
  if (svg.empty()) return {};
  return QStringLiteral("data:image/svg+xml;base64,") +
         QString::fromLatin1(QByteArray::fromStdString(svg).toBase64());
}

PatchModel::PatchModel(Store& store, QObject* parent)
    : QObject(parent),
      store_(&store),
      sightings_(lifeColumns()),
      repairs_(lifeColumns()),
      photos_({{"address", [](const PhotoRow& row) { return row.address; }},
               {"text", [](const PhotoRow& row) { return row.text; }}}),
      options_(optionColumns()) {
  connect(store_, &Store::changed, this, [this] {
    if (there()) rebuild();
  });
}

void PatchModel::open(const std::string& patch) {
  patch_ = patch;
  show_.saved = {};
  undoable_.reset();
  rebuild();
}

void PatchModel::setDark(bool dark) {
  if (dark_ == dark) return;
  dark_ = dark;
  if (there()) rebuild();
}

void PatchModel::leave() {
  patch_.clear();
  Q_EMIT changed();
}

void PatchModel::rebuild() {
  const course::Patch* patch = store_->state().patch(patch_);
  const auto life =
      answers::patchLife(store_->state(), store_->progress(), patch_, store_->units());
  if (patch == nullptr || !life) {
    // Its only sighting was taken back: there is nothing left to show.
    leave();
    return;
  }
  const answers::PatchProgress& progress = life->progress;
  show_.title = tr("%1, %2").arg(text(progress.heading), kindWord(progress.kind));
  show_.look = SymbolLook::from(progress);
  show_.answer = text(progress.answer);
  show_.weight = Show::weightOf(progress.weight);
  show_.area = WrittenText::from(progress.area);
  show_.closed = text(progress.closedText);
  show_.why = text(progress.why);
  show_.joined = text(life->joinedText);
  show_.open = progress.look != answers::Look::closed;
  show_.sown =
      progress.sowing != repair::SowingState::none && progress.sowing != repair::SowingState::up;

  answers::Chart chart = life->chart;
  if (dark_) chart.colours = answers::darkChartColours();
  chart.family = Theme::family().toStdString();
  chart.width = chartWidth_px;
  chart.height = chartHeight_px;
  show_.chart = pictureAddress(answers::svg(chart));

  std::vector<LifeRow> seen;
  std::vector<LifeRow> done;
  for (const answers::LifeLine& line : life->lines) {
    LifeRow row{text(line.date), text(line.who), text(line.what), WrittenText::from(line.amount)};
    const bool looked = line.sort == answers::LifeSort::sighting ||
                        line.sort == answers::LifeSort::closed ||
                        line.sort == answers::LifeSort::cameUp;
    (looked ? seen : done).push_back(std::move(row));
  }
  sightings_.set(std::move(seen));
  repairs_.set(std::move(done));

  const journal::PhotoFolder folder(store_->directory().toStdString());
  std::vector<PhotoRow> photos;
  for (const answers::PhotoLine& photo : life->photos) {
    // The whole one: a tablet that took it has both, and QML reads only what it shows.
    const QString file = text(folder.fileOf(photo.photo));
    photos.push_back({folder.holds(photo.photo) ? QUrl::fromLocalFile(file).toString() : QString(),
                      text(photo.text)});
  }
  photos_.set(std::move(photos));

  show_.todo = {};
  std::vector<OptionRow> options;
  for (const answers::PlannedPatch& planned : store_->plan().patches) {
    if (planned.patch != patch_) continue;
    show_.todo.title = text(planned.choiceText);
    show_.todo.reason = text(planned.reason);
    show_.todo.weight = show_.weight;
    for (const answers::PlannedOption& option : planned.options) {
      if (!option.possible) continue;
      QString title = text(repair::word(option.choice));
      if (!title.isEmpty()) title[0] = title[0].toUpper();
      options.push_back({title, text(option.text), chanceWeight(option.probabilityReady)});
    }
  }
  options_.set(std::move(options));
  rebuildPlan();
  Q_EMIT changed();
}

void PatchModel::rebuildPlan() {
  const course::Patch* patch = store_->state().patch(patch_);
  auto plan = planOf(*store_, patch->green);
  if (!plan) {
    plan_.set({});
    return;
  }
  // The whole green with this patch alone: where it lies, at a glance.
  std::erase_if(plan->scene.patches, [&](const PlanPatch& one) { return one.id != patch_; });
  for (PlanPatch& one : plan->scene.patches) one.number.clear();
  plan_.set(std::move(plan->scene), true);
}

void PatchModel::measureAgain() { Q_EMIT measureWanted(text(patch_)); }

void PatchModel::repairDone() { Q_EMIT repairWanted(text(patch_)); }

void PatchModel::choose() { Q_EMIT choiceWanted(text(patch_)); }

bool PatchModel::saved(const Result<journal::Record>& record, const QString& words) {
  show_.saved = {};
  undoable_.reset();
  if (record) {
    undoable_ = record->digest;
    show_.saved.weight = Show::Good;
    show_.saved.title = tr("%1 saved %2").arg(words, text(store_->zone().clockTime(store_->now())));
  } else {
    show_.saved = adviceFrom(record.error());
  }
  Q_EMIT changed();
  return record.has_value();
}

bool PatchModel::itIsClosed() {
  course::Closed closed;
  closed.patch = patch_;
  closed.seen = store_->now();
  return saved(store_->write([&](course::Recorder& recorder) { return recorder.closed(closed); }),
               tr("Closed"));
}

bool PatchModel::cameUp() {
  course::CameUp up;
  up.patch = patch_;
  up.seen = store_->now();
  return saved(store_->write([&](course::Recorder& recorder) { return recorder.cameUp(up); }),
               tr("Came up"));
}

bool PatchModel::takeApart() {
  const course::Patch* patch = store_->state().patch(patch_);
  if (patch == nullptr || patch->joins.empty()) return false;
  const journal::Digest digest = patch->joins.back().source.digest;
  return saved(store_->write([&](course::Recorder& recorder) {
    return recorder.withdraw(digest, "taken apart again");
  }),
               tr("Taken apart"));
}

bool PatchModel::takeBack() {
  if (!undoable_) return false;
  const journal::Digest digest = *undoable_;
  const auto record = store_->write(
      [&](course::Recorder& recorder) { return recorder.withdraw(digest, "taken back at once"); });
  undoable_.reset();
  show_.saved = {};
  if (record) {
    show_.saved.title = tr("Taken back");
  } else {
    show_.saved = adviceFrom(record.error());
  }
  Q_EMIT changed();
  return record.has_value();
}

}  // namespace swardwalk::mobile
