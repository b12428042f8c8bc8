#pragma once

#include <QtQml/qqmlregistration.h>
#include <QObject>
#include <map>
#include <optional>
#include <vector>

#include "common/course/tape_place.h"
#include "mobile/app/number_field.h"
#include "mobile/app/rows.h"
#include "mobile/app/store.h"
#include "mobile/position/whereabouts.h"
#include "mobile/walk/mark_model.h"

namespace swardwalk::mobile {

/// What Place shows beside its marks.
struct PlaceShow {
  Q_GADGET
  QML_VALUE_TYPE(placeShow)
  Q_PROPERTY(QString subject MEMBER subject CONSTANT)
  Q_PROPERTY(QString answer MEMBER answer CONSTANT)
  Q_PROPERTY(QString second MEMBER second CONSTANT)
  Q_PROPERTY(swardwalk::mobile::AdviceText advice MEMBER advice CONSTANT)
  Q_PROPERTY(QString action MEMBER action CONSTANT)
  Q_PROPERTY(bool canAct MEMBER canAct CONSTANT)
  Q_PROPERTY(QString firstSide MEMBER firstSide CONSTANT)
  Q_PROPERTY(QString secondSide MEMBER secondSide CONSTANT)
  Q_PROPERTY(int side MEMBER side CONSTANT)
  Q_PROPERTY(QString empty MEMBER empty CONSTANT)

 public:
  QString subject;  ///< what to do
  QString answer;   ///< "± 0.05 m", or what is missing
  QString second;   ///< how it came about
  AdviceText advice;
  QString action;
  bool canAct = false;
  QString firstSide, secondSide;  ///< where two places fit: "North-east of the line"
  int side = -1;                  ///< the one that was said, 0 or 1
  QString empty;                  ///< no mark is known yet
};

/// Better places than a bare receiver's: standing on it, tapes from marks; and what those
/// need: the receiver corrected on a mark, marks recorded, a person's own pace.
class PlaceModel : public QObject {
  Q_OBJECT
  QML_ELEMENT
  QML_UNCREATABLE("made at start")
  Q_PROPERTY(swardwalk::mobile::PlaceShow show READ show NOTIFY changed)
  Q_PROPERTY(Way way READ way NOTIFY changed)
  Q_PROPERTY(QAbstractItemModel* marks READ marks CONSTANT)
  Q_PROPERTY(swardwalk::mobile::NumberField* tape READ tape CONSTANT)
  Q_PROPERTY(swardwalk::mobile::NumberField* paces READ paces CONSTANT)
  Q_PROPERTY(QString markName READ markName WRITE setMarkName NOTIFY changed)

 public:
  enum Way { Stand, Tapes, Correct, NewMark, OwnPace };
  Q_ENUM(Way)

  struct MarkRow {
    QString name;
    QString line;     ///< "± 0.03 m, 14 m away"
    QString reading;  ///< "12.50 m", or empty
    bool chosen = false;
  };

  /// All must outlive this.
  PlaceModel(Store& store, Whereabouts& whereabouts, MarkModel& mark, QObject* parent = nullptr);

  const PlaceShow& show() const { return show_; }
  Way way() const { return way_; }
  QAbstractItemModel* marks() { return &marks_; }
  NumberField* tape() { return &tape_; }
  NumberField* paces() { return &paces_; }
  QString markName() const { return markName_; }
  void setMarkName(const QString& name);

  /// For the sighting that Mark is entering.
  void begin();
  Q_INVOKABLE void chooseWay(swardwalk::mobile::PlaceModel::Way way);
  /// The mark that the next reading is from, that one stands on, or that one paces between.
  Q_INVOKABLE void chooseMark(const QString& name);
  Q_INVOKABLE void chooseSide(int side);
  /// The one big action of the way that is chosen; true once it is done.
  Q_INVOKABLE bool act();
  Q_INVOKABLE void back();

 Q_SIGNALS:
  void changed();
  void closed();

 private:
  void take(const geo::Fix& fix);
  void refresh();
  void refreshMarks();
  void showStanding();
  void showTapes();
  void showCorrection();
  void showNewMark();
  void showPace();
  bool takeStanding();
  bool takeTapes();
  bool takeCorrection();
  bool takeNewMark();
  bool takePace();
  void finish();
  const course::Mark* markNamed(const std::string& name) const;
  course::Mark markStoodOn() const;
  std::optional<double> betweenMarks_m(double& u_m) const;

  Store* store_;
  Whereabouts* whereabouts_;
  MarkModel* mark_;
  NumberField tape_, paces_;
  Rows<MarkRow> marks_;
  PlaceShow show_;
  Way way_ = Stand;
  bool open_ = false;
  std::vector<geo::Fix> fixes_;
  std::vector<std::string> chosen_;           ///< marks, in order of choice
  std::map<std::string, double> readings_m_;  ///< by mark
  std::optional<course::TapedPlaces> taped_;
  int side_ = -1;
  QString markName_;
  AdviceText trouble_;
};

}  // namespace swardwalk::mobile
