#include "mobile/shed/shed_client.h"

#include <QNetworkReply>
#include <map>

#include "common/exchange/pairing.h"
#include "mobile/app/show.h"
#include "mobile/shed/shed_log.h"

namespace swardwalk::mobile {

namespace {

constexpr char contentType[] = "application/vnd.swardwalk.exchange+zstd";
/// Each taking is a commit and so a wait for the disk; less than this is left to lie until
/// the answer ends or is cut.
constexpr qint64 worthTaking_bytes = 64 * 1024;

}  // namespace

ShedClient::ShedClient(Store& store, QObject* parent)
    : QObject(parent), store_(&store), photos_(store.directory().toStdString()) {
  connect(&line_, &ShedLine::arrived, this, &ShedClient::arrived);
  connect(&line_, &ShedLine::answered, this,
          [this](QNetworkReply& reply) { (this->*answered_)(reply); });
  connect(&line_, &ShedLine::busyChanged, this, &ShedClient::moved);
}

ShedClient::~ShedClient() = default;

void ShedClient::start(const QUrl& shed) {
  if (running()) return;
  shed_ = shed;
  shed_.setPath(QStringLiteral("/exchange"));
  known_ = {};
  if (shed.scheme() == QLatin1String("https")) {
    const auto kept = pairedShed(store_->directory().toStdString());
    if (!kept) {
      Failure failure;
      failure.kind = FailureKind::refused;
      failure.what = "this tablet is not paired with the shed";
      failure.todo = "ask for a code at the shed and enter it here";
      Q_EMIT broke(failure);
      return;
    }
    known_ = *kept;
  }
  line_.call(known_);
  tally_ = {};
  toReceive_.reset();
  photosSent_ = 0;
  photoTroubles_.clear();
  auto named = course::namedPhotos(store_->journal());
  named_ = named ? std::move(*named) : std::vector<course::NamedPhoto>();
  asker_ = std::make_unique<exchange::Asker>(store_->journal(), exchange::shedName);
  ask();
}

void ShedClient::pair(const QUrl& shed, const std::string& code, const std::string& fingerprint) {
  if (running()) return;
  const auto signer = journal::Signer::read(store_->directory().toStdString() + "/origin.key");
  if (!signer) {
    Q_EMIT broke(signer.error());
    return;
  }
  shed_ = shed;
  shed_.setPath(QStringLiteral("/pair"));
  known_ = {fingerprint, {}};
  pairing_ = true;
  line_.call(known_);
  const auto question = exchange::pairingQuestion(
      *signer, code, store_->settings().device.toStdString(), fingerprint);
  post(shed_, "application/json", exchange::write(question), &ShedClient::pairingAnswered);
}

void ShedClient::pairingAnswered(QNetworkReply& reply) {
  if (ShedLine::statusOf(reply) != 200) return breakOff(line_.trouble(reply));
  const QByteArray body = reply.read(static_cast<qint64>(exchange::limits::pairingBytes) + 1);
  const auto token = exchange::parsePairingAnswer(body.toStdString());
  if (!token) return breakOff(token.error());
  known_.token = *token;
  if (auto kept = keepPairedShed(store_->directory().toStdString(), known_); !kept) {
    return breakOff(kept.error());
  }
  end();
  Q_EMIT paired();
}

void ShedClient::stop() {
  if (!running()) return;
  Failure failure;
  failure.what = "stopped";
  breakOff(failure);
}

void ShedClient::breakOff(const Failure& failure) {
  end();
  Q_EMIT broke(failure);
}

void ShedClient::end() {
  if (asker_) {
    tally_ = asker_->tally();
    dropErased();
  }
  sender_.reset();
  taker_.reset();
  asker_.reset();
  pairing_ = false;
  line_.hangUp();
}

void ShedClient::post(const QUrl& to, const QByteArray& type, const std::string& body,
                      Answered answered) {
  answered_ = answered;
  line_.post(to, type, body);
}

void ShedClient::ask() {
  const auto question = asker_->next(store_->clock().now_ms());
  if (!question) return breakOff(question.error());
  if (!*question) return sendPhotos();
  taker_.emplace(*asker_);
  post(shed_, contentType, exchange::compress(exchange::write(**question)),
       &ShedClient::questionAnswered);
}

void ShedClient::sendPhotos() {
  if (!sender_) sender_.emplace(photos_, asker_->peerMisses());
  if (const auto part = sender_->next()) {
    QUrl to = shed_;
    const QString target = text(exchange::writePhotoTarget(part->target));
    to.setPath(target.section(QLatin1Char('?'), 0, 0));
    to.setQuery(target.section(QLatin1Char('?'), 1));
    return post(to, exchange::photoType, part->bytes, &ShedClient::photoAnswered);
  }
  const std::uint64_t sent = sender_->sent();
  photosSent_ += sent;
  photoTroubles_.insert(photoTroubles_.end(), sender_->troubles().begin(),
                        sender_->troubles().end());
  sender_.reset();
  // A shed names as many as fit into an answer; there may be more.
  if (sent > 0 && asker_->peerMisses().size() == exchange::limits::missingPhotos) {
    asker_->askAgain();
    return ask();
  }
  end();
  Q_EMIT done();
}

void ShedClient::photoAnswered(QNetworkReply& reply) {
  const int status = ShedLine::statusOf(reply);
  if (status == 200) {
    const QByteArray body = reply.read(static_cast<qint64>(exchange::limits::helloBytes));
    const auto have = exchange::parsePhotoAnswer(body.toStdString());
    if (!have) return breakOff(have.error());
    sender_->taken(*have);
  } else if (status >= 400 && status < 500) {
    sender_->refused(line_.trouble(reply).what);
  } else {
    Failure failure = line_.trouble(reply);
    failure.what = "the records are through, but photos are not: " + failure.what;
    failure.todo = "nothing is lost; the next exchange goes on with them";
    photosSent_ += sender_->sent();
    return breakOff(failure);
  }
  Q_EMIT moved();
  sendPhotos();
}

void ShedClient::dropErased() {
  const auto now = course::namedPhotos(store_->journal());
  if (now) course::dropErased(photos_, named_, *now);  // else at the next exchange
}

void ShedClient::arrived(QNetworkReply& reply) {
  if (!taker_ || reply.bytesAvailable() < worthTaking_bytes) return;
  const auto taken = takeArrived(reply);
  if (!taken) return breakOff(taken.error());
  tally_ = asker_->tally();
  Q_EMIT moved();
}

void ShedClient::questionAnswered(QNetworkReply& reply) {
  if (ShedLine::statusOf(reply) != 200) return breakOff(line_.trouble(reply));
  auto taken = takeArrived(reply);
  if (taken && reply.error() != QNetworkReply::NoError) return breakOff(line_.trouble(reply));
  if (taken) taken = taker_->finish();
  if (!taken) return breakOff(taken.error());
  taker_.reset();
  tally_ = asker_->tally();
  Q_EMIT moved();
  ask();
}

Result<void> ShedClient::takeArrived(QNetworkReply& reply) {
  const QByteArray bytes = reply.readAll();
  auto taken = taker_->take({bytes.constData(), static_cast<std::size_t>(bytes.size())},
                            store_->clock().now_ms());
  if (taker_->hello()) countMissing(*taker_->hello());
  return taken;
}

void ShedClient::countMissing(const exchange::Hello& hello) {
  if (toReceive_ || !hello.heads) return;
  std::map<journal::OriginKey, std::uint64_t> here;
  for (const journal::Head& head : store_->journal().heads()) {
    here[head.origin] = std::max(here[head.origin], head.number);
  }
  std::uint64_t missing = 0;
  for (const journal::Head& head : *hello.heads) {
    const std::uint64_t held = here[head.origin];
    if (head.number > held) missing += head.number - held;
  }
  toReceive_ = missing;
}

}  // namespace swardwalk::mobile
