#pragma once

#include <QtQml/qqmlregistration.h>
#include <QDateTime>
#include <QObject>
#include <string>

#include "mobile/app/rows.h"
#include "mobile/app/show.h"
#include "mobile/app/store.h"
#include "mobile/photos/camera_folder.h"

namespace swardwalk::mobile {

/// Takes pictures that the tablet's camera wrote into its folder to a patch: one touch each.
/// The newest stand first. Use from the GUI thread.
class PhotoModel : public QObject {
  Q_OBJECT
  QML_ELEMENT
  QML_UNCREATABLE("made at start")
  Q_PROPERTY(QString title READ title NOTIFY changed)
  /// What was taken last, or why it was not.
  Q_PROPERTY(swardwalk::mobile::AdviceText saved READ saved NOTIFY changed)
  /// What there is to choose from, in words.
  Q_PROPERTY(QString second READ second NOTIFY changed)
  Q_PROPERTY(bool canTakeBack READ canTakeBack NOTIFY changed)
  /// The pictures: address, when, taken.
  Q_PROPERTY(QAbstractItemModel* pictures READ pictures CONSTANT)

 public:
  struct Row {
    QString file;
    QString address;  ///< for QML's Image
    QString when;     ///< "29 April, 06:41"
    bool taken = false;
    measure::Instant moment;
  };
  /// More than these are not looked for: who wants an older one has another tool for that.
  static constexpr std::size_t mostPictures = 60;

  /// Both must outlive this.
  PhotoModel(Store& store, const CameraFolder& camera, QObject* parent = nullptr);

  QString title() const { return title_; }
  const AdviceText& saved() const { return saved_; }
  QString second() const { return second_; }
  bool canTakeBack() const { return undoable_.has_value(); }
  QAbstractItemModel* pictures() { return &pictures_; }

  /// Pictures of this patch from now on.
  void begin(const std::string& patch);

  /// Looks again: a picture was made meanwhile.
  Q_INVOKABLE void look();
  /// True once picture and record are on disk (J2).
  Q_INVOKABLE bool take(int row);
  Q_INVOKABLE void takeBack();
  Q_INVOKABLE void back();

 Q_SIGNALS:
  void changed();
  void closed();

 private:
  Result<journal::Record> keep(const Row& row);

  Store* store_;
  const CameraFolder* camera_;
  std::string patch_;
  QString title_, second_;
  AdviceText saved_;
  Rows<Row> pictures_;
  std::vector<Row> found_;
  std::optional<journal::Digest> undoable_;
  int undoableRow_ = -1;
};

}  // namespace swardwalk::mobile
