#pragma once

#include <QtQml/qqmlregistration.h>
#include <QObject>
#include <optional>

#include "mobile/app/rows.h"
#include "mobile/app/show.h"
#include "mobile/app/store.h"
#include "mobile/plan/course_plan.h"
#include "mobile/plan/plan_source.h"
#include "mobile/position/whereabouts.h"
#include "mobile/walk/place.h"
#include "mobile/walk/round_keeper.h"
#include "mobile/walk/seen_grass.h"
#include "mobile/walk/walk_show.h"

namespace swardwalk::mobile {

/// The page on which one walks: the plan of a green, the round, and the nearest patch
/// that nobody has looked at yet.
class WalkModel : public QObject {
  Q_OBJECT
  QML_ELEMENT
  QML_UNCREATABLE("made at start")
  Q_PROPERTY(swardwalk::mobile::PlanSource* plan READ plan CONSTANT)
  Q_PROPERTY(swardwalk::mobile::Whereabouts* whereabouts READ whereabouts CONSTANT)
  Q_PROPERTY(swardwalk::mobile::WalkShow show READ show NOTIFY changed)
  Q_PROPERTY(swardwalk::mobile::NearPatch near READ near NOTIFY changed)
  /// The next ones after that: look, title, away.
  Q_PROPERTY(QAbstractItemModel* then READ then CONSTANT)
  /// The course's greens: name, line, current.
  Q_PROPERTY(QAbstractItemModel* greens READ greens CONSTANT)

 public:
  struct ThenRow {
    SymbolLook look;
    QString title, away;
  };
  struct GreenRow {
    QString name, line;
    bool current = false;
  };

  /// All must outlive this.
  WalkModel(Store& store, Whereabouts& whereabouts, QObject* parent = nullptr);

  PlanSource* plan() { return &plan_; }
  Whereabouts* whereabouts() { return whereabouts_; }
  const WalkShow& show() const { return show_; }
  const NearPatch& near() const { return near_; }
  QAbstractItemModel* then() { return &then_; }
  QAbstractItemModel* greens() { return &greens_; }

  const std::string& green() const { return green_; }
  const std::optional<CoursePlan>& coursePlan() const { return coursePlan_; }
  /// Where a patch that is marked now lies: the place that was tapped, else where one stands.
  std::optional<Place> place() const;
  /// The green on which it lies.
  std::string greenOf(const std::optional<Place>& place) const;

  Q_INVOKABLE void chooseGreen(const QString& name);
  Q_INVOKABLE void choosePatch(const QString& id);
  Q_INVOKABLE void tapPlace(double east, double north, double doubt);
  Q_INVOKABLE void forgetPin();
  Q_INVOKABLE void startRound();
  Q_INVOKABLE void finishRound();
  Q_INVOKABLE void undo();
  /// Photos of the patch that was saved last.
  Q_INVOKABLE void photograph() { Q_EMIT photoWanted(text(savedPatch_)); }
  Q_INVOKABLE void mark();
  Q_INVOKABLE void measureNear();
  Q_INVOKABLE void resumeDraft();
  Q_INVOKABLE void walkGreen();
  Q_INVOKABLE void countFrames();
  Q_INVOKABLE void openShed();

  /// A record was saved: says so, and keeps it for Undo.
  void savedNow(const journal::Record& record, const QString& what);
  void setDraft(const QString& words);

 Q_SIGNALS:
  void changed();
  /// Empty: a new patch.
  void markWanted(const QString& patch);
  void draftWanted();
  void greenWalkWanted();
  void framesWanted();
  void shedWanted();
  void photoWanted(const QString& patch);

 private:
  void rebuild();
  void refreshWalker();
  void refreshRail();
  void moved(const geo::Fix& fix);
  void takeTrack();
  QString rainSinceLastRound() const;
  bool seenThisRound(const course::Patch& patch) const;
  NearPatch nearOf(const course::Patch& patch) const;

  Store* store_;
  Whereabouts* whereabouts_;
  RoundKeeper round_;
  PlanSource plan_;
  std::optional<CoursePlan> coursePlan_;
  SeenGrass seenGrass_;
  geo::LocalRing track_;
  std::string green_;
  std::string chosen_;
  std::optional<Place> pin_;
  std::optional<journal::Digest> undoable_;
  QString undoWords_;
  std::string savedPatch_;
  WalkShow show_;
  NearPatch near_;
  Rows<ThenRow> then_;
  Rows<GreenRow> greens_;
};

}  // namespace swardwalk::mobile
