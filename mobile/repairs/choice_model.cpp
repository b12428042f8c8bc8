#include "mobile/repairs/choice_model.h"

#include <algorithm>

namespace swardwalk::mobile {

namespace {

QStringList linesOf(const answers::ChoiceCard& card) {
  QStringList lines;
  for (const std::string& line : card.lines) lines << text(line);
  return lines;
}

QString markOf(const answers::ChoiceCard& card) {
  if (card.chosen) return ChoiceModel::tr("in the plan");
  return card.advised ? ChoiceModel::tr("advised") : QString();
}

QString spokenOf(const answers::ChoiceCard& card) {
  QStringList parts{text(card.title)};
  if (!markOf(card).isEmpty()) parts << markOf(card);
  return (parts + linesOf(card)).join(QStringLiteral(", "));
}

}  // namespace

ChoiceModel::ChoiceModel(Store& store, QObject* parent)
    : QObject(parent),
      store_(&store),
      cards_({{"title", [](const Card& row) { return QVariant(text(row.card.title)); }},
              {"lines",
               [](const Card& row) { return QVariant(linesOf(row.card).join(QLatin1Char('\n'))); }},
              {"mark", [](const Card& row) { return QVariant(markOf(row.card)); }},
              {"spoken", [](const Card& row) { return QVariant(spokenOf(row.card)); }},
              {"possible", [](const Card& row) { return QVariant(row.card.possible); }},
              {"picked", [](const Card& row) { return QVariant(row.picked); }}}) {}

void ChoiceModel::begin(const std::string& patch) {
  patch_ = patch;
  who_.clear();
  why_.clear();
  show_ = {};
  for (const std::string& name : answers::crewOf(store_->state())) show_.names << text(name);
  if (const auto* progress = store_->patchProgress(patch_)) {
    show_.title = tr("Choose for %1").arg(text(progress->heading));
    show_.look = SymbolLook::from(*progress);
  }
  std::vector<Card> cards;
  for (const answers::PlannedPatch& planned : store_->plan().patches) {
    if (planned.patch != patch_) continue;
    show_.planned = text(planned.choiceText);
    show_.by = planned.chosenByPerson ? tr("chosen by %1").arg(text(planned.chosenBy))
                                      : text(planned.chosenBy);
    show_.reason = text(planned.reason);
    show_.canFollow = planned.chosenByPerson;
    who_ = text(planned.who);
    why_ = text(planned.why);
    for (answers::ChoiceCard& card : answers::choiceCards(planned)) {
      const bool picked = card.chosen;
      cards.push_back({std::move(card), picked});
    }
  }
  cards_.set(std::move(cards));
  refresh();
}

void ChoiceModel::pick(int card) {
  std::vector<Card> cards = cards_.rows();
  for (std::size_t i = 0; i < cards.size(); ++i) {
    if (static_cast<int>(i) == card && !cards[i].card.possible) return;
    cards[i].picked = static_cast<int>(i) == card;
  }
  cards_.set(std::move(cards));
  refresh();
}

void ChoiceModel::setWho(const QString& who) {
  who_ = who;
  refresh();
}

void ChoiceModel::setWhy(const QString& why) {
  why_ = why;
  refresh();
}

void ChoiceModel::toggleWho(const QString& name) { setWho(who_ == name ? QString() : name); }

void ChoiceModel::refresh() {
  const auto& cards = cards_.rows();
  const auto picked =
      std::find_if(cards.begin(), cards.end(), [](const Card& card) { return card.picked; });
  show_.canSave = picked != cards.end();
  show_.summary = tr("Nothing chosen yet");
  if (show_.canSave) {
    const QString who = who_.trimmed();
    show_.summary = text(picked->card.title) +
                    (who.isEmpty() ? tr(", nobody named for it") : tr(", by %1").arg(who));
  }
  Q_EMIT changed();
}

bool ChoiceModel::save() {
  const auto& cards = cards_.rows();
  const auto picked =
      std::find_if(cards.begin(), cards.end(), [](const Card& card) { return card.picked; });
  if (picked == cards.end()) return false;
  course::Choice choice;
  choice.patch = patch_;
  choice.choice = repair::word(picked->card.choice);
  choice.who = who_.trimmed().toStdString();
  choice.why = why_.trimmed().toStdString();
  return finish(store_->write([&](course::Recorder& recorder) { return recorder.choice(choice); })
                    .map([](const journal::Record&) {}));
}

bool ChoiceModel::followPlan() {
  const course::Patch* patch = store_->state().patch(patch_);
  if (patch == nullptr) return false;
  std::vector<journal::Digest> standing;
  for (const course::Choice& choice : patch->choices) standing.push_back(choice.source.digest);
  for (const journal::Digest& choice : standing) {
    const auto record = store_->write([&](course::Recorder& recorder) {
      return recorder.withdraw(choice, "the plan is followed again");
    });
    if (!record) return finish(tl::unexpected(record.error()));
  }
  return finish({});
}

bool ChoiceModel::finish(const Result<void>& written) {
  if (!written) {
    show_.trouble = adviceFrom(written.error());
    Q_EMIT changed();
    return false;
  }
  back();
  return true;
}

void ChoiceModel::back() { Q_EMIT closed(); }

}  // namespace swardwalk::mobile
