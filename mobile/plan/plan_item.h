#pragma once

#include <QtQml/qqmlregistration.h>
#include <QImage>
#include <QPointer>
#include <QQuickItem>

#include "mobile/plan/plan_source.h"
#include "mobile/plan/plan_view.h"

namespace swardwalk::mobile {

/// Draws a plan: QPainter into an image, shown through an image node, so that it looks
/// the same with every backend of Qt Quick. While a finger moves, the image that is
/// there is moved with it; it is drawn anew when the finger rests.
class PlanItem : public QQuickItem {
  Q_OBJECT
  QML_ELEMENT
  Q_PROPERTY(swardwalk::mobile::PlanSource* source READ source WRITE setSource NOTIFY sourceChanged)
  Q_PROPERTY(bool dark READ dark WRITE setDark NOTIFY darkChanged)
  /// Keeps the walker in the middle.
  Q_PROPERTY(bool following READ following WRITE setFollowing NOTIFY followingChanged)
  Q_PROPERTY(double margin MEMBER margin_ NOTIFY marginChanged)
  /// A tap is always a place, also where a patch lies.
  Q_PROPERTY(bool placesOnly MEMBER placesOnly_ NOTIFY placesOnlyChanged)
  Q_PROPERTY(QString scaleText READ scaleText NOTIFY viewChanged)
  Q_PROPERTY(double scaleWidth READ scaleWidth NOTIFY viewChanged)

 public:
  explicit PlanItem(QQuickItem* parent = nullptr);

  PlanSource* source() const { return source_; }
  void setSource(PlanSource* source);
  bool dark() const { return dark_; }
  void setDark(bool dark);
  bool following() const { return following_; }
  void setFollowing(bool following);
  QString scaleText() const;
  double scaleWidth() const;
  const PlanView& view() const { return view_; }

  Q_INVOKABLE void wholeGreen();
  /// A finger went down, moved this far since, and was lifted.
  Q_INVOKABLE void dragBegins();
  Q_INVOKABLE void dragTo(double x, double y);
  Q_INVOKABLE void dragEnds();
  /// Two fingers are this much farther apart than when they went down.
  Q_INVOKABLE void pinchTo(double scale, double x, double y);
  Q_INVOKABLE void zoom(double factor, double x, double y);
  /// A tap: tells of the patch under it, else of the place on the ground.
  Q_INVOKABLE void tap(double x, double y);
  /// Where a patch's symbol lies on the item; for tests that touch it.
  Q_INVOKABLE QPointF whereIs(const QString& patch) const;

 Q_SIGNALS:
  void sourceChanged();
  void darkChanged();
  void followingChanged();
  void marginChanged();
  void placesOnlyChanged();
  void viewChanged();
  void patchTapped(const QString& patch);
  /// `doubt` is how well a finger can place it at this scale, metres.
  void placeTapped(double east, double north, double doubt);

 protected:
  QSGNode* updatePaintNode(QSGNode* old, UpdatePaintNodeData* data) override;
  void geometryChange(const QRectF& now, const QRectF& before) override;

 private:
  void setView(const PlanView& view);
  void sceneChanged();
  void redraw();

  QPointer<PlanSource> source_;
  bool dark_ = false;
  bool following_ = false;
  bool fitted_ = false;  ///< shows the whole green until a finger says otherwise
  bool placesOnly_ = false;
  double margin_ = 36.0;
  PlanView view_;
  PlanView gestureStart_;
  bool gesture_ = false;
  QImage image_;
  PlanView painted_;  ///< the view that `image_` was drawn for
  bool stale_ = true;
  bool textureStale_ = true;
};

}  // namespace swardwalk::mobile
