#include "mobile/plan/symbol_item.h"

#include <QPainter>
#include <algorithm>

#include "mobile/plan/symbols.h"

namespace swardwalk::mobile {

SymbolItem::SymbolItem(QQuickItem* parent) : QQuickPaintedItem(parent) {
  setAntialiasing(true);
  connect(this, &SymbolItem::changed, this, [this] { update(); });
}

void SymbolItem::setLook(const SymbolLook& look) {
  if (look_ == look) return;
  look_ = look;
  Q_EMIT changed();
}

void SymbolItem::setKind(Show::Kind kind) {
  if (look_.kind == kind) return;
  look_ = SymbolLook{};
  look_.kind = kind;
  Q_EMIT changed();
}

void SymbolItem::paint(QPainter* painter) {
  if (look_.kind == Show::NoKind) return;
  painter->setRenderHint(QPainter::Antialiasing);
  SymbolStyle style;
  style.size_px = size_px_;
  style.line_px = std::clamp(size_px_ * 0.07, 1.8, 4.0);
  paintSymbol(*painter, {width() / 2, height() / 2}, look_, style,
              dark_ ? Palette::dark() : Palette::sun());
}

}  // namespace swardwalk::mobile
