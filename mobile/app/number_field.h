#pragma once

#include <QtQml/qqmlregistration.h>
#include <QObject>
#include <QString>
#include <optional>

namespace swardwalk::mobile {

/// A number that a person enters by steps or by keys. Absent until somebody touches it,
/// so that "not measured" never becomes 0. Use from the GUI thread.
class NumberField : public QObject {
  Q_OBJECT
  QML_ELEMENT
  QML_UNCREATABLE("a view model hands it out")
  Q_PROPERTY(QString label READ label CONSTANT)
  Q_PROPERTY(QString unit READ unit CONSTANT)
  /// The figure, or "not yet".
  Q_PROPERTY(QString figure READ figure NOTIFY changed)
  Q_PROPERTY(bool known READ known NOTIFY changed)
  Q_PROPERTY(QString stepText READ stepText CONSTANT)
  /// What the keys have typed so far.
  Q_PROPERTY(QString typed READ typed NOTIFY typedChanged)
  Q_PROPERTY(bool decimal READ decimal CONSTANT)

 public:
  struct Manner {
    QString label;
    QString unit;
    double step = 1.0;
    int decimals = 0;
    double start = 0.0;    ///< where the first step begins
    double most = 1000.0;  ///< the least is 0
  };

  explicit NumberField(Manner manner, QObject* parent = nullptr);

  QString label() const { return manner_.label; }
  QString unit() const { return manner_.unit; }
  QString figure() const;
  bool known() const { return value_.has_value(); }
  QString stepText() const;
  QString typed() const { return typed_; }
  bool decimal() const { return manner_.decimals > 0; }

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
  void stepBy(double step);

  Manner manner_;
  std::optional<double> value_;
  QString typed_;
};

}  // namespace swardwalk::mobile
