#pragma once

#include <QtQml/qqmlregistration.h>
#include <QQuickPaintedItem>

#include "mobile/app/show.h"

namespace swardwalk::mobile {

/// A patch's symbol beside its word, in lists, tiles and headings.
class SymbolItem : public QQuickPaintedItem {
  Q_OBJECT
  QML_ELEMENT
  Q_PROPERTY(swardwalk::mobile::SymbolLook look READ look WRITE setLook NOTIFY changed)
  /// For tiles: the kind alone.
  Q_PROPERTY(swardwalk::mobile::Show::Kind kind READ kind WRITE setKind NOTIFY changed)
  Q_PROPERTY(double symbolSize MEMBER size_px_ NOTIFY changed)
  Q_PROPERTY(bool dark MEMBER dark_ NOTIFY changed)

 public:
  explicit SymbolItem(QQuickItem* parent = nullptr);

  SymbolLook look() const { return look_; }
  void setLook(const SymbolLook& look);
  Show::Kind kind() const { return look_.kind; }
  void setKind(Show::Kind kind);
  void paint(QPainter* painter) override;

 Q_SIGNALS:
  void changed();

 private:
  SymbolLook look_;
  double size_px_ = 26.0;
  bool dark_ = false;
};

}  // namespace swardwalk::mobile
