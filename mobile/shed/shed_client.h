#pragma once

#include <QNetworkAccessManager>
#include <QObject>
#include <QPointer>
#include <QUrl>
#include <memory>
#include <optional>

#include "common/exchange/answer_taker.h"
#include "mobile/app/store.h"
#include "mobile/shed/paired_shed.h"

class QNetworkReply;

namespace swardwalk::mobile {

/// Carries an exchange over HTTP: one question a request, until neither side has more to
/// give. May be stopped at any time; the next exchange goes on (X1). The network is
/// asynchronous, the journal's work is done on this thread. Use from the GUI thread.
/// With https it speaks to the one shed whose certificate is pinned, and sends nothing to
/// another; its name and dates are not asked, since the fingerprint says more.
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
  void post(const QByteArray& type, const std::string& body);
  void checkCertificate();
  /// What kept the shed from being asked: another certificate, or the network.
  Failure notMet(const QNetworkReply& reply) const;
  void pairingAnswered();
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
  PairedShed known_;            ///< of an encrypted shed: whose certificate is expected
  std::string metFingerprint_;  ///< of a certificate that is another one; empty: none
  bool pairing_ = false;
  std::unique_ptr<exchange::Asker> asker_;
  std::optional<exchange::AnswerTaker> taker_;  ///< of the answer under way
  exchange::Tally tally_;
  std::optional<std::uint64_t> toReceive_;
};

}  // namespace swardwalk::mobile
