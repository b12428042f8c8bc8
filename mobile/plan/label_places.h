#pragma once

#include <QPointF>
#include <QRectF>
#include <QSizeF>
#include <vector>

namespace swardwalk::mobile {

/// A symbol that wants a label beside it; pixels.
struct Labelled {
  QPointF centre;
  double reach_px = 0.0;  ///< half the room that the symbol takes
  QSizeF label;
};

/// The box of each label: right of its symbol; left, below, then above where it would touch
/// another symbol or an earlier label, or leave `within`; right where nothing is free.
/// Takes time in proportion to the number of symbols.
std::vector<QRectF> labelPlaces(const std::vector<Labelled>& labelled, QRectF within,
                                double gap_px);

}  // namespace swardwalk::mobile
