#include <QCoreApplication>
#include <QGuiApplication>
#include <cstdio>
#include <limits>

#include "mobile/app/app.h"
#include "mobile/app/fonts.h"
#include "mobile/position/scripted_source.h"
#include "tests/mobile/trial_course.h"

// The tablet's app without its pages, for tests that need a tablet as a program of its own:
//     tablet_in_words DIR WORDS...
// `pair TEXT` pairs with all that a shed shows, `shed ADDRESS` names one, `exchange` exchanges,
// `save N` saves so many sightings, `walk` does both without end. One line each on standard
// output, when what it says is on disk or over.

namespace swardwalk::mobile {
namespace {

void say(const QString& words) {
  std::printf("%s\n", words.toUtf8().constData());
  std::fflush(stdout);
}

void settle(App& app) {
  while (app.shed().show().running) QGuiApplication::processEvents(QEventLoop::WaitForMoreEvents);
}

/// False where it could not be saved.
bool save(App& app, int number) {
  course::Sighting sighting;
  sighting.patch = "w" + std::to_string(number);
  sighting.label = "W" + std::to_string(number);
  sighting.green = "North";
  sighting.kind = turf::Kind::dug;
  sighting.seen = app.store().now();
  sighting.point = trialPlace(56 + number % 7, number % 5);
  sighting.accuracy_m = 0.3;
  sighting.tape = course::TapeSize{geo::TapeForm::ellipse, 0.5, 0.5};
  const auto saved =
      app.store().write([&](course::Recorder& recorder) { return recorder.sighting(sighting); });
  if (!saved) say("not saved: " + QString::fromStdString(saved.error().text()));
  if (saved) say(QString("saved %1").arg(QString::fromStdString(sighting.patch)));
  return saved.has_value();
}

int run(App& app, const QStringList& words) {
  int number = static_cast<int>(app.store().state().patches.size());
  for (int i = 0; i < words.size(); ++i) {
    const QString& word = words[i];
    const QString next = words.value(i + 1);
    if (word == "pair") {
      app.shed().setAddress(next);
      app.shed().pairNow();
      ++i;
    } else if (word == "shed") {
      app.shed().setAddress(next);
      ++i;
      continue;
    } else if (word == "exchange") {
      app.shed().exchangeNow();
    } else if (word == "save" || word == "walk") {
      const int most = word == "save" ? next.toInt() : std::numeric_limits<int>::max();
      for (int more = 0; more < most; ++more) {
        if (!save(app, number++)) return 1;
        if (word == "save") continue;
        app.shed().exchangeNow();
        QGuiApplication::processEvents();
      }
      ++i;
      continue;
    } else {
      say("what is " + word + "?");
      return 2;
    }
    settle(app);
    say(word + ": " + app.shed().show().title + ". " + app.shed().show().second);
  }
  return 0;
}

}  // namespace
}  // namespace swardwalk::mobile

int main(int count, char** arguments) {
  using namespace swardwalk::mobile;
  qputenv("QT_QPA_PLATFORM", "offscreen");
  QGuiApplication application(count, arguments);
  loadFonts();
  QStringList words = QCoreApplication::arguments().mid(1);
  if (words.isEmpty()) {
    say("usage: tablet_in_words DIR WORDS...");
    return 2;
  }
  const QString directory = words.takeFirst();
  App app(directory, {}, Clock(), std::make_unique<ScriptedSource>());
  if (app.failure()) {
    say("not open: " + QString::fromStdString(app.failure()->text()));
    return 1;
  }
  return run(app, words);
}
