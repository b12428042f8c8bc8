#pragma once

#include <QtQml/qqmlregistration.h>
#include <QObject>
#include <string>
#include <vector>

#include "mobile/app/number_field.h"
#include "mobile/app/rows.h"
#include "mobile/app/store.h"
#include "mobile/position/whereabouts.h"
#include "mobile/walk/walk_model.h"

namespace swardwalk::mobile {

/// What the page shows beside its fields.
struct FramesShow {
  Q_GADGET
  QML_VALUE_TYPE(framesShow)
  Q_PROPERTY(QString title MEMBER title CONSTANT)
  Q_PROPERTY(QString subject MEMBER subject CONSTANT)
  Q_PROPERTY(swardwalk::mobile::WrittenText share MEMBER share CONSTANT)
  Q_PROPERTY(QString second MEMBER second CONSTANT)
  Q_PROPERTY(swardwalk::mobile::AdviceText advice MEMBER advice CONSTANT)
  Q_PROPERTY(bool canCount MEMBER canCount CONSTANT)
  Q_PROPERTY(bool canTakeBack MEMBER canTakeBack CONSTANT)

 public:
  QString title;  ///< "Frames on Hollow"
  QString subject;
  WrittenText share;  ///< "12 ± 3 %"
  QString second;     ///< "of the green is bare, by 8 frames"
  AdviceText advice;
  bool canCount = false;
  bool canTakeBack = false;
};

/// Counting frames thrown at random over a green whose stand is thin everywhere. Each frame
/// is a record of its own, on disk as soon as it is counted.
class FramesModel : public QObject {
  Q_OBJECT
  QML_ELEMENT
  QML_UNCREATABLE("made at start")
  Q_PROPERTY(swardwalk::mobile::FramesShow show READ show NOTIFY changed)
  Q_PROPERTY(swardwalk::mobile::NumberField* squaresBare READ squaresBare CONSTANT)
  Q_PROPERTY(swardwalk::mobile::NumberField* squares READ squares CONSTANT)
  /// The frames that count together, the last one first: title, figure.
  Q_PROPERTY(QAbstractItemModel* rows READ rows CONSTANT)

 public:
  struct Row {
    QString title;   ///< "29 April 06:42"
    QString figure;  ///< "12 of 100 bare"
  };
  /// Fewer say little of a whole green: common practice, no source.
  static constexpr int wantedFrames = 10;

  /// All must outlive this.
  FramesModel(Store& store, Whereabouts& whereabouts, WalkModel& walk, QObject* parent = nullptr);

  const FramesShow& show() const { return show_; }
  NumberField* squaresBare() { return &squaresBare_; }
  NumberField* squares() { return &squares_; }
  QAbstractItemModel* rows() { return &rows_; }

  /// Of the green that Walk shows.
  void begin();
  /// True once the frame is on disk (J2).
  Q_INVOKABLE bool count();
  /// Withdraws the last frame that was counted since the page was opened.
  Q_INVOKABLE void takeBack();
  Q_INVOKABLE void back();

 Q_SIGNALS:
  void changed();
  void closed();

 private:
  void refresh();

  Store* store_;
  Whereabouts* whereabouts_;
  WalkModel* walk_;
  NumberField squaresBare_, squares_;
  Rows<Row> rows_;
  FramesShow show_;
  std::string green_;
  std::vector<journal::Digest> counted_;
  AdviceText trouble_;
};

}  // namespace swardwalk::mobile
