#pragma once

#include <QPainterPath>
#include <QPointF>

#include "mobile/app/palette.h"
#include "mobile/app/show.h"

class QPainter;

namespace swardwalk::mobile {

/// How a symbol is drawn where the picture differs from place to place.
struct SymbolStyle {
  double size_px = 36.0;       ///< of the circle; the other shapes go with it
  double line_px = 2.5;        ///< the line that carries the contrast
  double downhill_deg = 90.0;  ///< where the drop of *washed* points, clockwise from north
};

/// The outline of a kind's shape about the origin: circle, square, triangle, drop.
QPainterPath symbolShape(Show::Kind kind, double size_px, double downhill_deg = 90.0);

/// Draws a patch's symbol with its letter, fill by state and rings (look.md).
void paintSymbol(QPainter& painter, QPointF centre, const SymbolLook& look,
                 const SymbolStyle& style, const Palette& palette);

/// Half the room that a symbol takes with its rings.
double symbolReach_px(const SymbolLook& look, const SymbolStyle& style);

/// The brush with which a patch in this state is filled.
QBrush patchBrush(const SymbolLook& look, const Palette& palette, int alpha = 255);

QColor kindFill(Show::Kind kind, const Palette& palette);

/// Text with a casing in `halo`, so that it reads on every ground.
void paintHaloText(QPainter& painter, QPointF left, const QString& text, const QFont& font,
                   const QColor& ink, const QColor& halo, double halo_px = 3.0);

/// The app's font with an exact height, drawn the same by every backend.
QFont planFont(int size_px, bool bold);

}  // namespace swardwalk::mobile
