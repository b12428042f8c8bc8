#include "mobile/shed/shed_model.h"

#include <QLocale>
#include <QUrl>
#include <algorithm>
#include <cmath>
#include <utility>

#include "mobile/position/whereabouts.h"
#include "mobile/shed/code_reader.h"

namespace swardwalk::mobile {

namespace {

constexpr std::int64_t clockTolerance_ms = 120'000;
/// Of the camera: a code is read right after its picture was taken, perhaps with one failed.
constexpr std::size_t fewPictures = 3;

/// The fingerprint's digits in lower case, read with colons or blanks; empty where it is none.
std::string digitsOf(const QString& typed) {
  QString digits = typed.toLower();
  digits.remove(QLatin1Char(':'));
  digits.remove(QLatin1Char(' '));
  const std::string found = digits.toStdString();
  return journal::parseHex<32>(found) ? found : std::string();
}

double shareOf(std::uint64_t part, std::uint64_t whole) {
  if (whole == 0) return 1.0;
  return std::min(1.0, static_cast<double>(part) / static_cast<double>(whole));
}

}  // namespace

QUrl shedAddress(const QString& typed) {
  QString address = typed.trimmed();
  if (address.isEmpty()) return {};
  if (!address.contains(QStringLiteral("://"))) {
    // A shed on a network speaks https alone.
    const QString host = address.section(QLatin1Char(':'), 0, 0);
    const bool isHere =
        host == QLatin1String("localhost") || host.startsWith(QLatin1String("127."));
    address.prepend(isHere ? QStringLiteral("http://") : QStringLiteral("https://"));
  }
  const QUrl url(address, QUrl::StrictMode);
  const bool known =
      url.scheme() == QLatin1String("http") || url.scheme() == QLatin1String("https");
  if (!url.isValid() || !known || url.host().isEmpty()) return {};
  return url;
}

ShedModel::ShedModel(Store& store, ShedLog& log, const CameraFolder& camera, QObject* parent)
    : QObject(parent),
      store_(&store),
      log_(&log),
      camera_(&camera),
      client_(store),
      onlyHere_({{"what", [](const CountRow& row) { return row.what; }},
                 {"count", [](const CountRow& row) { return row.count; }}}),
      visits_({{"when", [](const VisitRow& row) { return row.when; }},
               {"given", [](const VisitRow& row) { return row.given; }},
               {"received", [](const VisitRow& row) { return row.received; }},
               {"words", [](const VisitRow& row) { return row.words; }}}),
      alarms_({{"title", [](const AdviceText& row) { return row.title; }},
               {"reason", [](const AdviceText& row) { return row.reason; }},
               {"weight", [](const AdviceText& row) { return QVariant::fromValue(row.weight); }}}),
      same_({{"patch", [](const SameRow& row) { return row.patch; }},
             {"other", [](const SameRow& row) { return row.other; }},
             {"title", [](const SameRow& row) { return row.title; }},
             {"reason", [](const SameRow& row) { return row.reason; }}}) {
  paired_ = pairedShed(store_->directory().toStdString());
  connect(&client_, &ShedClient::moved, this, &ShedModel::refresh);
  connect(&client_, &ShedClient::done, this, [this] { finished(nullptr); });
  connect(&client_, &ShedClient::paired, this, &ShedModel::pairingDone);
  connect(&client_, &ShedClient::broke, this,
          [this](const Failure& failure) { finished(&failure); });
  connect(log_, &ShedLog::changed, this, &ShedModel::refresh);
  // A pair that was joined, or of which one was closed, is asked about no more.
  connect(store_, &Store::changed, this, &ShedModel::tellSame);
  refresh();
}

bool ShedModel::takeCard(const QString& text) {
  const auto card = exchange::parsePairingCard(text.toStdString());
  if (!card) return false;
  take(*card);
  return true;
}

void ShedModel::take(const exchange::PairingCard& card) {
  code_ = swardwalk::mobile::text(exchange::writtenCode(card.code));
  fingerprint_ = swardwalk::mobile::text(card.fingerprint);
  Q_EMIT codeChanged();
  Q_EMIT fingerprintChanged();
  setAddress(swardwalk::mobile::text(card.address));
  refresh();
}

void ShedModel::readPicture() {
  if (client_.running()) return;
  for (const QFileInfo& picture : camera_->newest(fewPictures)) {
    const auto card = pairingCardIn(picture.filePath());
    if (!card) continue;
    outcome_ = {Show::Calm, tr("The code is read"),
                tr("Compare the fingerprint with the shed's, then pair.")};
    return take(*card);
  }
  outcome_ = {Show::Watch, tr("No code in the newest pictures"),
              tr("Take one of the code at the shed with the tablet's camera, so near that it fills "
                 "half of it, then touch again. Looked in %1.")
                  .arg(camera_->words())};
  refresh();
}

void ShedModel::setCode(const QString& code) {
  if (code == code_ || takeCard(code)) return;
  code_ = code;
  refresh();
  Q_EMIT codeChanged();
}

void ShedModel::setFingerprint(const QString& fingerprint) {
  if (fingerprint == fingerprint_ || takeCard(fingerprint)) return;
  fingerprint_ = fingerprint;
  refresh();
  Q_EMIT fingerprintChanged();
}

void ShedModel::pairNow() {
  const QUrl shed = shedAddress(address());
  const auto code = exchange::parseCode(code_.toStdString());
  const std::string digits = digitsOf(fingerprint_);
  if (shed.isEmpty() || !code || digits.empty() || client_.running()) return;
  outcome_ = {};
  alarmList_.clear();
  pairing_ = true;
  client_.pair(shed, *code, digits);
  refresh();
}

void ShedModel::pairingDone() {
  pairing_ = false;
  paired_ = pairedShed(store_->directory().toStdString());
  code_.clear();
  fingerprint_.clear();
  outcome_ = {Show::Good, tr("Paired with the shed"), tr("It knows this tablet from now on.")};
  Q_EMIT codeChanged();
  Q_EMIT fingerprintChanged();
  refresh();
}

void ShedModel::setAddress(const QString& address) {
  if (takeCard(address)) return;
  if (address == store_->settings().shed) return;
  store_->settings().shed = address;
  store_->settings().save();
  refresh();
  Q_EMIT addressChanged();
}

void ShedModel::exchangeNow() {
  const QUrl shed = shedAddress(address());
  if (shed.isEmpty() || client_.running()) return;
  toGive_ = log_->onlyHere().all;
  outcome_ = {};
  alarmList_.clear();
  met_ = false;
  knownSame_ = suggested();
  tellSame();
  client_.start(shed);
  if (client_.running()) log_->setMeeting(true);
  refresh();
}

void ShedModel::stop() { client_.stop(); }

void ShedModel::decide(const QString& patch, const QString& other) {
  Q_EMIT sameWanted(patch, other);
}

std::set<ShedModel::Pair> ShedModel::suggested() {
  std::set<Pair> pairs;
  for (const auto& pair : store_->progress().samePatches) pairs.emplace(pair.patch, pair.other);
  return pairs;
}

void ShedModel::tellSame() {
  std::vector<SameRow> rows;
  if (met_) {
    for (const auto& pair : store_->progress().samePatches) {
      if (knownSame_.contains({pair.patch, pair.other})) continue;
      rows.push_back(
          {text(pair.patch), text(pair.other),
           tr("%1 and %2 may be one patch").arg(text(pair.heading), text(pair.otherHeading)),
           text(pair.reason)});
    }
  }
  same_.set(std::move(rows));
}

void ShedModel::tellClock() {
  const auto ahead_ms = client_.tally().peerClockAhead_ms;
  if (!ahead_ms || store_->clock().standsStill()) return;
  if (std::abs(*ahead_ms) > clockTolerance_ms) {
    const measure::Instant here = store_->clock().now();
    const measure::Instant there = here + std::chrono::milliseconds(*ahead_ms);
    AdviceText advice;
    advice.weight = Show::Watch;
    advice.title = tr("Clock %1 %2")
                       .arg(spanWords(std::chrono::round<std::chrono::minutes>(
                                std::chrono::milliseconds(std::abs(*ahead_ms)))),
                            *ahead_ms > 0 ? tr("slow") : tr("fast"));
    advice.reason =
        tr("The shed says %1, this tablet says %2. Sightings show the shed's time "
           "from now on. Their order is kept.")
            .arg(text(store_->zone().clockTime(there)), text(store_->zone().clockTime(here)));
    alarmList_.push_back(advice);
  }
  store_->clockIs(journal::ClockSource::shed, *ahead_ms);
}

void ShedModel::renewIfForked() {
  if (!client_.tally().ownOriginForked) return;
  const auto renewed =
      store_->renewOrigin("the shed met another tablet that writes under this one's key");
  AdviceText advice;
  if (renewed) {
    advice.weight = Show::Watch;
    advice.title = tr("This tablet was copied or restored");
    advice.reason = tr("Both branches are kept. From now on it writes under a new key.");
  } else {
    advice = adviceFrom(renewed.error());
  }
  alarmList_.push_back(advice);
}

void ShedModel::finished(const Failure* failure) {
  if (std::exchange(pairing_, false) && failure != nullptr) {
    outcome_ = adviceFrom(*failure);
    outcome_.weight = Show::Watch;
    refresh();
    return;
  }
  const exchange::Tally& tally = client_.tally();
  for (const std::string& alarm : tally.alarms) {
    alarmList_.push_back({Show::Watch, text(alarm), {}});
  }
  for (const std::string& trouble : client_.photoTroubles()) {
    alarmList_.push_back({Show::Watch, text(trouble), {}});
  }
  tellClock();
  renewIfForked();

  ShedVisit visit;
  visit.at = store_->now();
  visit.given = tally.sent;
  visit.received = tally.received;
  visit.whole = failure == nullptr;
  if (failure != nullptr) {
    outcome_ = adviceFrom(*failure);
    outcome_.weight = Show::Watch;
    visit.words = failure->what == "stopped"              ? tr("stopped")
                  : failure->kind == FailureKind::refused ? tr("refused")
                                                          : tr("cut");
    const std::uint64_t moved = visit.given + visit.received;
    if (moved > 0) visit.words += tr(" after %1").arg(moved);
    if (failure->what == "stopped")
      outcome_ = {Show::Calm, tr("Stopped"), tr("It goes on where it was cut.")};
  } else {
    outcome_.weight = Show::Good;
    outcome_.title = tr("All exchanged");
    outcome_.reason = tr("%1 given, %2 received.").arg(visit.given).arg(visit.received);
    if (client_.photosSent() > 0) outcome_.reason += tr(" The photos went too.");
  }
  log_->add(visit);
  log_->setMeeting(false);
  // What came before the line was cut counts, too.
  met_ = tally.received > 0;
  if (tally.received > 0 || tally.ownOriginForked) store_->refresh();
  refresh();
}

void ShedModel::refresh() {
  const exchange::Tally& tally = client_.tally();
  show_.running = client_.running();
  const QUrl shed = shedAddress(address());
  show_.canStart = !shed.isEmpty();
  show_.encrypted = shed.scheme() == QLatin1String("https");
  show_.asksToPair = show_.encrypted || address().trimmed().isEmpty();
  show_.canPair = show_.encrypted && exchange::parseCode(code_.toStdString()) &&
                  !digitsOf(fingerprint_).empty();
  show_.pairedLine = paired_ ? tr("Paired with the shed whose fingerprint begins with %1.")
                                   .arg(QString::fromStdString(paired_->fingerprint.substr(0, 16)))
                             : QString();
  show_.hasCounts = show_.running || tally.sent > 0 || tally.received > 0;
  if (show_.running) {
    show_.title = tr("Exchanging with the shed");
    show_.second = tr("Safe to stop or to walk away at any time: it goes on where it was cut.");
    if (client_.waits()) {
      show_.second =
          tr("It is busy with others and is asked again in a moment. Safe to stop at any time.");
    } else if (client_.sendingPhotos()) {
      show_.second =
          tr("The records are through. Pictures follow: %1 sent. Safe to stop at any time.")
              .arg(client_.photosSent());
    }
  } else if (!outcome_.title.isEmpty()) {
    show_.title = outcome_.title;
    show_.second = outcome_.reason;
  } else if (!show_.canStart) {
    show_.title = tr("No shed yet");
    show_.second =
        tr("Enter its address, as the server printed it when it started, or read the code that it "
           "shows.");
  } else {
    const std::uint64_t only = log_->onlyHere().all;
    show_.title = only == 0 ? tr("The shed holds all of this tablet")
                            : tr("%1 to give").arg(counted(only, "record", "records"));
    show_.second = tr("One tap gives them and takes what the others saw.");
  }
  const std::uint64_t toGive = std::max(toGive_, tally.sent);
  show_.given = QString::number(tally.sent);
  show_.givenOf = tr("of %1").arg(counted(toGive, "record", "records"));
  show_.givenShare = show_.hasCounts ? shareOf(tally.sent, toGive) : 0.0;
  const auto expected = client_.toReceive();
  show_.received = QString::number(tally.received);
  show_.receivedOf =
      expected ? tr("of %1").arg(counted(std::max(*expected, tally.received), "record", "records"))
               : tr("records");
  show_.receivedShare = show_.running ? (expected ? shareOf(tally.received, *expected) : 0.0)
                                      : (show_.hasCounts ? 1.0 : 0.0);

  const ShedLog::OnlyHere& only = log_->onlyHere();
  onlyHere_.set({{tr("Sightings"), QString::number(only.sightings)},
                 {tr("Repairs"), QString::number(only.repairs)},
                 {tr("Rounds"), QString::number(only.rounds)},
                 {tr("Other records"), QString::number(only.others)}});
  std::vector<VisitRow> visits;
  for (const ShedVisit& visit : log_->visits()) {
    if (visits.size() == 5) break;
    const measure::Date day = store_->zone().dateOf(visit.at);
    visits.push_back(
        {tr("%1, %2").arg(text(measure::wordsDate(day)), text(store_->zone().clockTime(visit.at))),
         QString::number(visit.given), QString::number(visit.received), visit.words});
  }
  visits_.set(std::move(visits));
  show_.together.clear();
  if (const auto met = log_->lastMet(); met && only.all == 0 && log_->visits().front().whole) {
    show_.together =
        tr("Nothing lost, nothing doubled: %1 records on both sides on %2.")
            .arg(QLocale(QLocale::English)
                     .toString(static_cast<qlonglong>(store_->journal().recordCount())),
                 text(measure::wordsDate(store_->zone().dateOf(*met))));
  }
  alarms_.set(alarmList_);
  Q_EMIT changed();
}

}  // namespace swardwalk::mobile
