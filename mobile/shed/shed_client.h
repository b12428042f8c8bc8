#pragma once

#include <QNetworkAccessManager>
#include <QObject>
#include <QPointer>
#include <QUrl>
#include <memory>
#include <optional>

#include "common/exchange/answer_taker.h"
#include "mobile/app/store.h"

class QNetworkReply;

namespace swardwalk::mobile {

/// Carries an exchange over HTTP: one question a request, until neither side has more to
/// give. May be stopped at any time; the next exchange goes on (X1). The network is
/// asynchronous, the journal's work is done on this thread. Use from the GUI thread.
class ShedClient : public QObject {
  Q_OBJECT

 public:
  /// `store` must outlive this.
  explicit ShedClient(Store& store, QObject* parent = nullptr);
  ~ShedClient() override;

  bool running() const { return asker_ != nullptr; }
  void start(const QUrl& shed);
  void stop();

  const exchange::Tally& tally() const { return tally_; }
  /// Records that the shed said it has and that are not here, as far as known.
  std::optional<std::uint64_t> toReceive() const { return toReceive_; }

 Q_SIGNALS:
  void moved();
  /// Over, and both hold the same.
  void done();
  /// Over before that: what happened, what is safe, what to do.
  void broke(const swardwalk::Failure& failure);

 private:
  void ask();
  void arrived();
  void answered();
  /// Takes what lies there of the answer; what is whole of it is on disk afterwards.
  Result<void> takeArrived(QNetworkReply& reply);
  void breakOff(const Failure& failure);
  void countMissing(const exchange::Hello& hello);
  void end();

  Store* store_;
  QNetworkAccessManager network_;
  QPointer<QNetworkReply> reply_;
  QUrl shed_;
  std::unique_ptr<exchange::Asker> asker_;
  std::optional<exchange::AnswerTaker> taker_;  ///< of the answer under way
  exchange::Tally tally_;
  std::optional<std::uint64_t> toReceive_;
};

}  // namespace swardwalk::mobile
