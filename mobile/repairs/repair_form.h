#pragma once

#include <QtQml/qqmlregistration.h>
#include <QObject>
#include <QStringList>
#include <string>

#include "mobile/app/number_field.h"
#include "mobile/app/show.h"
#include "mobile/app/store.h"

namespace swardwalk::mobile {

/// What the repair form shows beside its fields.
struct RepairFormShow {
  Q_GADGET
  QML_VALUE_TYPE(repairFormShow)
  Q_PROPERTY(QString title MEMBER title CONSTANT)
  Q_PROPERTY(swardwalk::mobile::SymbolLook look MEMBER look CONSTANT)
  Q_PROPERTY(QString planned MEMBER planned CONSTANT)
  Q_PROPERTY(QString reason MEMBER reason CONSTANT)
  Q_PROPERTY(QString summary MEMBER summary CONSTANT)
  Q_PROPERTY(bool rakedBack MEMBER rakedBack CONSTANT)
  Q_PROPERTY(QString fill MEMBER fill CONSTANT)
  Q_PROPERTY(QString seedLot MEMBER seedLot CONSTANT)
  Q_PROPERTY(QString feed MEMBER feed CONSTANT)
  Q_PROPERTY(QStringList fills MEMBER fills CONSTANT)
  Q_PROPERTY(QStringList seedLots MEMBER seedLots CONSTANT)
  Q_PROPERTY(QStringList feeds MEMBER feeds CONSTANT)
  Q_PROPERTY(swardwalk::mobile::AdviceText trouble MEMBER trouble CONSTANT)
  Q_PROPERTY(bool canSave MEMBER canSave CONSTANT)

 public:
  QString title;  ///< "Repair done on Hollow 7"
  SymbolLook look;
  QString planned;  ///< "Planned: fill and sow"
  QString reason;
  QString summary;  ///< what will be saved, in words
  bool rakedBack = false;
  QString fill, seedLot, feed;  ///< chosen materials
  QStringList fills, seedLots, feeds;
  AdviceText trouble;
  bool canSave = false;
};

/// A repair that was done, with amounts proposed from the plan.
class RepairForm : public QObject {
  Q_OBJECT
  QML_ELEMENT
  QML_UNCREATABLE("made at start")
  Q_PROPERTY(swardwalk::mobile::RepairFormShow show READ show NOTIFY changed)
  Q_PROPERTY(swardwalk::mobile::NumberField* fill READ fill CONSTANT)
  Q_PROPERTY(swardwalk::mobile::NumberField* seed READ seed CONSTANT)
  Q_PROPERTY(swardwalk::mobile::NumberField* turf READ turf CONSTANT)
  Q_PROPERTY(swardwalk::mobile::NumberField* feed READ feed CONSTANT)

 public:
  /// `store` must outlive this.
  explicit RepairForm(Store& store, QObject* parent = nullptr);

  const RepairFormShow& show() const { return show_; }
  NumberField* fill() { return &fill_; }
  NumberField* seed() { return &seed_; }
  NumberField* turf() { return &turf_; }
  NumberField* feed() { return &feed_; }

  void begin(const std::string& patch);

  Q_INVOKABLE void toggleRakedBack();
  Q_INVOKABLE void chooseFill(const QString& name);
  Q_INVOKABLE void chooseSeedLot(const QString& name);
  Q_INVOKABLE void chooseFeed(const QString& name);
  /// True once the repair is on disk (J2).
  Q_INVOKABLE bool save();
  Q_INVOKABLE void back();

 Q_SIGNALS:
  void changed();
  void saved(const QString& words);
  void closed();

 private:
  void refresh();

  Store* store_;
  NumberField fill_, seed_, turf_, feed_;
  RepairFormShow show_;
  std::string patch_;
};

}  // namespace swardwalk::mobile
