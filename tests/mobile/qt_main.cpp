#include <gtest/gtest.h>

#include <QGuiApplication>

#include "mobile/app/fonts.h"

/// The view models need Qt's event loop and fonts; no display is opened.
int main(int count, char** arguments) {
  qputenv("QT_QPA_PLATFORM", "offscreen");
  QGuiApplication application(count, arguments);
  swardwalk::mobile::loadFonts();
  testing::InitGoogleTest(&count, arguments);
  return RUN_ALL_TESTS();
}
