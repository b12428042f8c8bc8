#pragma once

#include <QtQml/qqmlregistration.h>
#include <QObject>
#include <QString>
#include <optional>

#include "common/measure/write.h"

namespace swardwalk::mobile {

/// A number that a person enters by steps or by keys. Absent until somebody touches it,
/// so that "not measured" never becomes 0. It is kept in the metric unit, and shown and
/// entered in the unit that the person reads; what nobody touches stays as it was set, to
/// the last bit, whichever way it is shown. Use from the GUI thread.
class NumberField : public QObject {
  Q_OBJECT
  QML_ELEMENT
  QML_UNCREATABLE("a view model hands it out")
  Q_PROPERTY(QString label READ label CONSTANT)
  Q_PROPERTY(QString unit READ unit NOTIFY changed)
  /// The figure, or "not yet".
  Q_PROPERTY(QString figure READ figure NOTIFY changed)
  Q_PROPERTY(bool known READ known NOTIFY changed)
  Q_PROPERTY(QString stepText READ stepText NOTIFY changed)
  /// What the keys have typed so far.
  Q_PROPERTY(QString typed READ typed NOTIFY typedChanged)
  Q_PROPERTY(bool decimal READ decimal NOTIFY changed)

 public:
  /// How fine it is entered in one system of units.
  struct Grain {
    double step = 1.0;
    int decimals = 0;
    double start = 0.0;  ///< where the first step begins
  };
  /// Something that is counted: the same in every system of units.
  struct Counted {
    QString label;
    QString unit;
    Grain grain;
    double most = 1000.0;  ///< the least is 0
  };
  /// Something that is measured; `metric` and `imperial` in the units of `quantity` there.
  struct Measured {
    QString label;
    measure::Quantity quantity = measure::Quantity::length;
    Grain metric;
    Grain imperial;
    double most = 1000.0;  ///< in the metric unit; the least is 0
  };

  explicit NumberField(Counted counted, QObject* parent = nullptr);
  explicit NumberField(Measured measured, QObject* parent = nullptr);

  QString label() const { return label_; }
  QString unit() const;
  QString figure() const;
  bool known() const { return value_.has_value(); }
  QString stepText() const;
  QString typed() const { return typed_; }
  bool decimal() const { return grain().decimals > 0; }

  void setUnits(measure::UnitSystem units);

  /// In the metric unit.
  const std::optional<double>& value() const { return value_; }
  void set(std::optional<double> value);

  Q_INVOKABLE void more();
  Q_INVOKABLE void less();
  /// The keypad: begins empty, types, and takes over with `acceptKeys`.
  Q_INVOKABLE void beginKeys();
  Q_INVOKABLE void press(const QString& key);
  Q_INVOKABLE void rubOut();
  Q_INVOKABLE void acceptKeys();

 Q_SIGNALS:
  void changed();
  void typedChanged();

 private:
  const Grain& grain() const;
  double shown(double value) const;
  double fromShown(double shown) const;
  void stepBy(double step);

  QString label_;
  QString countedIn_;  ///< the unit where it is no quantity
  std::optional<measure::Quantity> quantity_;
  Grain metric_, imperial_;
  double most_;
  measure::UnitSystem units_ = measure::UnitSystem::metric;
  std::optional<double> value_;
  QString typed_;
};

}  // namespace swardwalk::mobile
