#include "mobile/app/pictures.h"

#include <QDir>
#include <QElapsedTimer>
#include <QGuiApplication>
#include <QImage>
#include <QQuickWindow>
#include <QTextStream>
#include <functional>
#include <vector>

#include "mobile/app/app.h"

namespace swardwalk::mobile {

namespace {

/// Lets pages lay themselves out and a log that is played fast run to its end.
void settle() {
  QElapsedTimer timer;
  timer.start();
  while (timer.elapsed() < 250) QGuiApplication::processEvents(QEventLoop::AllEvents, 20);
}

struct Picture {
  QString name;
  std::function<void()> prepare;
};

std::vector<Picture> picturesOf(App& app) {
  if (app.failure()) return {{QStringLiteral("failure"), [] {}}};
  std::vector<Picture> pictures{
      {QStringLiteral("walk"), [&app] { app.shell().openPage(Shell::Walk); }},
      {QStringLiteral("mark"),
       [&app] {
         app.walk().mark();
         app.mark().chooseKind(Show::Dug);
         app.mark().length()->set(0.52);
         app.mark().width()->set(0.44);
       }},
      {QStringLiteral("patches"),
       [&app] {
         app.mark().back();
         app.shell().openPage(Shell::Patches);
       }},
  };
  if (!app.store().state().patches.empty()) {
    const QString patch = text(app.store().progress().patches.front().patch);
    pictures.push_back(
        {QStringLiteral("patch"), [&app, patch] { app.patches().openPatch(patch); }});
    pictures.push_back({QStringLiteral("repair-form"), [&app] { app.patch().repairDone(); }});
  }
  pictures.push_back({QStringLiteral("repairs"), [&app] {
                        app.repairForm().back();
                        app.patch().leave();
                        app.shell().openPage(Shell::Repairs);
                      }});
  pictures.push_back({QStringLiteral("shed"), [&app] { app.shell().openPage(Shell::Shed); }});
  return pictures;
}

}  // namespace

int takePictures(App& app, QQuickWindow& window, const QString& folder) {
  if (!QDir().mkpath(folder)) {
    QTextStream(stderr) << "swardwalk: " << folder << ": the folder can't be made\n";
    return 1;
  }
  settle();
  for (const Picture& picture : picturesOf(app)) {
    picture.prepare();
    settle();
    const QString file = QDir(folder).filePath(picture.name + QStringLiteral(".png"));
    if (!window.grabWindow().save(file)) {
      QTextStream(stderr) << "swardwalk: " << file << ": the picture can't be saved\n";
      return 1;
    }
    QTextStream(stdout) << file << '\n';
  }
  return 0;
}

}  // namespace swardwalk::mobile
