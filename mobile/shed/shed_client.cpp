#include "mobile/shed/shed_client.h"

#include <QJsonDocument>
#include <QJsonObject>
#include <QNetworkReply>
#include <QNetworkRequest>
#include <map>

#include "common/exchange/compression.h"
#include "mobile/app/show.h"
#include "mobile/shed/shed_log.h"

namespace swardwalk::mobile {

namespace {

constexpr char contentType[] = "application/vnd.swardwalk.exchange+zstd";
/// Without a byte for so long the shed is taken to be out of reach.
constexpr int patience_ms = 20'000;
constexpr qint64 largestAnswer_bytes = exchange::limits::messageBytes;

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

ShedClient::ShedClient(Store& store, QObject* parent) : QObject(parent), store_(&store) {}

ShedClient::~ShedClient() = default;

void ShedClient::start(const QUrl& shed) {
  if (running()) return;
  shed_ = shed;
  shed_.setPath(QStringLiteral("/exchange"));
  tally_ = {};
  toReceive_.reset();
  asker_ = std::make_unique<exchange::Asker>(store_->journal(), shedName);
  ask();
}

void ShedClient::stop() {
  if (!running()) return;
  end();
  Failure failure;
  failure.what = "stopped";
  Q_EMIT broke(failure);
}

void ShedClient::end() {
  if (asker_) tally_ = asker_->tally();
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
  if (!question) {
    end();
    Q_EMIT broke(question.error());
    return;
  }
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
  reply_ = network_.post(request, QByteArray::fromStdString(body));
  connect(reply_, &QNetworkReply::downloadProgress, this, [this](qint64 received, qint64) {
    if (received > largestAnswer_bytes && reply_) reply_->abort();
  });
  connect(reply_, &QNetworkReply::finished, this, &ShedClient::answered);
}

void ShedClient::answered() {
  QNetworkReply* reply = reply_;
  reply_ = nullptr;
  reply->deleteLater();
  const int status = reply->attribute(QNetworkRequest::HttpStatusCodeAttribute).toInt();
  const QByteArray body = reply->readAll();
  if (status == 0 || (status == 200 && reply->error() != QNetworkReply::NoError)) {
    const Failure failure = unreachable(*reply);
    end();
    Q_EMIT broke(failure);
    return;
  }
  if (status != 200) {
    end();
    Q_EMIT broke(refusal(status, body));
    return;
  }
  const auto taken = takeAnswer(body);
  tally_ = asker_->tally();
  if (!taken) {
    end();
    Q_EMIT broke(taken.error());
    return;
  }
  Q_EMIT moved();
  ask();
}

Result<void> ShedClient::takeAnswer(const QByteArray& body) {
  const auto lines = exchange::decompress({body.constData(), static_cast<std::size_t>(body.size())},
                                          exchange::limits::messageBytes);
  if (!lines) return tl::unexpected(lines.error());
  exchange::MessageReader reader;
  const auto read = reader.take(*lines);
  if (!read) return read;
  if (!reader.hello()) {
    return fail(FailureKind::corrupt, "", "the shed's answer was cut",
                "start again; it goes on where it was cut");
  }
  countMissing(*reader.hello());
  auto taken = asker_->take(*reader.hello(), store_->clock().now_ms());
  if (!taken) return taken;
  taken = asker_->take(reader.takeRuns());
  if (!taken) return taken;
  if (!reader.ended()) {
    return fail(FailureKind::corrupt, "", "the shed's answer was cut",
                "start again; it goes on where it was cut");
  }
  return asker_->finish();
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
