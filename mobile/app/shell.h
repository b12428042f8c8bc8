#pragma once

#include <QtQml/qqmlregistration.h>
#include <QObject>
#include <QTimer>

#include "mobile/app/show.h"
#include "mobile/app/store.h"
#include "mobile/shed/shed_log.h"

namespace swardwalk::mobile {

/// The frame round the pages: which one is shown, the top line, theme and hand.
class Shell : public QObject {
  Q_OBJECT
  QML_ELEMENT
  QML_UNCREATABLE("made at start")
  Q_PROPERTY(Page page READ page NOTIFY pageChanged)
  Q_PROPERTY(Task task READ task NOTIFY pageChanged)
  Q_PROPERTY(QString now READ now NOTIFY statusChanged)
  Q_PROPERTY(QString network READ network NOTIFY statusChanged)
  Q_PROPERTY(QString onlyHere READ onlyHere NOTIFY statusChanged)
  /// Records that a newer version made: answers may lack something (J5).
  Q_PROPERTY(QString incomplete READ incomplete NOTIFY statusChanged)
  Q_PROPERTY(bool dark READ dark WRITE setDark NOTIFY lookChanged)
  Q_PROPERTY(bool imperial READ imperial WRITE setImperial NOTIFY lookChanged)
  Q_PROPERTY(bool leftHanded READ leftHanded WRITE setLeftHanded NOTIFY lookChanged)

 public:
  enum Page { Walk, Patches, Repairs, Shed };
  Q_ENUM(Page)
  /// Inside a task there are no page words.
  enum Task {
    NoTask,
    Mark,
    Outline,
    Repair,
    Place,
    Draw,
    Depths,
    Frames,
    Choose,
    Materials,
    Material,
    Photos
  };
  Q_ENUM(Task)

  /// All must outlive this.
  Shell(Store& store, ShedLog& log, QObject* parent = nullptr);

  Page page() const { return page_; }
  Task task() const { return task_; }
  QString now() const;
  QString network() const { return log_->networkLine(); }
  QString onlyHere() const { return log_->onlyHereLine(); }
  QString incomplete() const;
  bool dark() const { return store_->settings().dark; }
  void setDark(bool dark);
  bool imperial() const { return store_->settings().imperial; }
  void setImperial(bool imperial);
  bool leftHanded() const { return store_->settings().leftHanded; }
  void setLeftHanded(bool leftHanded);

  Q_INVOKABLE void openPage(swardwalk::mobile::Shell::Page page);
  void openTask(Task task);

 Q_SIGNALS:
  void pageChanged();
  void statusChanged();
  void lookChanged();

 private:
  Store* store_;
  ShedLog* log_;
  Page page_ = Walk;
  Task task_ = NoTask;
  QTimer tick_;
};

}  // namespace swardwalk::mobile
