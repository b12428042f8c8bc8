#include "mobile/shed/shed_client.h"

#include <QJsonDocument>
#include <QJsonObject>
#include <QNetworkReply>
#include <QNetworkRequest>
#include <map>

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
  tally_ = {};
  toReceive_.reset();
  asker_ = std::make_unique<exchange::Asker>(store_->journal(), exchange::shedName);
  ask();
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
  QNetworkRequest request(shed_);
  request.setHeader(QNetworkRequest::ContentTypeHeader, QByteArray(contentType));
  request.setRawHeader("Accept", contentType);
  request.setTransferTimeout(patience_ms);
  const std::string body = exchange::compress(exchange::write(**question));
  taker_.emplace(*asker_);
  reply_ = network_.post(request, QByteArray::fromStdString(body));
  connect(reply_, &QNetworkReply::readyRead, this, &ShedClient::arrived);
  connect(reply_, &QNetworkReply::finished, this, &ShedClient::answered);
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
  if (status == 0) return breakOff(unreachable(*reply));
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
