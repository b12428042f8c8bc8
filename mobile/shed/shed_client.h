#pragma once

#include <QObject>
#include <QUrl>
#include <memory>
#include <optional>

#include "common/course/photos.h"
#include "common/exchange/answer_taker.h"
#include "common/exchange/photos.h"
#include "mobile/app/store.h"
#include "mobile/shed/paired_shed.h"
#include "mobile/shed/shed_line.h"

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

  bool running() const { return asker_ != nullptr || pairing_; }
  void start(const QUrl& shed);
  /// Pairs with the shed that has this certificate: the code as it was read, the fingerprint
  /// 64 digits. Sends `paired`, or `broke`.
  void pair(const QUrl& shed, const std::string& code, const std::string& fingerprint);
  void stop();

  const exchange::Tally& tally() const { return tally_; }
  /// The shed is busy with others, and is asked again after a while.
  bool waits() const { return line_.waits(); }
  /// The records are through, and photos follow.
  bool sendingPhotos() const { return sender_.has_value(); }
  /// Photos that the shed has whole since this exchange began, and why others are not.
  std::uint64_t photosSent() const { return photosSent_ + (sender_ ? sender_->sent() : 0); }
  const std::vector<std::string>& photoTroubles() const { return photoTroubles_; }
  /// Records that the shed said it has and that are not here, as far as known.
  std::optional<std::uint64_t> toReceive() const { return toReceive_; }

 Q_SIGNALS:
  void moved();
  /// Over, and both hold the same.
  void done();
  /// The shed lets this tablet in from now on; that is on disk.
  void paired();
  /// Over before that: what happened, what is safe, what to do.
  void broke(const swardwalk::Failure& failure);

 private:
  using Answered = void (ShedClient::*)(QNetworkReply&);
  void post(const QUrl& to, const QByteArray& type, const std::string& body, Answered answered);
  void pairingAnswered(QNetworkReply& reply);
  void ask();
  /// The records are through: the next part of what the shed misses of this tablet's photos.
  void sendPhotos();
  void photoAnswered(QNetworkReply& reply);
  /// Photos whose records were erased meanwhile.
  void dropErased();
  void arrived(QNetworkReply& reply);
  void questionAnswered(QNetworkReply& reply);
  /// Takes what lies there of the answer; what is whole of it is on disk afterwards.
  Result<void> takeArrived(QNetworkReply& reply);
  void breakOff(const Failure& failure);
  void countMissing(const exchange::Hello& hello);
  void end();

  Store* store_;
  ShedLine line_;
  Answered answered_ = nullptr;  ///< who takes the answer of the question under way
  QUrl shed_;
  PairedShed known_;  ///< of an encrypted shed
  bool pairing_ = false;
  std::unique_ptr<exchange::Asker> asker_;
  std::optional<exchange::AnswerTaker> taker_;  ///< of the answer under way
  exchange::Tally tally_;
  journal::PhotoFolder photos_;
  std::vector<course::NamedPhoto> named_;  ///< when the exchange began
  std::optional<exchange::PhotoSender> sender_;
  std::uint64_t photosSent_ = 0;
  std::vector<std::string> photoTroubles_;
  std::optional<std::uint64_t> toReceive_;
};

}  // namespace swardwalk::mobile
