#pragma once

#include <QtQml/qqmlregistration.h>
#include <QObject>
#include <optional>

#include "common/geo/walk.h"
#include "mobile/app/store.h"
#include "mobile/plan/plan_source.h"
#include "mobile/position/whereabouts.h"
#include "mobile/walk/mark_model.h"
#include "mobile/walk/outline_draft.h"
#include "mobile/walk/walk_model.h"

namespace swardwalk::mobile {

/// What Outline shows beside its plan.
struct OutlineShow {
  Q_GADGET
  QML_VALUE_TYPE(outlineShow)
  Q_PROPERTY(QString title MEMBER title CONSTANT)
  Q_PROPERTY(QString subject MEMBER subject CONSTANT)
  Q_PROPERTY(bool ofGreen MEMBER ofGreen CONSTANT)
  Q_PROPERTY(swardwalk::mobile::WrittenText area MEMBER area CONSTANT)
  Q_PROPERTY(QString noArea MEMBER noArea CONSTANT)
  Q_PROPERTY(swardwalk::mobile::AdviceText advice MEMBER advice CONSTANT)
  Q_PROPERTY(bool offerTape MEMBER offerTape CONSTANT)
  Q_PROPERTY(QString walked MEMBER walked CONSTANT)
  Q_PROPERTY(QString gap MEMBER gap CONSTANT)
  Q_PROPERTY(QString position MEMBER position CONSTANT)
  Q_PROPERTY(QString line MEMBER line CONSTANT)
  Q_PROPERTY(bool paused MEMBER paused CONSTANT)
  Q_PROPERTY(bool canStepBack MEMBER canStepBack CONSTANT)
  Q_PROPERTY(bool canClose MEMBER canClose CONSTANT)

 public:
  QString title, subject;
  bool ofGreen = false;
  WrittenText area;
  QString noArea;
  AdviceText advice;
  bool offerTape = false;
  QString walked, gap, position;
  QString line;  ///< "Every step is kept on this tablet."
  bool paused = false;
  bool canStepBack = false;
  bool canClose = false;
};

/// An outline that is walked with the position source: of a patch, or of a new green.
class OutlineModel : public QObject {
  Q_OBJECT
  QML_ELEMENT
  QML_UNCREATABLE("made at start")
  Q_PROPERTY(swardwalk::mobile::OutlineShow show READ show NOTIFY changed)
  Q_PROPERTY(swardwalk::mobile::PlanSource* plan READ plan CONSTANT)
  Q_PROPERTY(QString greenName READ greenName WRITE setGreenName NOTIFY changed)

 public:
  /// All must outlive this.
  OutlineModel(Store& store, Whereabouts& whereabouts, WalkModel& walk, MarkModel& mark,
               QObject* parent = nullptr);

  const OutlineShow& show() const { return show_; }
  PlanSource* plan() { return &plan_; }
  QString greenName() const { return text(draft_.greenName); }
  void setGreenName(const QString& name);

  /// Of what Mark has entered so far.
  void beginPatch();
  void beginGreen();
  /// Goes on with the draft that was kept; false where there is none.
  bool resume();

  Q_INVOKABLE void pause();
  Q_INVOKABLE void stepBack();
  Q_INVOKABLE void useTape();
  Q_INVOKABLE void leave();
  Q_INVOKABLE void forget();
  /// True once the outline is on disk (J2).
  Q_INVOKABLE bool closeOutline();

 Q_SIGNALS:
  void changed();
  void closed();
  void tapeWanted();

 private:
  void begin(OutlineDraft draft);
  void take(const geo::Fix& fix);
  void keep();
  void compute();
  void refreshTexts();
  void refreshPlan(bool refit);
  void end();
  Result<journal::Record> saveGreen(const geo::GlobeShape& shape);
  Result<journal::Record> savePatch(const geo::GlobeShape& shape);
  void tellDraft();
  const geo::LocalPlane& plane() const;

  Store* store_;
  Whereabouts* whereabouts_;
  WalkModel* walk_;
  MarkModel* mark_;
  PlanSource plan_;
  OutlineDraft draft_;
  bool open_ = false;
  std::optional<geo::LocalPlane> ownPlane_;  ///< where there is no green to lie on yet
  std::optional<geo::WalkedOutline> outline_;
  QString why_;  ///< there is no outline yet
  AdviceText trouble_;
  OutlineShow show_;
};

}  // namespace swardwalk::mobile
