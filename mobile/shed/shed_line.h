#pragma once

#include <QNetworkAccessManager>
#include <QObject>
#include <QPointer>
#include <QTimer>
#include <QUrl>
#include <optional>
#include <string>

#include "common/exchange/busy_wait.h"
#include "common/failure.h"
#include "mobile/shed/paired_shed.h"

class QNetworkReply;

namespace swardwalk::mobile {

/// The line to one shed: posts one question at a time and gives its answer, asynchronously.
/// With https it speaks to the shed whose certificate is pinned, and sends nothing to
/// another; its name and dates are not asked, since the fingerprint says more. A shed that
/// says that it is busy is asked again, as PROTOCOL.md has it. Use from the GUI thread.
class ShedLine : public QObject {
  Q_OBJECT

 public:
  explicit ShedLine(QObject* parent = nullptr, const exchange::BusyWait::Limits& busy = {});
  ~ShedLine() override;

  /// From now on the shed is this one; what was agreed with another is not used again.
  void call(const PairedShed& shed);
  /// `answered` follows, unless it is hung up before.
  void post(const QUrl& to, const QByteArray& type, const std::string& body);
  void hangUp();

  /// The shed said that it is busy, and is asked again after a while.
  bool waits() const { return again_.isActive(); }

  static int statusOf(const QNetworkReply& reply);
  /// Why there is no answer with status 200: another certificate, the network, or the shed's
  /// own refusal, whose reason is written for people. Reads the reply.
  Failure trouble(QNetworkReply& reply) const;

 Q_SIGNALS:
  /// Bytes of an answer lie there to be read.
  void arrived(QNetworkReply& reply);
  /// It has ended, well or not; deleted when control returns to the event loop.
  void answered(QNetworkReply& reply);
  /// `waits` changed.
  void busyChanged();

 private:
  void send();
  void checkCertificate();
  void finished();

  struct Question {
    QUrl to;
    QByteArray type;
    QByteArray body;
  };

  QNetworkAccessManager network_;
  QPointer<QNetworkReply> reply_;
  PairedShed shed_;             ///< whose certificate is expected
  std::string metFingerprint_;  ///< of a certificate that is another one; empty: none
  Question question_;
  exchange::BusyWait::Limits busyLimits_;
  exchange::BusyWait busy_;
  QTimer again_;
};

}  // namespace swardwalk::mobile
