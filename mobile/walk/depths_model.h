#pragma once

#include <QtQml/qqmlregistration.h>
#include <QObject>
#include <vector>

#include "mobile/app/number_field.h"
#include "mobile/app/rows.h"
#include "mobile/app/show.h"
#include "mobile/app/store.h"

namespace swardwalk::mobile {

/// Depth readings of one sighting: one, or several along a channel.
class DepthsModel : public QObject {
  Q_OBJECT
  QML_ELEMENT
  QML_UNCREATABLE("made at start")
  /// The next reading, which `add` takes.
  Q_PROPERTY(swardwalk::mobile::NumberField* reading READ reading CONSTANT)
  /// The readings: title, figure.
  Q_PROPERTY(QAbstractItemModel* rows READ rows CONSTANT)
  /// "42 ± 5 mm", or what is missing.
  Q_PROPERTY(QString answer READ answer NOTIFY changed)
  Q_PROPERTY(QString second READ second NOTIFY changed)
  Q_PROPERTY(int count READ count NOTIFY changed)
  Q_PROPERTY(bool canAdd READ canAdd NOTIFY changed)

 public:
  struct Row {
    QString title;   ///< "Reading 2"
    QString figure;  ///< "35 mm"
  };
  /// As many as a person reads along one channel; more is a slip.
  static constexpr std::size_t mostReadings = 100;

  /// `store` must outlive this.
  explicit DepthsModel(Store& store, QObject* parent = nullptr);

  NumberField* reading() { return &reading_; }
  QAbstractItemModel* rows() { return &rows_; }
  QString answer() const { return answer_; }
  QString second() const { return second_; }
  int count() const { return static_cast<int>(readings_mm_.size()); }
  bool canAdd() const { return reading_.known() && readings_mm_.size() < mostReadings; }

  /// Forgets what was read.
  void begin();
  const std::vector<double>& readings_mm() const { return readings_mm_; }
  /// "Depth 42 ± 5 mm" for a patch of this kind; empty without a reading.
  QString line(Show::Kind kind);

  Q_INVOKABLE void add();
  Q_INVOKABLE void takeOut(int row);
  /// A reading that stands in the field is taken along.
  Q_INVOKABLE void back();

 Q_SIGNALS:
  void changed();
  void closed();

 private:
  void refresh();

  Store* store_;
  NumberField reading_;
  Rows<Row> rows_;
  std::vector<double> readings_mm_;
  Show::Kind kind_ = Show::NoKind;
  QString answer_, second_;
};

}  // namespace swardwalk::mobile
