#pragma once

#include <QtQml/qqmlregistration.h>
#include <QColor>
#include <QObject>
#include <QVariantList>

#include "mobile/app/palette.h"
#include "mobile/app/show.h"

namespace swardwalk::mobile {

/// The table of colours and sizes that every page takes its own from. It holds no data
/// of the course; Main.qml says which theme is on.
class Theme : public QObject {
  Q_OBJECT
  QML_ELEMENT
  QML_SINGLETON
  Q_PROPERTY(bool dark MEMBER dark_ NOTIFY changed)
  Q_PROPERTY(QColor paper READ paper NOTIFY changed)
  Q_PROPERTY(QColor ground READ ground NOTIFY changed)
  Q_PROPERTY(QColor ink READ ink NOTIFY changed)
  Q_PROPERTY(QColor ink2 READ ink2 NOTIFY changed)
  Q_PROPERTY(QColor line READ line NOTIFY changed)
  Q_PROPERTY(QColor turf READ turf NOTIFY changed)
  Q_PROPERTY(QColor action READ action NOTIFY changed)
  Q_PROPERTY(QColor onAction READ onAction NOTIFY changed)
  Q_PROPERTY(QColor watch READ watch NOTIFY changed)
  Q_PROPERTY(QColor stop READ stop NOTIFY changed)
  Q_PROPERTY(QColor link READ link NOTIFY changed)
  Q_PROPERTY(QVariantList weights READ weights NOTIFY changed)
  Q_PROPERTY(QString family READ family CONSTANT)
  Q_PROPERTY(int answerSize READ answerSize CONSTANT)
  Q_PROPERTY(int headingSize READ headingSize CONSTANT)
  Q_PROPERTY(int bodySize READ bodySize CONSTANT)
  Q_PROPERTY(int secondSize READ secondSize CONSTANT)
  Q_PROPERTY(int inside READ inside CONSTANT)
  Q_PROPERTY(int between READ between CONSTANT)
  Q_PROPERTY(int around READ around CONSTANT)
  Q_PROPERTY(int target READ target CONSTANT)
  Q_PROPERTY(int bigAction READ bigAction CONSTANT)
  Q_PROPERTY(int rail READ rail CONSTANT)
  Q_PROPERTY(int corner READ corner CONSTANT)

 public:
  explicit Theme(QObject* parent = nullptr) : QObject(parent) {}

  const Palette& palette() const { return dark_ ? Palette::dark() : Palette::sun(); }
  QColor paper() const { return palette().paper; }
  QColor ground() const { return palette().ground; }
  QColor ink() const { return palette().ink; }
  QColor ink2() const { return palette().ink2; }
  QColor line() const { return palette().line; }
  QColor turf() const { return palette().turf; }
  QColor action() const { return palette().action; }
  QColor onAction() const { return palette().onAction; }
  QColor watch() const { return palette().watch; }
  QColor stop() const { return palette().stop; }
  QColor link() const { return palette().link; }

  /// The embedded font, B612, under a family name of our own; see fonts.cpp.
  static QString family() { return QStringLiteral("Swrd"); }
  static int answerSize() { return 30; }
  static int headingSize() { return 22; }
  static int bodySize() { return 19; }
  static int secondSize() { return 16; }
  static int inside() { return 8; }
  static int between() { return 16; }
  static int around() { return 24; }
  /// Nothing that is touched is smaller; gloves and wet hands.
  static int target() { return 48; }
  static int bigAction() { return 88; }
  static int rail() { return 340; }
  static int corner() { return 6; }

  /// The colours of text by its weight, in the order of Show::Weight. A property, because
  /// what calls a function is not drawn anew when the theme changes.
  QVariantList weights() const;

 Q_SIGNALS:
  void changed();

 private:
  bool dark_ = false;
};

}  // namespace swardwalk::mobile
