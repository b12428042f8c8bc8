#include "mobile/app/fonts.h"

#include <QFile>
#include <QFont>
#include <QFontDatabase>
#include <QGuiApplication>
#include <QtEndian>

#include "mobile/app/theme.h"

namespace swardwalk::mobile {

namespace {

/// The font under the app's own family name. Where B612 is installed, its fixed-width
/// sister answers to the name "B612", too, and would be taken for the regular one; a
/// name of the same length in the font's table of names tells them apart.
QByteArray underOwnName(QByteArray font) {
  constexpr qsizetype directory = 12;  // of an OpenType file: tables of 16 bytes each
  constexpr qsizetype entry = 16;
  if (font.size() < directory) return font;
  const auto tables = qFromBigEndian<quint16>(font.constData() + 4);
  for (qsizetype i = 0; i < tables && directory + (i + 1) * entry <= font.size(); ++i) {
    const qsizetype at = directory + i * entry;
    if (font.mid(at, 4) != "name") continue;
    const qsizetype begin = qFromBigEndian<quint32>(font.constData() + at + 8);
    const qsizetype size = qFromBigEndian<quint32>(font.constData() + at + 12);
    const QByteArray own = Theme::family().toLatin1();
    QByteArray names = font.mid(begin, size);
    names.replace("B612", own);
    const auto wide = [](const QByteArray& word) {
      QByteArray bytes;
      for (const char letter : word) bytes.append('\0').append(letter);
      return bytes;
    };
    names.replace(wide("B612"), wide(own));
    font.replace(begin, size, names);
  }
  return font;
}

}  // namespace

void loadFonts() {
  for (const char* name : {"B612-Regular.otf", "B612-Bold.otf"}) {
    QFile file(QStringLiteral(":/swardwalk/fonts/") + QString::fromLatin1(name));
    if (!file.open(QIODevice::ReadOnly)) continue;
    QFontDatabase::addApplicationFontFromData(underOwnName(file.readAll()));
  }
  QFont font(Theme::family());
  font.setPixelSize(Theme::bodySize());
  QGuiApplication::setFont(font);
}

}  // namespace swardwalk::mobile
