#pragma once

#include <QtQml/qqmlregistration.h>
#include <QObject>
#include <optional>
#include <string>

#include "mobile/app/number_field.h"
#include "mobile/app/store.h"
#include "mobile/plan/plan_source.h"
#include "mobile/position/whereabouts.h"
#include "mobile/walk/depths_model.h"
#include "mobile/walk/mark_show.h"
#include "mobile/walk/place.h"
#include "mobile/walk/walk_model.h"

namespace swardwalk::mobile {

/// One sighting while it is entered: kind, size, depth, note. A size that nobody
/// touched is saved as "not measured", so that kind, Save is a whole sighting.
class MarkModel : public QObject {
  Q_OBJECT
  QML_ELEMENT
  QML_UNCREATABLE("made at start")
  Q_PROPERTY(swardwalk::mobile::MarkShow show READ show NOTIFY changed)
  Q_PROPERTY(swardwalk::mobile::Show::Kind kind READ kind NOTIFY changed)
  Q_PROPERTY(Way way READ way NOTIFY changed)
  Q_PROPERTY(Form form READ form NOTIFY changed)
  Q_PROPERTY(QString note READ note WRITE setNote NOTIFY noteChanged)
  Q_PROPERTY(swardwalk::mobile::NumberField* length READ length CONSTANT)
  Q_PROPERTY(swardwalk::mobile::NumberField* width READ width CONSTANT)
  Q_PROPERTY(swardwalk::mobile::NumberField* lengthPaces READ lengthPaces CONSTANT)
  Q_PROPERTY(swardwalk::mobile::NumberField* widthPaces READ widthPaces CONSTANT)
  Q_PROPERTY(swardwalk::mobile::DepthsModel* depths READ depths CONSTANT)
  Q_PROPERTY(swardwalk::mobile::NumberField* squaresBare READ squaresBare CONSTANT)
  Q_PROPERTY(swardwalk::mobile::NumberField* squares READ squares CONSTANT)
  Q_PROPERTY(swardwalk::mobile::NumberField* frameSide READ frameSide CONSTANT)
  /// How much of the outline is bare, by eye, per cent; not asked of a counting frame.
  Q_PROPERTY(swardwalk::mobile::NumberField* bareShare READ bareShare CONSTANT)
  Q_PROPERTY(swardwalk::mobile::PlanSource* plan READ plan CONSTANT)

 public:
  enum Way { Tape, Paces, Frame };
  Q_ENUM(Way)
  enum Form { Oval, Rectangle, Triangle };
  Q_ENUM(Form)

  /// All must outlive this.
  MarkModel(Store& store, Whereabouts& whereabouts, WalkModel& walk, QObject* parent = nullptr);

  const MarkShow& show() const { return show_; }
  Show::Kind kind() const { return kind_; }
  Way way() const { return way_; }
  Form form() const { return form_; }
  QString note() const { return note_; }
  void setNote(const QString& note);
  NumberField* length() { return &length_; }
  NumberField* width() { return &width_; }
  NumberField* lengthPaces() { return &lengthPaces_; }
  NumberField* widthPaces() { return &widthPaces_; }
  DepthsModel* depths() { return &depths_; }
  NumberField* squaresBare() { return &squaresBare_; }
  NumberField* squares() { return &squares_; }
  NumberField* frameSide() { return &frameSide_; }
  NumberField* bareShare() { return &bareShare_; }
  PlanSource* plan() { return &plan_; }

  /// Begins a new sighting: of the patch with this id, or of a new one.
  void begin(const std::string& patch);
  /// What an outline needs to go on from here.
  const std::string& patch() const { return patch_; }
  const std::string& green() const { return green_; }
  /// The sighting as far as it is entered, without a size.
  course::Sighting sightingSoFar() const;

  Q_INVOKABLE void chooseKind(swardwalk::mobile::Show::Kind kind);
  Q_INVOKABLE void chooseWay(swardwalk::mobile::MarkModel::Way way);
  Q_INVOKABLE void chooseForm(swardwalk::mobile::MarkModel::Form form);
  Q_INVOKABLE void tapPlace(double east, double north, double doubt);
  /// It is the patch that lies so near.
  Q_INVOKABLE void takeSame();
  Q_INVOKABLE void walkOutline();
  Q_INVOKABLE void drawOutline();
  /// Opens the page for several depth readings.
  Q_INVOKABLE void readDepths() { Q_EMIT depthsWanted(); }
  /// Opens the ways to a better place.
  Q_INVOKABLE void placeBetter() { Q_EMIT placeWanted(); }
  /// A place that was taped, or stood on.
  void usePlace(Place place);
  const std::optional<Place>& place() const { return place_; }
  /// True once the sighting is on disk (J2).
  Q_INVOKABLE bool save();
  Q_INVOKABLE void back();

 Q_SIGNALS:
  void changed();
  void noteChanged();
  void outlineWanted();
  void drawingWanted();
  void depthsWanted();
  void placeWanted();
  void closed();

 private:
  void refresh();
  void refreshPlan();
  void refreshSame();
  void findPlace();
  /// Of the whole outline.
  std::optional<measure::Measured> outlineArea() const;
  /// Of what is bare in it.
  std::optional<measure::Measured> area() const;
  std::optional<measure::Measured> share() const;
  std::optional<double> receiverDoubt_m2(double length_m, double width_m) const;
  measure::Measured pace() const;

  Store* store_;
  Whereabouts* whereabouts_;
  WalkModel* walk_;
  DepthsModel depths_;
  NumberField length_, width_, lengthPaces_, widthPaces_, squaresBare_, squares_, frameSide_,
      bareShare_;
  PlanSource plan_;
  MarkShow show_;
  Show::Kind kind_ = Show::NoKind;
  Way way_ = Tape;
  Form form_ = Oval;
  QString note_;
  bool open_ = false;
  std::string patch_;
  std::string green_;
  std::optional<Place> place_;
  std::string near_;
};

}  // namespace swardwalk::mobile
