#pragma once

#include <QtQml/qqmlregistration.h>
#include <QObject>
#include <QStringList>
#include <string>

#include "common/answers/choosing.h"
#include "mobile/app/rows.h"
#include "mobile/app/show.h"
#include "mobile/app/store.h"

namespace swardwalk::mobile {

/// What the page shows beside its cards.
struct ChoiceShow {
  Q_GADGET
  QML_VALUE_TYPE(choiceShow)
  Q_PROPERTY(QString title MEMBER title CONSTANT)
  Q_PROPERTY(swardwalk::mobile::SymbolLook look MEMBER look CONSTANT)
  Q_PROPERTY(QString planned MEMBER planned CONSTANT)
  Q_PROPERTY(QString by MEMBER by CONSTANT)
  Q_PROPERTY(QString reason MEMBER reason CONSTANT)
  Q_PROPERTY(QString summary MEMBER summary CONSTANT)
  Q_PROPERTY(QStringList names MEMBER names CONSTANT)
  Q_PROPERTY(swardwalk::mobile::AdviceText trouble MEMBER trouble CONSTANT)
  Q_PROPERTY(bool canFollow MEMBER canFollow CONSTANT)
  Q_PROPERTY(bool canSave MEMBER canSave CONSTANT)

 public:
  QString title;  ///< "Choose for Hollow 7"
  SymbolLook look;
  QString planned;  ///< "Fill and sow"
  QString by;       ///< "computed", or "chosen by Ansa"
  QString reason;
  QString summary;    ///< what will be saved, in words
  QStringList names;  ///< who may be given the work
  AdviceText trouble;
  bool canFollow = false;  ///< a person's choice stands, and can be taken back
  bool canSave = false;
};

/// A person chooses otherwise than the plan, and says who does it and why.
class ChoiceModel : public QObject {
  Q_OBJECT
  QML_ELEMENT
  QML_UNCREATABLE("made at start")
  Q_PROPERTY(swardwalk::mobile::ChoiceShow show READ show NOTIFY changed)
  /// title, lines, mark ("advised", "in the plan"), possible, picked; spoken: all in one.
  Q_PROPERTY(QAbstractItemModel* cards READ cards CONSTANT)
  Q_PROPERTY(QString who READ who WRITE setWho NOTIFY changed)
  Q_PROPERTY(QString why READ why WRITE setWhy NOTIFY changed)

 public:
  /// `store` must outlive this.
  explicit ChoiceModel(Store& store, QObject* parent = nullptr);

  const ChoiceShow& show() const { return show_; }
  QAbstractItemModel* cards() { return &cards_; }
  QString who() const { return who_; }
  void setWho(const QString& who);
  QString why() const { return why_; }
  void setWhy(const QString& why);

  void begin(const std::string& patch);

  Q_INVOKABLE void pick(int card);
  /// Names that person, or nobody where it was named before.
  Q_INVOKABLE void toggleWho(const QString& name);
  /// True once the choice is on disk (J2).
  Q_INVOKABLE bool save();
  /// Takes back what people chose for this patch; true once that is on disk.
  Q_INVOKABLE bool followPlan();
  Q_INVOKABLE void back();

 Q_SIGNALS:
  void changed();
  void closed();

 private:
  struct Card {
    answers::ChoiceCard card;
    bool picked = false;
  };

  void refresh();
  bool finish(const Result<void>& written);

  Store* store_;
  Rows<Card> cards_;
  std::string patch_;
  QString who_, why_;
  ChoiceShow show_;
};

}  // namespace swardwalk::mobile
