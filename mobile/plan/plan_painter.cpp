#include "mobile/plan/plan_painter.h"

#include <QFontMetricsF>
#include <QPainter>
#include <QPainterPath>
#include <QtMath>
#include <algorithm>
#include <cmath>

#include "mobile/plan/label_places.h"
#include "mobile/plan/symbols.h"

namespace swardwalk::mobile {

namespace {

constexpr double symbol_px = 36.0;
/// On a plan lower than this, beside something else, symbols are smaller, and only the
/// chosen patch has its rings and its number: the others would hide it.
constexpr double smallPlan_px = 300.0;
constexpr double smallSymbol_px = 20.0;
constexpr double labelGap_px = 8.0;
constexpr double thin_px = 8.0;  ///< a narrower patch gets a thinner line

void addRing(QPainterPath& path, const geo::LocalRing& ring, const PlanView& view) {
  if (ring.empty()) return;
  path.moveTo(view.toScreen(ring.front()));
  for (std::size_t i = 1; i < ring.size(); ++i) path.lineTo(view.toScreen(ring[i]));
  path.closeSubpath();
}

QPainterPath pathOf(const geo::LocalShape& shape, const PlanView& view) {
  QPainterPath path;
  path.setFillRule(Qt::OddEvenFill);
  for (const geo::LocalPolygon& polygon : shape) {
    addRing(path, polygon.outer, view);
    for (const geo::LocalRing& hole : polygon.holes) addRing(path, hole, view);
  }
  return path;
}

QPainterPath lineOf(const geo::LocalRing& points, const PlanView& view) {
  QPainterPath path;
  for (std::size_t i = 0; i < points.size(); ++i) {
    if (i == 0) {
      path.moveTo(view.toScreen(points[i]));
    } else {
      path.lineTo(view.toScreen(points[i]));
    }
  }
  return path;
}

bool isSmall(const PlanView& view) { return view.size.height() < smallPlan_px; }

SymbolStyle styleFor(const PlanView& view) {
  SymbolStyle style;
  style.size_px = isSmall(view) ? smallSymbol_px : symbol_px;
  if (isSmall(view)) style.line_px = 1.5;
  return style;
}

SymbolLook lookOf(const PlanPatch& patch, const PlanView& view) {
  SymbolLook look = patch.look;
  if (isSmall(view) && !patch.chosen) {
    look.share = 0.0;
    look.late = false;
  }
  return look;
}

QFont numberFont(const PlanPatch& patch) { return planFont(16, patch.look.look != Show::Closed); }

void paintGreens(QPainter& painter, const PlanScene& scene, const PlanView& view,
                 const Palette& palette) {
  painter.setPen(QPen(palette.line, 1.5));
  painter.setBrush(palette.surround);
  for (const geo::LocalShape& surround : scene.surrounds) {
    painter.drawPath(pathOf(surround, view));
  }
  QColor edge = palette.ink2;
  painter.setPen(QPen(edge, 1.5));
  painter.setBrush(palette.turf);
  for (const PlanGreen& green : scene.greens) painter.drawPath(pathOf(green.shape, view));
}

/// Thin diagonal lines on turf where nobody has walked yet: drawn on a sheet of their
/// own, from which a broad stroke along the track is taken away.
void paintNotYetSeen(QPainter& painter, const PlanScene& scene, const PlanView& view,
                     const Palette& palette) {
  if (!scene.seenReach_m || scene.ownGreen < 0) return;
  const QPainterPath green =
      pathOf(scene.greens[static_cast<std::size_t>(scene.ownGreen)].shape, view);
  const double dpr = painter.device()->devicePixelRatioF();
  const QRectF screen(QPointF(0, 0), view.size);
  const QRect box = green.boundingRect().intersected(screen).toAlignedRect();
  if (box.isEmpty()) return;
  QImage sheet(box.size() * dpr, QImage::Format_ARGB32_Premultiplied);
  sheet.setDevicePixelRatio(dpr);
  sheet.fill(Qt::transparent);
  QPainter on(&sheet);
  on.setRenderHint(QPainter::Antialiasing);
  on.translate(-box.topLeft());
  on.setClipPath(green);
  QColor ink = palette.ink2;
  ink.setAlpha(120);
  on.setPen(QPen(ink, 1.2));
  constexpr int gap_px = 14;
  for (int x = box.left() - box.height(); x < box.right(); x += gap_px) {
    on.drawLine(x, box.top(), x + box.height(), box.bottom());
  }
  on.setClipping(false);
  on.setCompositionMode(QPainter::CompositionMode_Clear);
  on.setBrush(Qt::NoBrush);
  const double reach_px = *scene.seenReach_m * view.scale_px_m;
  on.setPen(QPen(Qt::black, 2 * reach_px, Qt::SolidLine, Qt::RoundCap, Qt::RoundJoin));
  if (scene.track.size() == 1) on.drawPoint(view.toScreen(scene.track.front()));
  on.drawPath(lineOf(scene.track, view));
  on.end();
  painter.drawImage(box.topLeft(), sheet);
}

void paintTrack(QPainter& painter, const PlanScene& scene, const PlanView& view,
                const Palette& palette) {
  if (scene.track.size() < 2) return;
  QPen dots(palette.ink2, 3.0, Qt::CustomDashLine, Qt::RoundCap, Qt::RoundJoin);
  dots.setDashPattern({0.01, 2.4});
  painter.setPen(dots);
  painter.setBrush(Qt::NoBrush);
  painter.drawPath(lineOf(scene.track, view));
}

void paintShape(QPainter& painter, const PlanPatch& patch, const PlanView& view,
                const Palette& palette) {
  if (patch.shape.empty() || patch.look.look == Show::Closed) return;
  const QPainterPath path = pathOf(patch.shape, view);
  const QRectF box = path.boundingRect();
  if (std::max(box.width(), box.height()) < symbol_px) return;
  const double narrow = std::min(box.width(), box.height());
  painter.setPen(QPen(palette.patchEdge, narrow < thin_px ? 1.2 : 2.0));
  painter.setBrush(patchBrush(patch.look, palette, 179));
  painter.drawPath(path);
}

/// Where each patch's number stands; none on a small plan but the chosen patch's.
std::vector<std::optional<QRectF>> numberPlaces(const PlanScene& scene, const PlanView& view) {
  std::vector<Labelled> labelled;
  labelled.reserve(scene.patches.size());
  for (const PlanPatch& patch : scene.patches) {
    const QFontMetricsF metrics(numberFont(patch));
    labelled.push_back({view.toScreen(patch.place),
                        symbolReach_px(lookOf(patch, view), styleFor(view)),
                        {metrics.horizontalAdvance(patch.number), metrics.capHeight()}});
  }
  const QRectF seen =
      QRectF(QPointF(0, 0), view.size)
          .adjusted(view.around_px, view.around_px, -view.around_px, -view.around_px);
  const std::vector<QRectF> boxes = labelPlaces(labelled, seen, labelGap_px);
  std::vector<std::optional<QRectF>> places;
  places.reserve(boxes.size());
  for (std::size_t i = 0; i < boxes.size(); ++i) {
    const bool shown = !isSmall(view) || scene.patches[i].chosen;
    places.push_back(shown ? std::optional(boxes[i]) : std::nullopt);
  }
  return places;
}

void paintPatch(QPainter& painter, const PlanPatch& patch, const PlanView& view,
                const Palette& palette) {
  const QPointF centre = view.toScreen(patch.place);
  const SymbolLook look = lookOf(patch, view);
  const SymbolStyle style = styleFor(view);
  if (patch.chosen) {
    const double around_px = symbolReach_px(look, style) + 7;
    painter.setBrush(Qt::NoBrush);
    painter.setPen(QPen(palette.ink, 3));
    painter.drawEllipse(centre, around_px, around_px);
  }
  paintSymbol(painter, centre, look, style, palette);
}

/// What is closed lies under what still needs somebody, and numbers above all symbols.
void paintPatches(QPainter& painter, const PlanScene& scene, const PlanView& view,
                  const Palette& palette) {
  for (const bool closed : {true, false}) {
    for (const PlanPatch& patch : scene.patches) {
      if ((patch.look.look == Show::Closed) == closed) paintPatch(painter, patch, view, palette);
    }
  }
  const auto places = numberPlaces(scene, view);
  for (std::size_t i = 0; i < places.size(); ++i) {
    if (!places[i]) continue;
    const PlanPatch& patch = scene.patches[i];
    paintHaloText(painter, places[i]->bottomLeft(), patch.number, numberFont(patch),
                  patch.look.look == Show::Closed ? palette.ink2 : palette.ink, palette.paper);
  }
}

void paintPosition(QPainter& painter, const PlanPosition& position, const PlanView& view,
                   const Palette& palette) {
  const QPointF at = view.toScreen(position.place);
  if (position.accuracy_m) {
    const double r = *position.accuracy_m * view.scale_px_m;
    QColor tint = palette.ink2;
    tint.setAlpha(36);
    painter.setBrush(tint);
    painter.setPen(QPen(palette.ink, 1.8));
    painter.drawEllipse(at, r, r);
  }
  if (!position.label.isEmpty()) {
    const QFont font = planFont(16, true);
    const QFontMetricsF metrics(font);
    double top = position.accuracy_m ? *position.accuracy_m * view.scale_px_m : 0.0;
    top = std::max(top, 20.0);
    double y = at.y() - top - 10;
    // A circle larger than the screen would carry its label off: keep it in sight.
    y = std::max(y, view.around_px + 30.0);
    paintHaloText(painter, {at.x() - metrics.horizontalAdvance(position.label) / 2, y},
                  position.label, font, palette.ink, palette.paper);
  }
  if (position.heading_deg) {
    painter.save();
    painter.translate(at);
    painter.rotate(*position.heading_deg);
    QPainterPath tip;
    tip.moveTo(0, -25);
    tip.lineTo(7, -12);
    tip.lineTo(-7, -12);
    tip.closeSubpath();
    painter.setPen(QPen(palette.paper, 4));
    painter.drawPath(tip);
    painter.fillPath(tip, palette.ink);
    painter.restore();
  }
  painter.setPen(QPen(palette.paper, 3));
  painter.setBrush(palette.ink);
  painter.drawEllipse(at, 11.5, 11.5);
  painter.setPen(Qt::NoPen);
  painter.setBrush(palette.paper);
  painter.drawEllipse(at, 4, 4);
}

void paintOutline(QPainter& painter, const PlanOutline& outline, const PlanView& view,
                  const Palette& palette) {
  if (outline.points.empty()) return;
  QPainterPath path = lineOf(outline.points, view);
  if (outline.points.size() > 2) {
    QColor fill = outline.kind == Show::NoKind ? palette.line : kindFill(outline.kind, palette);
    fill.setAlpha(120);
    painter.fillPath(path, fill);
  }
  painter.setBrush(Qt::NoBrush);
  painter.setPen(QPen(palette.paper, 9, Qt::SolidLine, Qt::RoundCap, Qt::RoundJoin));
  painter.drawPath(path);
  painter.setPen(QPen(palette.ink, 4.5, Qt::SolidLine, Qt::RoundCap, Qt::RoundJoin));
  painter.drawPath(path);
  const QPointF start = view.toScreen(outline.points.front());
  const QPointF end = view.toScreen(outline.points.back());
  if (outline.points.size() > 2) {
    QPen dashes(palette.watch, 4, Qt::CustomDashLine, Qt::FlatCap);
    dashes.setDashPattern({2.4, 1.8});
    painter.setPen(dashes);
    painter.drawLine(end, start);
    const QFont font = planFont(19, true);
    const QFontMetricsF metrics(font);
    // Beside a short gap the label would lie on the word at the start.
    constexpr double short_px = 160.0;
    const double gap_px = std::hypot(end.x() - start.x(), end.y() - start.y());
    const QPointF middle = gap_px < short_px ? end + QPointF(0, 24) : (start + end) / 2;
    paintHaloText(painter,
                  {middle.x() - metrics.horizontalAdvance(outline.gapLabel) - 20, middle.y()},
                  outline.gapLabel, font, palette.watch, palette.paper);
  }
  painter.setPen(QPen(palette.ink, 2));
  painter.setBrush(palette.paper);
  // Dots closer than a finger's line would run together into a smear.
  QPointF last = start;
  for (const geo::LocalPoint& point : outline.points) {
    const QPointF at = view.toScreen(point);
    if (std::hypot(at.x() - last.x(), at.y() - last.y()) < 14) continue;
    painter.drawEllipse(at, 5, 5);
    last = at;
  }
  painter.setPen(QPen(palette.ink, 3.5));
  painter.drawEllipse(start, 14, 14);
  const QFont font = planFont(16, true);
  const QFontMetricsF metrics(font);
  const QString word = QStringLiteral("Start");
  paintHaloText(painter, {start.x() - metrics.horizontalAdvance(word) / 2, start.y() + 38}, word,
                font, palette.ink, palette.paper);
}

void paintPin(QPainter& painter, QPointF at, const Palette& palette) {
  QPainterPath pin;
  pin.moveTo(at);
  pin.cubicTo(at + QPointF(-6, -14), at + QPointF(-16, -22), at + QPointF(-16, -34));
  pin.arcTo(QRectF(at.x() - 16, at.y() - 50, 32, 32), 180, -180);
  pin.cubicTo(at + QPointF(16, -22), at + QPointF(6, -14), at);
  painter.setPen(QPen(palette.paper, 3));
  painter.setBrush(palette.ink);
  painter.drawPath(pin);
  painter.setBrush(palette.paper);
  painter.drawEllipse(at + QPointF(0, -34), 5, 5);
}

}  // namespace

void paintPlan(QPainter& painter, const PlanScene& scene, const PlanView& view,
               const Palette& palette) {
  painter.setRenderHint(QPainter::Antialiasing);
  painter.fillRect(QRectF(QPointF(0, 0), view.size), palette.ground);
  paintGreens(painter, scene, view, palette);
  paintNotYetSeen(painter, scene, view, palette);
  paintTrack(painter, scene, view, palette);
  for (const PlanPatch& patch : scene.patches) paintShape(painter, patch, view, palette);
  painter.setPen(QPen(palette.ink2, 1.5));
  for (const geo::LocalPoint& mark : scene.marks) {
    const QPointF at = view.toScreen(mark);
    painter.drawLine(at + QPointF(-5, 0), at + QPointF(5, 0));
    painter.drawLine(at + QPointF(0, -5), at + QPointF(0, 5));
  }
  paintPatches(painter, scene, view, palette);
  if (scene.outline) paintOutline(painter, *scene.outline, view, palette);
  if (scene.position) paintPosition(painter, *scene.position, view, palette);
  if (scene.pin) paintPin(painter, view.toScreen(*scene.pin), palette);
}

std::optional<std::string> patchAt(const PlanScene& scene, const PlanView& view, QPointF pixel) {
  constexpr double finger_px = 24.0;
  std::optional<std::string> best;
  double nearest_px = 0.0;
  for (const PlanPatch& patch : scene.patches) {
    const QPointF at = view.toScreen(patch.place);
    const double away_px = std::hypot(at.x() - pixel.x(), at.y() - pixel.y());
    const double reach = std::max(finger_px, symbolReach_px(lookOf(patch, view), styleFor(view)));
    if (away_px <= reach && (!best || away_px < nearest_px)) {
      best = patch.id;
      nearest_px = away_px;
    }
  }
  if (best) return best;
  for (const PlanPatch& patch : scene.patches) {
    if (pathOf(patch.shape, view).contains(pixel)) return patch.id;
  }
  return std::nullopt;
}

}  // namespace swardwalk::mobile
