#pragma once

#include <QtQml/qqmlregistration.h>
#include <QObject>
#include <string>

#include "common/answers/patch_life.h"
#include "mobile/app/rows.h"
#include "mobile/app/show.h"
#include "mobile/app/store.h"
#include "mobile/plan/plan_source.h"

namespace swardwalk::mobile {

/// What one patch's page shows.
struct PatchShow {
  Q_GADGET
  QML_VALUE_TYPE(patchShow)
  Q_PROPERTY(QString title MEMBER title CONSTANT)
  Q_PROPERTY(swardwalk::mobile::SymbolLook look MEMBER look CONSTANT)
  Q_PROPERTY(QString answer MEMBER answer CONSTANT)
  Q_PROPERTY(swardwalk::mobile::Show::Weight weight MEMBER weight CONSTANT)
  Q_PROPERTY(swardwalk::mobile::WrittenText area MEMBER area CONSTANT)
  Q_PROPERTY(QString closed MEMBER closed CONSTANT)
  Q_PROPERTY(QString why MEMBER why CONSTANT)
  Q_PROPERTY(QString chart MEMBER chart CONSTANT)
  Q_PROPERTY(QString planTitle MEMBER planTitle CONSTANT)
  Q_PROPERTY(swardwalk::mobile::AdviceText todo MEMBER todo CONSTANT)
  Q_PROPERTY(swardwalk::mobile::AdviceText saved MEMBER saved CONSTANT)
  Q_PROPERTY(QString joined MEMBER joined CONSTANT)
  Q_PROPERTY(bool open MEMBER open CONSTANT)
  Q_PROPERTY(bool sown MEMBER sown CONSTANT)

 public:
  QString title;  ///< "Hollow 7, washed"
  SymbolLook look;
  QString answer;
  Show::Weight weight = Show::Calm;
  WrittenText area;
  QString closed;  ///< "50 % closed"
  QString why;
  QString chart;  ///< address of the chart's picture; empty: none
  QString planTitle;
  AdviceText todo;
  AdviceText saved;
  QString joined;  ///< "Hollow 7 and Hollow 12b were joined by Ansa."; empty: it never was two
  bool open = true;
  bool sown = false;  ///< something was sown here that may come up
};

/// One patch's life: the answer, its chart, what was seen and what was done.
class PatchModel : public QObject {
  Q_OBJECT
  QML_ELEMENT
  QML_UNCREATABLE("made at start")
  Q_PROPERTY(bool there READ there NOTIFY changed)
  Q_PROPERTY(swardwalk::mobile::PatchShow show READ show NOTIFY changed)
  Q_PROPERTY(swardwalk::mobile::PlanSource* plan READ plan CONSTANT)
  /// What was seen, newest first: date, who, what, amount.
  Q_PROPERTY(QAbstractItemModel* sightings READ sightings CONSTANT)
  /// What was done, likewise.
  Q_PROPERTY(QAbstractItemModel* repairs READ repairs CONSTANT)
  /// Its pictures, newest first: address (empty: another tablet has it), text.
  Q_PROPERTY(QAbstractItemModel* photos READ photos CONSTANT)
  /// The plan's options for it: title, reason, weight.
  Q_PROPERTY(QAbstractItemModel* options READ options CONSTANT)

 public:
  struct LifeRow {
    QString date, who, what;
    WrittenText amount;
  };
  struct PhotoRow {
    QString address, text;
  };
  struct OptionRow {
    QString title, reason;
    Show::Weight weight = Show::Calm;
  };

  /// `store` must outlive this.
  explicit PatchModel(Store& store, QObject* parent = nullptr);

  bool there() const { return !patch_.empty(); }
  const PatchShow& show() const { return show_; }
  PlanSource* plan() { return &plan_; }
  QAbstractItemModel* sightings() { return &sightings_; }
  QAbstractItemModel* repairs() { return &repairs_; }
  QAbstractItemModel* photos() { return &photos_; }
  QAbstractItemModel* options() { return &options_; }
  const std::string& patch() const { return patch_; }

  void open(const std::string& patch);
  void setDark(bool dark);

  Q_INVOKABLE void leave();
  Q_INVOKABLE void measureAgain();
  Q_INVOKABLE void repairDone();
  Q_INVOKABLE void choose();
  Q_INVOKABLE void addPhoto() { Q_EMIT photoWanted(text(patch_)); }
  /// Records, on disk when they return (J2).
  Q_INVOKABLE bool itIsClosed();
  Q_INVOKABLE bool cameUp();
  Q_INVOKABLE bool takeBack();
  /// Takes the last join back (X4).
  Q_INVOKABLE bool takeApart();

 Q_SIGNALS:
  void changed();
  void measureWanted(const QString& patch);
  void repairWanted(const QString& patch);
  void choiceWanted(const QString& patch);
  void photoWanted(const QString& patch);

 private:
  void rebuild();
  void rebuildPlan();
  bool saved(const Result<journal::Record>& record, const QString& words);

  Store* store_;
  std::string patch_;
  PatchShow show_;
  PlanSource plan_;
  Rows<LifeRow> sightings_;
  Rows<LifeRow> repairs_;
  Rows<PhotoRow> photos_;
  Rows<OptionRow> options_;
  std::optional<journal::Digest> undoable_;
  bool dark_ = false;
};

/// An address of an SVG picture that QML's Image can show.
QString pictureAddress(const std::string& svg);

}  // namespace swardwalk::mobile
