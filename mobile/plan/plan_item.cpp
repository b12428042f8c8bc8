#include "mobile/plan/plan_item.h"

#include <QPainter>
#include <QQuickWindow>
#include <QSGImageNode>
#include <algorithm>

#include "mobile/plan/plan_painter.h"

namespace swardwalk::mobile {

namespace {

constexpr double followScale_px_m = 40.0;
/// How well a finger hits a place that it hides, a standard uncertainty on each axis: about
/// 2 mm of the glass (common practice, no source).
constexpr double finger_px = 10.0;

}  // namespace

PlanItem::PlanItem(QQuickItem* parent) : QQuickItem(parent) {
  setFlag(ItemHasContents);
  setClip(true);
}

void PlanItem::setSource(PlanSource* source) {
  if (source_ == source) return;
  if (source_) source_->disconnect(this);
  source_ = source;
  if (source_) {
    connect(source_, &PlanSource::changed, this, &PlanItem::sceneChanged);
    connect(source_, &PlanSource::refitWanted, this, &PlanItem::wholeGreen);
  }
  wholeGreen();
  Q_EMIT sourceChanged();
}

void PlanItem::setDark(bool dark) {
  if (dark_ == dark) return;
  dark_ = dark;
  redraw();
  Q_EMIT darkChanged();
}

void PlanItem::setFollowing(bool following) {
  if (following_ == following) return;
  following_ = following;
  if (following_) {
    fitted_ = false;
    PlanView view = view_;
    view.scale_px_m = std::max(view.scale_px_m, followScale_px_m);
    view_ = view;
    sceneChanged();
  }
  Q_EMIT followingChanged();
}

void PlanItem::wholeGreen() {
  fitted_ = true;
  if (following_) {
    following_ = false;
    Q_EMIT followingChanged();
  }
  if (!source_ || width() <= 0 || height() <= 0) return;
  const PlanScene& scene = source_->scene();
  setView(PlanView::fitting(scene.low, scene.high, size(), margin_));
}

void PlanItem::dragBegins() {
  gestureStart_ = view_;
  gesture_ = true;
}

void PlanItem::dragTo(double x, double y) {
  fitted_ = false;
  if (following_) {
    following_ = false;
    Q_EMIT followingChanged();
  }
  setView(gestureStart_.panned({x, y}));
}

void PlanItem::dragEnds() {
  gesture_ = false;
  redraw();
}

void PlanItem::pinchTo(double scale, double x, double y) {
  fitted_ = false;
  setView(gestureStart_.zoomed(scale, {x, y}));
}

void PlanItem::zoom(double factor, double x, double y) {
  fitted_ = false;
  setView(view_.zoomed(factor, {x, y}));
}

void PlanItem::tap(double x, double y) {
  if (!source_) return;
  const auto patch = placesOnly_ ? std::nullopt : patchAt(source_->scene(), view_, {x, y});
  if (patch) {
    Q_EMIT patchTapped(text(*patch));
    return;
  }
  const geo::LocalPoint at = view_.toGround({x, y});
  Q_EMIT placeTapped(at.east_m, at.north_m, finger_px / view_.scale_px_m);
}

QPointF PlanItem::whereIs(const QString& patch) const {
  if (!source_) return {-1, -1};
  for (const PlanPatch& one : source_->scene().patches) {
    if (text(one.id) == patch) return view_.toScreen(one.place);
  }
  return {-1, -1};
}

QString PlanItem::scaleText() const {
  const double length_m = niceLength_m(view_.scale_px_m, 150);
  if (length_m >= 1) return QStringLiteral("%1 m").arg(length_m);
  return QStringLiteral("%1 cm").arg(length_m * 100);
}

double PlanItem::scaleWidth() const {
  return niceLength_m(view_.scale_px_m, 150) * view_.scale_px_m;
}

void PlanItem::setView(const PlanView& view) {
  if (view_ == view) return;
  view_ = view;
  if (!gesture_ || !painted_.shows(view_)) stale_ = true;
  update();
  Q_EMIT viewChanged();
}

void PlanItem::sceneChanged() {
  if (source_ && following_ && source_->scene().position) {
    PlanView view = view_;
    view.centre = source_->scene().position->place;
    setView(view);
  }
  redraw();
}

void PlanItem::redraw() {
  stale_ = true;
  update();
}

void PlanItem::geometryChange(const QRectF& now, const QRectF& before) {
  QQuickItem::geometryChange(now, before);
  if (now.size() == before.size()) return;
  if (fitted_) {
    wholeGreen();
  } else {
    PlanView view = view_;
    view.size = now.size();
    setView(view);
  }
  redraw();
}

QSGNode* PlanItem::updatePaintNode(QSGNode* old, UpdatePaintNodeData*) {
  auto* node = static_cast<QSGImageNode*>(old);
  if (!source_ || width() <= 0 || height() <= 0) {
    delete node;
    return nullptr;
  }
  const double dpr = window()->effectiveDevicePixelRatio();
  if (stale_) {
    // A margin around, so that a finger drags ground into sight before it is redrawn.
    PlanView view = view_;
    view.around_px = std::min(width(), height()) * 0.25;
    view.size = QSizeF(width() + 2 * view.around_px, height() + 2 * view.around_px);
    QImage image((view.size * dpr).toSize(), QImage::Format_ARGB32_Premultiplied);
    image.setDevicePixelRatio(dpr);
    image.fill(Qt::transparent);
    QPainter painter(&image);
    paintPlan(painter, source_->scene(), view, dark_ ? Palette::dark() : Palette::sun());
    painter.end();
    image_ = std::move(image);
    painted_ = view;
    stale_ = false;
    textureStale_ = true;
  }
  if (!node) {
    node = window()->createImageNode();
    node->setOwnsTexture(true);
    node->setFiltering(QSGTexture::Linear);
    textureStale_ = true;
  }
  if (textureStale_) {
    node->setTexture(window()->createTextureFromImage(image_));
    textureStale_ = false;
  }
  const double factor = view_.scale_px_m / painted_.scale_px_m;
  const QPointF middle = view_.toScreen(painted_.centre);
  const QSizeF size = painted_.size * factor;
  node->setRect(QRectF(middle.x() - size.width() / 2, middle.y() - size.height() / 2, size.width(),
                       size.height()));
  return node;
}

}  // namespace swardwalk::mobile
