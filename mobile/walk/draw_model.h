#pragma once

#include <QtQml/qqmlregistration.h>
#include <QObject>
#include <optional>
#include <vector>

#include "mobile/app/store.h"
#include "mobile/plan/plan_source.h"
#include "mobile/walk/mark_model.h"
#include "mobile/walk/walk_model.h"

namespace swardwalk::mobile {

/// What the page shows beside its plan.
struct DrawShow {
  Q_GADGET
  QML_VALUE_TYPE(drawShow)
  Q_PROPERTY(QString subject MEMBER subject CONSTANT)
  Q_PROPERTY(swardwalk::mobile::WrittenText area MEMBER area CONSTANT)
  Q_PROPERTY(QString second MEMBER second CONSTANT)
  Q_PROPERTY(swardwalk::mobile::AdviceText advice MEMBER advice CONSTANT)
  Q_PROPERTY(bool canStepBack MEMBER canStepBack CONSTANT)
  Q_PROPERTY(bool canSave MEMBER canSave CONSTANT)

 public:
  QString subject;
  WrittenText area;
  QString second;  ///< "5 corners, each ± 0.12 m"
  AdviceText advice;
  bool canStepBack = false;
  bool canSave = false;
};

/// An outline that is drawn on the plan, corner by corner. Each corner is as certain as a
/// finger at the scale at which it was tapped.
class DrawModel : public QObject {
  Q_OBJECT
  QML_ELEMENT
  QML_UNCREATABLE("made at start")
  Q_PROPERTY(swardwalk::mobile::PlanSource* plan READ plan CONSTANT)
  Q_PROPERTY(swardwalk::mobile::DrawShow show READ show NOTIFY changed)

 public:
  /// More corners than a patch has are a finger that slid.
  static constexpr std::size_t mostCorners = 200;

  /// All must outlive this.
  DrawModel(Store& store, WalkModel& walk, MarkModel& mark, QObject* parent = nullptr);

  PlanSource* plan() { return &plan_; }
  const DrawShow& show() const { return show_; }

  /// Of the sighting that Mark is entering.
  void begin();
  /// On the plan's plane; `doubt` is how well a finger places it, metres.
  Q_INVOKABLE void addCorner(double east, double north, double doubt);
  Q_INVOKABLE void stepBack();
  /// True once the sighting is on disk (J2).
  Q_INVOKABLE bool save();
  /// Back to Mark, with what is entered there.
  Q_INVOKABLE void back();

 Q_SIGNALS:
  void changed();
  void saved();
  void left();

 private:
  void refresh(bool refit);
  void refreshPlan(bool refit);

  Store* store_;
  WalkModel* walk_;
  MarkModel* mark_;
  PlanSource plan_;
  DrawShow show_;
  geo::LocalRing corners_;
  std::vector<double> corners_u_m_;
  std::optional<measure::Measured> area_m2_;
  AdviceText trouble_;
};

}  // namespace swardwalk::mobile
