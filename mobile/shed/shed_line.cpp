#include "mobile/shed/shed_line.h"

#include <QJsonDocument>
#include <QJsonObject>
#include <QNetworkReply>
#include <QNetworkRequest>
#include <QSslCertificate>
#include <QSslConfiguration>

namespace swardwalk::mobile {

namespace {

/// Without a byte for so long the shed is taken to be out of reach.
constexpr int patience_ms = 20'000;
constexpr qint64 longestRefusal_bytes = 64 * 1024;
constexpr int serviceUnavailable = 503;

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

}  // namespace

ShedLine::ShedLine(QObject* parent, const exchange::BusyWait::Limits& busy)
    : QObject(parent), busyLimits_(busy) {
  again_.setSingleShot(true);
  connect(&again_, &QTimer::timeout, this, [this] {
    send();
    Q_EMIT busyChanged();
  });
}

ShedLine::~ShedLine() = default;

void ShedLine::call(const PairedShed& shed) {
  shed_ = shed;
  network_.clearConnectionCache();
}

void ShedLine::post(const QUrl& to, const QByteArray& type, const std::string& body) {
  question_ = {to, type, QByteArray::fromStdString(body)};
  busy_ = exchange::BusyWait(busyLimits_);
  send();
}

void ShedLine::hangUp() {
  again_.stop();
  if (!reply_) return;
  reply_->disconnect(this);
  reply_->abort();
  reply_->deleteLater();
  reply_ = nullptr;
}

void ShedLine::send() {
  QNetworkRequest request(question_.to);
  request.setHeader(QNetworkRequest::ContentTypeHeader, question_.type);
  request.setRawHeader("Accept", question_.type);
  request.setTransferTimeout(patience_ms);
  // A shed sends nobody elsewhere.
  request.setAttribute(QNetworkRequest::RedirectPolicyAttribute,
                       QNetworkRequest::ManualRedirectPolicy);
  request.setAttribute(QNetworkRequest::Http2AllowedAttribute, false);
  if (!shed_.token.empty()) {
    request.setRawHeader("Authorization", "Bearer " + QByteArray::fromStdString(shed_.token));
  }
  metFingerprint_.clear();
  if (question_.to.scheme() == QLatin1String("https")) {
    QSslConfiguration tls = QSslConfiguration::defaultConfiguration();
    tls.setProtocol(QSsl::TlsV1_2OrLater);
    // The pinned fingerprint is compared instead, before anything is sent.
    tls.setPeerVerifyMode(QSslSocket::VerifyNone);
    request.setSslConfiguration(tls);
  }
  reply_ = network_.post(request, question_.body);
  connect(reply_, &QNetworkReply::encrypted, this, &ShedLine::checkCertificate);
  connect(reply_, &QNetworkReply::readyRead, this, [this] {
    if (statusOf(*reply_) == 200) {
      Q_EMIT arrived(*reply_);
    } else if (reply_->bytesAvailable() > longestRefusal_bytes) {
      reply_->abort();
    }
  });
  connect(reply_, &QNetworkReply::finished, this, &ShedLine::finished);
}

void ShedLine::checkCertificate() {
  const QByteArray met =
      reply_->sslConfiguration().peerCertificate().digest(QCryptographicHash::Sha256).toHex();
  if (met.toStdString() == shed_.fingerprint) return;
  metFingerprint_ = met.toStdString();
  reply_->abort();
}

void ShedLine::finished() {
  QNetworkReply* reply = reply_;
  reply_ = nullptr;
  reply->deleteLater();
  if (statusOf(*reply) == serviceUnavailable) {
    if (const auto wait = busy_.next(reply->rawHeader("Retry-After").toStdString())) {
      again_.start(*wait);
      Q_EMIT busyChanged();
      return;
    }
  }
  Q_EMIT answered(*reply);
}

int ShedLine::statusOf(const QNetworkReply& reply) {
  return reply.attribute(QNetworkRequest::HttpStatusCodeAttribute).toInt();
}

Failure ShedLine::trouble(QNetworkReply& reply) const {
  const int status = statusOf(reply);
  if (status != 0 && status != 200) {
    return refusal(status, reply.isOpen() ? reply.readAll() : QByteArray());
  }
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

}  // namespace swardwalk::mobile
