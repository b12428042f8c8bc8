#pragma once

#include <QColor>

namespace swardwalk::mobile {

/// The colours of one theme; each has its use as its name.
struct Palette {
  QColor paper, ground, ink, ink2, line, turf, surround, action, onAction, watch, stop, link;
  QColor patchEdge;  ///< the line round every patch and symbol
  QColor bare, hungry, dug, washed;
  QColor letterDark, letterLight;  ///< letters on the kinds' fills

  static const Palette& sun();
  static const Palette& dark();
};

}  // namespace swardwalk::mobile
