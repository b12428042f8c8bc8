#include "mobile/app/palette.h"

namespace swardwalk::mobile {

namespace {

QColor rgb(QRgb value) { return QColor::fromRgb(value); }

Palette makeSun() {
  Palette palette;
  palette.paper = rgb(0xFFFFFF);
  palette.ground = rgb(0xF3F1EA);
  palette.ink = rgb(0x10201A);
  palette.ink2 = rgb(0x3B4A43);
  palette.line = rgb(0xB9BEAE);
  palette.turf = rgb(0xD3E3C4);
  palette.surround = rgb(0xE9EDDD);
  palette.action = rgb(0x0A5A3A);
  palette.onAction = rgb(0xFFFFFF);
  palette.watch = rgb(0x7A4B00);
  palette.stop = rgb(0x9B1C1C);
  palette.link = rgb(0x004F86);
  palette.patchEdge = rgb(0x10201A);
  // Fills of Okabe and Ito: told apart by people with any colour vision.
  palette.bare = rgb(0xE69F00);
  palette.hungry = rgb(0xF0E442);
  palette.dug = rgb(0xD55E00);
  palette.washed = rgb(0x0072B2);
  palette.letterDark = rgb(0x10201A);
  palette.letterLight = rgb(0xFFFFFF);
  return palette;
}

Palette makeDark() {
  Palette palette = makeSun();
  palette.paper = rgb(0x16201B);
  palette.ground = rgb(0x0E1512);
  palette.ink = rgb(0xF2F5EE);
  palette.ink2 = rgb(0xC3CDC4);
  palette.line = rgb(0x4A584F);
  palette.turf = rgb(0x26402F);
  palette.surround = rgb(0x1C2A22);
  palette.action = rgb(0x8FD9AE);
  palette.onAction = rgb(0x10201A);
  palette.watch = rgb(0xFFC861);
  palette.stop = rgb(0xFF9C94);
  palette.link = rgb(0x8CC8FF);
  palette.patchEdge = rgb(0xF2F5EE);
  return palette;
}

}  // namespace

const Palette& Palette::sun() {
  static const Palette palette = makeSun();
  return palette;
}

const Palette& Palette::dark() {
  static const Palette palette = makeDark();
  return palette;
}

}  // namespace swardwalk::mobile
