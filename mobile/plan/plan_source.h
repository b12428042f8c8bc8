#pragma once

#include <QtQml/qqmlregistration.h>
#include <QObject>

#include "mobile/plan/plan_scene.h"

namespace swardwalk::mobile {

/// Hands a view model's plan to the items that draw it. Use from the GUI thread.
class PlanSource : public QObject {
  Q_OBJECT
  QML_ELEMENT
  QML_UNCREATABLE("a view model hands it out")

 public:
  explicit PlanSource(QObject* parent = nullptr) : QObject(parent) {}

  const PlanScene& scene() const { return scene_; }
  /// `refit` asks the items to show the whole green again.
  void set(PlanScene scene, bool refit = false);
  /// The round's track and position only: nothing else is touched.
  void setWalker(std::optional<PlanPosition> position, geo::LocalRing track);

 Q_SIGNALS:
  void changed();
  void refitWanted();

 private:
  PlanScene scene_;
};

}  // namespace swardwalk::mobile
