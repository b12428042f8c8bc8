#pragma once

#include <QtQml/qqmlregistration.h>
#include <QObject>
#include <QStringList>

#include "common/answers/stock.h"
#include "common/course/features.h"
#include "mobile/app/rows.h"
#include "mobile/app/show.h"
#include "mobile/app/store.h"

namespace swardwalk::mobile {

/// What a material is for, as QML knows it; see course::Shelf.
namespace Shelves {
Q_NAMESPACE
QML_ELEMENT
enum Shelf { SeedLot, Feed, Fill, Turf };
Q_ENUM_NS(Shelf)
}  // namespace Shelves

/// The seed, sand, feed and turf of the course, with what is left of each.
class MaterialsModel : public QObject {
  Q_OBJECT
  QML_ELEMENT
  QML_UNCREATABLE("made at start")
  /// shelf, heading (true for the line above a shelf's materials), name, words, remaining.
  Q_PROPERTY(QAbstractItemModel* rows READ rows CONSTANT)
  /// Where the records do not fit what was counted, a sentence each.
  Q_PROPERTY(QString notes READ notes NOTIFY changed)

 public:
  struct Row {
    Shelves::Shelf shelf = Shelves::SeedLot;
    bool heading = false;
    QString name;
    QString words;
    QString remaining;  ///< "60.0 g left", "not counted"
  };

  /// `store` must outlive this.
  explicit MaterialsModel(Store& store, QObject* parent = nullptr);

  QAbstractItemModel* rows() { return &rows_; }
  QString notes() const { return notes_; }

  void begin();

  Q_INVOKABLE void correct(swardwalk::mobile::Shelves::Shelf shelf, const QString& name);
  Q_INVOKABLE void add(swardwalk::mobile::Shelves::Shelf shelf);
  Q_INVOKABLE void back();

 Q_SIGNALS:
  void changed();
  /// `name` is empty for a new one.
  void formWanted(swardwalk::mobile::Shelves::Shelf shelf, const QString& name);
  void closed();

 private:
  Store* store_;
  Rows<Row> rows_;
  QString notes_;
};

/// What is left by the records: "0.06 kg left", "3.5 m² left", "not counted".
QString leftWords(const answers::Stock& stock, course::Shelf shelf, const std::string& name,
                  measure::UnitSystem units);

}  // namespace swardwalk::mobile
