#include "mobile/app/fonts.h"

#include <QFont>
#include <QFontDatabase>
#include <QGuiApplication>

#include "mobile/app/theme.h"

namespace swardwalk::mobile {

void loadFonts() {
  QFontDatabase::addApplicationFont(QStringLiteral(":/swardwalk/fonts/B612-Regular.otf"));
  QFontDatabase::addApplicationFont(QStringLiteral(":/swardwalk/fonts/B612-Bold.otf"));
  QFont font(Theme::family());
  font.setPixelSize(Theme::bodySize());
  QGuiApplication::setFont(font);
}

}  // namespace swardwalk::mobile
