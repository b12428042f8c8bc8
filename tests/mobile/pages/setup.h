#pragma once

#include <QObject>

class QQmlEngine;

namespace swardwalk::mobile {

/// What the tests of the pages need before the first of them runs.
class Setup : public QObject {
  Q_OBJECT

 public Q_SLOTS:
  void applicationAvailable();
  void qmlEngineAvailable(QQmlEngine* engine);
};

}  // namespace swardwalk::mobile
