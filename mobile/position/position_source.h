#pragma once

#include <QObject>
#include <QString>

#include "common/geo/position.h"

namespace swardwalk::mobile {

/// Where positions come from: the tablet's receiver, a log played back, a test. Fixes
/// arrive one by one in the order of their time. Use from the GUI thread.
class PositionSource : public QObject {
  Q_OBJECT

 public:
  explicit PositionSource(QObject* parent = nullptr) : QObject(parent) {}

  virtual void start() = 0;
  virtual void stop() = 0;
  /// "the tablet's receiver", "a log that is played back".
  virtual QString name() const = 0;
  /// Do its fixes tell the time of now? Those of a log tell of another day.
  virtual bool tellsNow() const { return false; }
  /// Of a receiver's sentences: those that came damaged, and those that did not.
  virtual int damaged() const { return 0; }
  virtual int sentences() const { return 0; }

 Q_SIGNALS:
  void fix(const swardwalk::geo::Fix& fix);
  /// The receiver can't work, in words: "no receiver on this tablet".
  void trouble(const QString& words);
  /// Nothing more will come.
  void ended();
};

}  // namespace swardwalk::mobile
