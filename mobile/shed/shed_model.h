#pragma once

#include <QtQml/qqmlregistration.h>
#include <QObject>
#include <QTimer>
#include <set>
#include <string>
#include <utility>

#include "common/exchange/pairing.h"
#include "mobile/app/rows.h"
#include "mobile/app/show.h"
#include "mobile/app/store.h"
#include "mobile/photos/camera_folder.h"
#include "mobile/shed/shed_client.h"
#include "mobile/shed/shed_log.h"

namespace swardwalk::mobile {

/// What Shed shows.
struct ShedShow {
  Q_GADGET
  QML_VALUE_TYPE(shedShow)
  Q_PROPERTY(bool running MEMBER running CONSTANT)
  Q_PROPERTY(QString title MEMBER title CONSTANT)
  Q_PROPERTY(QString second MEMBER second CONSTANT)
  Q_PROPERTY(double givenShare MEMBER givenShare CONSTANT)
  Q_PROPERTY(QString given MEMBER given CONSTANT)
  Q_PROPERTY(QString givenOf MEMBER givenOf CONSTANT)
  Q_PROPERTY(double receivedShare MEMBER receivedShare CONSTANT)
  Q_PROPERTY(QString received MEMBER received CONSTANT)
  Q_PROPERTY(QString receivedOf MEMBER receivedOf CONSTANT)
  Q_PROPERTY(bool hasCounts MEMBER hasCounts CONSTANT)
  Q_PROPERTY(bool canStart MEMBER canStart CONSTANT)
  Q_PROPERTY(bool encrypted MEMBER encrypted CONSTANT)
  Q_PROPERTY(bool asksToPair MEMBER asksToPair CONSTANT)
  Q_PROPERTY(bool canPair MEMBER canPair CONSTANT)
  Q_PROPERTY(QString pairedLine MEMBER pairedLine CONSTANT)
  Q_PROPERTY(QString together MEMBER together CONSTANT)

 public:
  bool running = false;
  QString title, second;
  double givenShare = 0.0;
  QString given, givenOf;  ///< "22", "of 31 records"
  double receivedShare = 0.0;
  QString received, receivedOf;
  bool hasCounts = false;
  bool canStart = false;
  bool encrypted = false;   ///< the address is one where a tablet is let in with a code
  bool asksToPair = false;  ///< encrypted, or no address yet: a code may bring one
  bool canPair = false;     ///< code and fingerprint can be what they should be
  QString pairedLine;       ///< "Paired with the shed of certificate 3f2a 91c0 …"
  QString together;         ///< "Nothing lost, nothing doubled: 4,812 records on both sides …"
};

/// The page that gives the shed what it lacks, and takes what this tablet lacks.
class ShedModel : public QObject {
  Q_OBJECT
  QML_ELEMENT
  QML_UNCREATABLE("made at start")
  Q_PROPERTY(swardwalk::mobile::ShedShow show READ show NOTIFY changed)
  Q_PROPERTY(QString address READ address WRITE setAddress NOTIFY addressChanged)
  /// As typed, or all three from one pasted text.
  Q_PROPERTY(QString code READ code WRITE setCode NOTIFY codeChanged)
  Q_PROPERTY(QString fingerprint READ fingerprint WRITE setFingerprint NOTIFY fingerprintChanged)
  /// What only this tablet holds: what, count.
  Q_PROPERTY(QAbstractItemModel* onlyHere READ onlyHere CONSTANT)
  /// The last exchanges: when, given, received, words.
  Q_PROPERTY(QAbstractItemModel* visits READ visits CONSTANT)
  /// What somebody should know: title, reason, weight.
  Q_PROPERTY(QAbstractItemModel* alarms READ alarms CONSTANT)
  /// Two patches that may be one since journals met: patch, other, title, reason (X4).
  Q_PROPERTY(QAbstractItemModel* same READ same CONSTANT)

 public:
  struct CountRow {
    QString what, count;
  };
  struct VisitRow {
    QString when, given, received, words;
  };
  struct SameRow {
    QString patch, other, title, reason;
  };

  /// All must outlive this.
  ShedModel(Store& store, ShedLog& log, const CameraFolder& camera, QObject* parent = nullptr);

  const ShedShow& show() const { return show_; }
  QString address() const { return store_->settings().shed; }
  void setAddress(const QString& address);
  const QString& code() const { return code_; }
  void setCode(const QString& code);
  const QString& fingerprint() const { return fingerprint_; }
  void setFingerprint(const QString& fingerprint);
  QAbstractItemModel* onlyHere() { return &onlyHere_; }
  QAbstractItemModel* visits() { return &visits_; }
  QAbstractItemModel* alarms() { return &alarms_; }
  QAbstractItemModel* same() { return &same_; }

  Q_INVOKABLE void exchangeNow();
  Q_INVOKABLE void pairNow();
  /// Address, fingerprint and code from the newest pictures that the camera took of the code
  /// at the shed.
  Q_INVOKABLE void readPicture();
  Q_INVOKABLE void stop();
  /// Opens the question whether these two are one.
  Q_INVOKABLE void decide(const QString& patch, const QString& other);

 Q_SIGNALS:
  void changed();
  void addressChanged();
  void codeChanged();
  void fingerprintChanged();
  void sameWanted(const QString& patch, const QString& other);

 private:
  using Pair = std::pair<std::string, std::string>;

  /// Address, fingerprint and code out of one text; false where it is none of these.
  bool takeCard(const QString& text);
  void take(const exchange::PairingCard& card);
  void pairingDone();
  void finished(const Failure* failure);
  void refresh();
  void tellClock();
  void renewIfForked();
  std::set<Pair> suggested();
  void tellSame();

  Store* store_;
  ShedLog* log_;
  const CameraFolder* camera_;
  ShedClient client_;
  ShedShow show_;
  Rows<CountRow> onlyHere_;
  Rows<VisitRow> visits_;
  Rows<AdviceText> alarms_;
  Rows<SameRow> same_;
  std::set<Pair> knownSame_;  ///< pairs that were suggested before journals met
  bool met_ = false;
  std::vector<AdviceText> alarmList_;
  std::uint64_t toGive_ = 0;
  AdviceText outcome_;
  QString code_, fingerprint_;
  std::optional<PairedShed> paired_;
  bool pairing_ = false;
};

/// The shed's address as typed, made whole; empty where it is none.
QUrl shedAddress(const QString& typed);

}  // namespace swardwalk::mobile
