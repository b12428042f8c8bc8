#include "mobile/plan/symbols.h"

#include <QFont>
#include <QFontMetricsF>
#include <QPainter>
#include <QtMath>
#include <algorithm>

#include "mobile/app/theme.h"

namespace swardwalk::mobile {

namespace {

QString letterOf(Show::Kind kind) {
  switch (kind) {
    case Show::Bare:
      return QStringLiteral("B");
    case Show::Hungry:
      return QStringLiteral("H");
    case Show::Dug:
      return QStringLiteral("D");
    case Show::Washed:
      return QStringLiteral("W");
    case Show::NoKind:
      break;
  }
  return QStringLiteral("?");
}

/// A half-round with a tail, pointing east; the letter sits in the round part.
QPainterPath drop(double size_px) {
  const double r = size_px * 0.5;
  QPainterPath path;
  path.moveTo(r * 1.45, 0);
  path.quadTo(r * 0.75, r * 0.95, -r * 0.1, r * 0.95);
  path.arcTo(QRectF(-r * 1.05, -r * 0.95, r * 1.9, r * 1.9), 270, -180);
  path.quadTo(r * 0.75, -r * 0.95, r * 1.45, 0);
  path.closeSubpath();
  return path;
}

QPainterPath triangle(double size_px) {
  const double half = size_px * 0.66;
  QPainterPath path;
  path.moveTo(0, -size_px * 0.68);
  path.lineTo(half, size_px * 0.46);
  path.lineTo(-half, size_px * 0.46);
  path.closeSubpath();
  return path;
}

void paintRings(QPainter& painter, QPointF centre, const SymbolLook& look, const SymbolStyle& style,
                const Palette& palette) {
  const double width = std::max(2.0, style.size_px * 0.11);
  const double share_r = style.size_px * 0.5 * 1.42;
  const double late_r = look.share > 0 ? share_r + width * 2.0 : share_r;
  painter.setBrush(Qt::NoBrush);
  if (look.share > 0) {
    const QRectF box(centre.x() - share_r, centre.y() - share_r, 2 * share_r, 2 * share_r);
    painter.setPen(QPen(palette.paper, width * 1.7));
    painter.drawEllipse(box);
    painter.setPen(QPen(palette.line, std::max(1.0, width * 0.3)));
    painter.drawEllipse(box);
    painter.setPen(QPen(palette.ink, width, Qt::SolidLine, Qt::FlatCap));
    painter.drawArc(box, 90 * 16, -qRound(std::min(look.share, 1.0) * 360 * 16));
  }
  if (look.late) {
    const QRectF box(centre.x() - late_r, centre.y() - late_r, 2 * late_r, 2 * late_r);
    painter.setPen(QPen(palette.paper, width * 1.7));
    painter.drawEllipse(box);
    painter.setPen(QPen(palette.stop, width * 0.8));
    painter.drawEllipse(box);
  }
}

}  // namespace

QFont planFont(int size_px, bool bold) {
  QFont font(Theme::family());
  font.setPixelSize(size_px);
  font.setBold(bold);
  return font;
}

QColor kindFill(Show::Kind kind, const Palette& palette) {
  switch (kind) {
    case Show::Bare:
      return palette.bare;
    case Show::Hungry:
      return palette.hungry;
    case Show::Dug:
      return palette.dug;
    case Show::Washed:
      return palette.washed;
    case Show::NoKind:
      break;
  }
  return palette.paper;
}

QPainterPath symbolShape(Show::Kind kind, double size_px, double downhill_deg) {
  switch (kind) {
    case Show::Hungry: {
      QPainterPath path;
      const double half = size_px * 0.46;
      path.addRoundedRect(QRectF(-half, -half, 2 * half, 2 * half), size_px * 0.05, size_px * 0.05);
      return path;
    }
    case Show::Dug:
      return triangle(size_px);
    case Show::Washed: {
      QTransform turn;
      turn.rotate(downhill_deg - 90.0);
      return turn.map(drop(size_px));
    }
    default: {
      QPainterPath path;
      path.addEllipse(QPointF(0, 0), size_px * 0.5, size_px * 0.5);
      return path;
    }
  }
}

QBrush patchBrush(const SymbolLook& look, const Palette& palette, int alpha) {
  QColor fill = kindFill(look.kind, palette);
  fill.setAlpha(alpha);
  if (look.look == Show::Closed) return palette.paper;
  if (look.look != Show::SownWaiting && look.look != Show::Up) return fill;
  // Dots and stripes are tiles of our own: Qt's patterns ignore the screen's density.
  constexpr int tile = 8;
  QImage image(tile, tile, QImage::Format_ARGB32_Premultiplied);
  image.fill(palette.paper);
  QPainter painter(&image);
  painter.setRenderHint(QPainter::Antialiasing);
  if (look.look == Show::SownWaiting) {
    painter.setPen(Qt::NoPen);
    painter.setBrush(fill);
    painter.drawEllipse(QPointF(2, 2), 1.7, 1.7);
    painter.drawEllipse(QPointF(6, 6), 1.7, 1.7);
  } else {
    painter.setPen(QPen(fill, 2.6));
    for (int shift = -tile; shift <= tile; shift += tile) {
      painter.drawLine(QPointF(shift - 2, tile + 2), QPointF(shift + tile + 2, -2));
    }
  }
  painter.end();
  return QBrush(image);
}

void paintHaloText(QPainter& painter, QPointF left, const QString& text, const QFont& font,
                   const QColor& ink, const QColor& halo, double halo_px) {
  QPainterPath path;
  path.addText(left, font, text);
  painter.setBrush(Qt::NoBrush);
  painter.setPen(QPen(halo, halo_px * 2, Qt::SolidLine, Qt::RoundCap, Qt::RoundJoin));
  painter.drawPath(path);
  painter.fillPath(path, ink);
}

void paintSymbol(QPainter& painter, QPointF centre, const SymbolLook& look,
                 const SymbolStyle& style, const Palette& palette) {
  const bool closed = look.look == Show::Closed;
  paintRings(painter, centre, look, style, palette);
  const QPainterPath shape =
      symbolShape(look.kind, style.size_px, style.downhill_deg).translated(centre);
  painter.setPen(QPen(closed ? palette.ink2 : palette.patchEdge,
                      closed ? std::min(1.5, style.line_px) : style.line_px, Qt::SolidLine,
                      Qt::RoundCap, Qt::RoundJoin));
  QBrush brush = patchBrush(look, palette);
  if (!brush.textureImage().isNull())
    brush.setTransform(QTransform::fromTranslate(centre.x(), centre.y()));
  painter.setBrush(brush);
  painter.drawPath(shape);

  const QFont font = planFont(std::max(9, qRound(style.size_px * 0.52)), !closed);
  const QFontMetricsF metrics(font);
  const QString letter = letterOf(look.kind);
  QPointF at(centre.x() - metrics.horizontalAdvance(letter) / 2,
             centre.y() + metrics.capHeight() / 2);
  if (look.kind == Show::Dug) at.ry() += style.size_px * 0.12;
  const bool pattern = look.look == Show::SownWaiting || look.look == Show::Up;
  if (closed) {
    QPainterPath path;
    path.addText(at, font, letter);
    painter.fillPath(path, palette.ink2);
  } else if (pattern) {
    paintHaloText(painter, at, letter, font, palette.ink, palette.paper, style.size_px * 0.07);
  } else {
    QPainterPath path;
    path.addText(at, font, letter);
    painter.fillPath(path, look.kind == Show::Washed ? palette.letterLight : palette.letterDark);
  }
}

double symbolReach_px(const SymbolLook& look, const SymbolStyle& style) {
  const double width = std::max(2.0, style.size_px * 0.11);
  double reach = style.size_px * (look.kind == Show::Dug || look.kind == Show::Washed ? 0.7 : 0.5);
  const double ring = style.size_px * 0.71 + width * 0.9;
  if (look.share > 0) reach = std::max(reach, ring);
  if (look.late) reach = std::max(reach, look.share > 0 ? ring + width * 2 : ring);
  return reach;
}

}  // namespace swardwalk::mobile
