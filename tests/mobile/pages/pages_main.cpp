#include <QQmlEngine>
#include <QtQuickTest>

#include "mobile/app/fonts.h"
#include "tests/mobile/pages/trial_app.h"

namespace {

class Setup : public QObject {
  Q_OBJECT

 public Q_SLOTS:
  void applicationAvailable() { swardwalk::mobile::loadFonts(); }
  void qmlEngineAvailable(QQmlEngine* engine) {
    engine->addImportPath(QStringLiteral("qrc:/"));
    qmlRegisterType<swardwalk::mobile::TrialApp>("SwardwalkTrials", 1, 0, "TrialApp");
  }
};

}  // namespace

QUICK_TEST_MAIN_WITH_SETUP(pages, Setup)

#include "pages_main.moc"
