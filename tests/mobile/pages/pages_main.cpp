#include <QQmlEngine>
#include <QtQuickTest>

#include "mobile/app/fonts.h"
#include "tests/mobile/pages/setup.h"
#include "tests/mobile/pages/trial_app.h"

namespace swardwalk::mobile {

void Setup::applicationAvailable() { loadFonts(); }

void Setup::qmlEngineAvailable(QQmlEngine* engine) {
  engine->addImportPath(QStringLiteral("qrc:/"));
  qmlRegisterType<TrialApp>("SwardwalkTrials", 1, 0, "TrialApp");
}

}  // namespace swardwalk::mobile

QUICK_TEST_MAIN_WITH_SETUP(pages, swardwalk::mobile::Setup)
