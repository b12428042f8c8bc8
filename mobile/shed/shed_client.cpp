#include "mobile/shed/shed_client.h"

#include <QJsonDocument>
#include <QJsonObject>
#include <QNetworkReply>
#include <QNetworkRequest>
#include <QSslCertificate>
#include <QSslConfiguration>
#include <map>

#include "common/exchange/pairing.h"
#include "mobile/app/show.h"
#include "mobile/shed/shed_log.h"

namespace swardwalk::mobile {

namespace {

constexpr char contentType[] = "application/vnd.swardwalk.exchange+zstd";
/// Without a byte for so long the shed is taken to be out of reach.
constexpr int patience_ms = 20'000;
/// Each taking is a commit and so a wait for the disk; less than this is left to lie until
/// the answer ends or is cut.
constexpr qint64 worthTaking_bytes = 64 * 1024;

Failure unreachable(const QNetworkReply& reply) {
  Failure failure;
  failure.kind = FailureKind::io;
  const QString host = reply.url().host();
  switch (reply.error()) {
    case QNetworkReply::ConnectionRefusedError:
      failure.what = "the shed does not answer at " + host.toStdString();
      failure.todo = "check that its server runs and that the address is right";
      break;
    case QNetworkReply::HostNotFoundError:
      failure.what = "there is no " + host.toStdString() + " in this network";
      failure.todo = "check the Wi-Fi and the address";
      break;
    case QNetworkReply::TimeoutError:
    case QNetworkReply::OperationCanceledError:
      failure.what = "the shed was not heard for 20 seconds";
      failure.todo = "go nearer and start again; it goes on where it was cut";
      break;
    default:
      failure.what = "the line to the shed broke";
      failure.todo = "start again; it goes on where it was cut";
  }
  return failure;
}

/// What the server says about a refused request; its reason is written for people.
Failure refusal(int status, const QByteArray& body) {
  const QJsonObject answer = QJsonDocument::fromJson(body).object();
  Failure failure;
  failure.kind = FailureKind::refused;
  failure.what = answer["reason"].toString().toStdString();
  if (failure.what.empty()) {
    failure.what = "the shed refused the exchange (" + std::to_string(status) + ")";
  }
  failure.todo = "nothing is lost on this tablet";
  return failure;
}

bool isEncrypted(const QUrl& shed) { return shed.scheme() == QLatin1String("https"); }

int statusOf(const QNetworkReply& reply) {
  return reply.attribute(QNetworkRequest::HttpStatusCodeAttribute).toInt();
}

}  // namespace

ShedClient::ShedClient(Store& store, QObject* parent) : QObject(parent), store_(&store) {}

ShedClient::~ShedClient() = default;

void ShedClient::start(const QUrl& shed) {
  if (running()) return;
  shed_ = shed;
  shed_.setPath(QStringLiteral("/exchange"));
  known_ = {};
  if (isEncrypted(shed)) {
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
  // What was agreed with another certificate is not used again.
  network_.clearConnectionCache();
  tally_ = {};
  toReceive_.reset();
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
  network_.clearConnectionCache();
  const auto question = exchange::pairingQuestion(
      *signer, code, store_->settings().device.toStdString(), fingerprint);
  post("application/json", exchange::write(question));
  connect(reply_, &QNetworkReply::finished, this, &ShedClient::pairingAnswered);
}

void ShedClient::pairingAnswered() {
  QNetworkReply* reply = reply_;
  reply_ = nullptr;
  reply->deleteLater();
  const int status = statusOf(*reply);
  if (status == 0) return breakOff(notMet(*reply));
  const QByteArray body = reply->read(static_cast<qint64>(exchange::limits::pairingBytes) + 1);
  if (status != 200) return breakOff(refusal(status, body));
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
  if (asker_) tally_ = asker_->tally();
  taker_.reset();
  asker_.reset();
  pairing_ = false;
  if (reply_) {
    reply_->disconnect(this);
    reply_->abort();
    reply_->deleteLater();
    reply_ = nullptr;
  }
}

void ShedClient::ask() {
  const auto question = asker_->next(store_->clock().now_ms());
  if (!question) return breakOff(question.error());
  if (!*question) {
    end();
    Q_EMIT done();
    return;
  }
  taker_.emplace(*asker_);
  post(contentType, exchange::compress(exchange::write(**question)));
  connect(reply_, &QNetworkReply::readyRead, this, &ShedClient::arrived);
  connect(reply_, &QNetworkReply::finished, this, &ShedClient::answered);
}

void ShedClient::post(const QByteArray& type, const std::string& body) {
  QNetworkRequest request(shed_);
  request.setHeader(QNetworkRequest::ContentTypeHeader, type);
  request.setRawHeader("Accept", type);
  request.setTransferTimeout(patience_ms);
  // A shed sends nobody elsewhere.
  request.setAttribute(QNetworkRequest::RedirectPolicyAttribute,
                       QNetworkRequest::ManualRedirectPolicy);
  request.setAttribute(QNetworkRequest::Http2AllowedAttribute, false);
  if (!known_.token.empty()) {
    request.setRawHeader("Authorization", "Bearer " + QByteArray::fromStdString(known_.token));
  }
  metFingerprint_.clear();
  if (isEncrypted(shed_)) {
    QSslConfiguration tls = QSslConfiguration::defaultConfiguration();
    tls.setProtocol(QSsl::TlsV1_2OrLater);
    // The pinned fingerprint is compared instead, before anything is sent.
    tls.setPeerVerifyMode(QSslSocket::VerifyNone);
    request.setSslConfiguration(tls);
  }
  reply_ = network_.post(request, QByteArray::fromStdString(body));
  connect(reply_, &QNetworkReply::encrypted, this, &ShedClient::checkCertificate);
}

void ShedClient::checkCertificate() {
  const QByteArray met =
      reply_->sslConfiguration().peerCertificate().digest(QCryptographicHash::Sha256).toHex();
  if (met.toStdString() == known_.fingerprint) return;
  metFingerprint_ = met.toStdString();
  reply_->abort();
}

Failure ShedClient::notMet(const QNetworkReply& reply) const {
  if (metFingerprint_.empty()) return unreachable(reply);
  Failure failure;
  failure.kind = FailureKind::refused;
  failure.what = "this is not the shed that this tablet knows";
  failure.todo =
      "its certificate is another one: it got a new one, or somebody stands between. Nothing was "
      "sent. Ask at the shed which fingerprint it shows, and pair again if it begins with " +
      metFingerprint_.substr(0, 16);
  return failure;
}

void ShedClient::arrived() {
  if (reply_->bytesAvailable() < worthTaking_bytes) return;
  if (statusOf(*reply_) != 200) return reply_->abort();  // a refusal is short
  const auto taken = takeArrived(*reply_);
  if (!taken) return breakOff(taken.error());
  tally_ = asker_->tally();
  Q_EMIT moved();
}

void ShedClient::answered() {
  QNetworkReply* reply = reply_;
  reply_ = nullptr;
  reply->deleteLater();
  const int status = statusOf(*reply);
  if (status == 0) return breakOff(notMet(*reply));
  if (status != 200) return breakOff(refusal(status, reply->readAll()));
  auto taken = takeArrived(*reply);
  if (taken && reply->error() != QNetworkReply::NoError) return breakOff(unreachable(*reply));
  if (taken) taken = taker_->finish();
  if (!taken) return breakOff(taken.error());
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
