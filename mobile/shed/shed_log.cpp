#include "mobile/shed/shed_log.h"

#include <QJsonArray>
#include <QJsonDocument>
#include <QJsonObject>

#include "common/exchange/exchange.h"
#include "mobile/app/show.h"

namespace swardwalk::mobile {

namespace {

constexpr char noteKey[] = "exchanges with the shed";
constexpr std::size_t visitsKept = 12;
/// For so long after an exchange one is taken to be in the shed's network still.
constexpr std::chrono::minutes stillThere{2};

}  // namespace

ShedLog::ShedLog(Store& store, QObject* parent) : QObject(parent), store_(&store) {
  if (const auto note = store_->journal().note(noteKey)) {
    const QJsonArray list = QJsonDocument::fromJson(QByteArray::fromStdString(*note)).array();
    for (const QJsonValue& one : list) {
      ShedVisit visit;
      visit.at = measure::Instant(std::chrono::milliseconds(one["at_ms"].toVariant().toLongLong()));
      visit.given = one["given"].toVariant().toULongLong();
      visit.received = one["received"].toVariant().toULongLong();
      visit.whole = one["whole"].toBool();
      visit.words = one["words"].toString();
      visits_.push_back(visit);
    }
  }
  connect(store_, &Store::changed, this, &ShedLog::count);
  count();
}

void ShedLog::add(const ShedVisit& visit) {
  visits_.insert(visits_.begin(), visit);
  if (visits_.size() > visitsKept) visits_.resize(visitsKept);
  QJsonArray list;
  for (const ShedVisit& one : visits_) {
    list.append(QJsonObject{{"at_ms", qint64{one.at.time_since_epoch().count()}},
                            {"given", static_cast<qint64>(one.given)},
                            {"received", static_cast<qint64>(one.received)},
                            {"whole", one.whole},
                            {"words", one.words}});
  }
  // Only a list for the eye: if it can't be kept, the records still can, or say so.
  (void)store_->journal().setNote(noteKey,
                                  QJsonDocument(list).toJson(QJsonDocument::Compact).toStdString());
  count();
}

std::optional<measure::Instant> ShedLog::lastMet() const {
  for (const ShedVisit& visit : visits_) {
    if (visit.whole || visit.given > 0 || visit.received > 0) return visit.at;
  }
  return std::nullopt;
}

void ShedLog::count() {
  onlyHere_ = {};
  onlyHere_.all = exchange::notYetHeldBy(store_->journal(), exchange::shedName);
  // What the shed lacks of this tablet's own chain are its last records.
  for (const journal::Head& head : store_->journal().heads()) {
    if (head.origin != store_->journal().origin()) continue;
    std::uint64_t after = head.number > onlyHere_.all ? head.number - onlyHere_.all : 0;
    while (after < head.number) {
      const auto run = store_->journal().run(head, after);
      if (!run || run->records.empty()) break;
      for (const journal::Record& record : run->records) {
        const std::string& type = record.content.type;
        if (type == "sighting") {
          ++onlyHere_.sightings;
        } else if (type == "repair") {
          ++onlyHere_.repairs;
        } else if (type == "round") {
          ++onlyHere_.rounds;
        }
      }
      after += run->records.size();
    }
  }
  const std::uint64_t named = onlyHere_.sightings + onlyHere_.repairs + onlyHere_.rounds;
  onlyHere_.others = onlyHere_.all > named ? onlyHere_.all - named : 0;
  Q_EMIT changed();
}

QString ShedLog::onlyHereLine() const {
  if (onlyHere_.all == 0) return {};
  const bool sightingsOnly = onlyHere_.sightings == onlyHere_.all;
  return tr("%1 only on this tablet")
      .arg(sightingsOnly ? counted(onlyHere_.all, "sighting", "sightings")
                         : counted(onlyHere_.all, "record", "records"));
}

void ShedLog::setMeeting(bool meeting) {
  meeting_ = meeting;
  Q_EMIT changed();
}

QString ShedLog::networkLine() const {
  if (meeting_) return tr("In the shed's Wi-Fi");
  const auto met = lastMet();
  if (!met) return tr("Not met the shed yet");
  const measure::Instant now = store_->now();
  if (now - *met < stillThere && now >= *met) return tr("In the shed's Wi-Fi");
  const measure::Date day = store_->zone().dateOf(*met);
  return tr("Offline since %1")
      .arg(day == store_->today() ? text(store_->zone().clockTime(*met))
                                  : text(measure::wordsDate(day)));
}

}  // namespace swardwalk::mobile
