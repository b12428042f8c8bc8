#include <QDateTime>
#include <QDir>
#include <QGuiApplication>
#include <QQmlApplicationEngine>
#include <QQuickWindow>
#include <QStandardPaths>
#include <QTextStream>

#include "mobile/app/app.h"
#include "mobile/app/fonts.h"
#include "mobile/app/pictures.h"
#include "mobile/position/external_source.h"
#include "mobile/position/live_source.h"
#include "mobile/position/replay_source.h"

namespace {

using namespace swardwalk;
using namespace swardwalk::mobile;

int say(const Failure& failure) {
  QTextStream(stderr) << "swardwalk: " << text(failure.text()) << '\n';
  return 2;
}

/// `--now` stands still (a played log moves it on); `--on` takes the time of day of now.
Clock clockFor(const Options& options) {
  if (options.now) return Clock(*options.now);
  if (options.on) {
    const auto ofDay = std::chrono::milliseconds(QTime::currentTime().msecsSinceStartOfDay());
    return Clock(measure::Instant(*options.on) + ofDay);
  }
  return Clock();
}

}  // namespace

int main(int count, char** arguments) {
  QStringList words;
  for (int i = 1; i < count; ++i) words << QString::fromLocal8Bit(arguments[i]);
  const auto options = parseOptions(words);
  if (!options) return say(options.error());
  if (options->say) {
    QTextStream(stdout) << *options->say;
    return 0;
  }

  QGuiApplication application(count, arguments);
  QGuiApplication::setApplicationName(QStringLiteral("swardwalk"));
  QGuiApplication::setApplicationDisplayName(QStringLiteral("Swardwalk"));
  loadFonts();

  std::unique_ptr<PositionSource> source;
  if (options->receiver) {
    source = std::make_unique<ExternalSource>(*options->receiver, ExternalSource::Patience{});
  } else if (options->nmea.isEmpty()) {
    source = std::make_unique<LiveSource>();
  } else {
    auto replay = ReplaySource::read(
        options->nmea, options->fast ? ReplaySource::Pace::fast : ReplaySource::Pace::real);
    if (!replay) return say(replay.error());
    source = std::move(*replay);
  }
  QString directory = options->data;
  if (directory.isEmpty()) {
    directory = QStandardPaths::writableLocation(QStandardPaths::AppDataLocation);
  }
  App app(QDir(directory).absolutePath(), *options, clockFor(*options), std::move(source));

  QQmlApplicationEngine engine;
  QVariantMap properties = app.windowProperties();
  properties["width"] = options->size.width();
  properties["height"] = options->size.height();
  engine.setInitialProperties(properties);
  engine.load(app.failure() ? QUrl(QStringLiteral("qrc:/Swardwalk/app/FailureWindow.qml"))
                            : QUrl(QStringLiteral("qrc:/Swardwalk/app/Main.qml")));
  if (engine.rootObjects().isEmpty()) return 1;
  app.source().start();
  auto* window = qobject_cast<QQuickWindow*>(engine.rootObjects().first());
  if (!options->screenshots.isEmpty()) {
    return takePictures(app, *window, options->screenshots);
  }
  return QGuiApplication::exec();
}
