#include <gtest/gtest.h>

#include <QElapsedTimer>
#include <QFileInfo>
#include <QGuiApplication>
#include <QProcess>
#include <QRegularExpression>
#include <QSignalSpy>
#include <QTcpServer>
#include <QTemporaryDir>
#include <QUrl>

#include "tests/mobile/trial_course.h"

namespace swardwalk::mobile {
namespace {

bool waitUntil(const std::function<bool()>& fits) {
  QElapsedTimer timer;
  timer.start();
  while (!fits()) {
    if (timer.elapsed() > 30'000) return false;
    QGuiApplication::processEvents(QEventLoop::WaitForMoreEvents, 50);
  }
  return true;
}

/// A real shed server on a free port of this machine.
class Shed {
 public:
  Shed() {
    server_.start(SWARDWALK_SERVER, {"serve", "--data", folder_.path(), "--listen", "127.0.0.1:0"});
    if (!server_.waitForStarted()) return;
    QElapsedTimer timer;
    timer.start();
    while (address_.isEmpty() && timer.elapsed() < 20'000 && server_.waitForReadyRead(1000)) {
      said_ += QString::fromUtf8(server_.readAllStandardOutput());
      const auto at = said_.indexOf("http://");
      if (at >= 0) address_ = said_.mid(at).section(QRegularExpression("\\s"), 0, 0);
    }
  }
  ~Shed() {
    server_.terminate();
    if (!server_.waitForFinished(10'000)) server_.kill();
  }
  QString address() const { return address_; }

 private:
  QTemporaryDir folder_;
  QProcess server_;
  QString said_, address_;
};

#define NEEDS_SERVER() \
  if (!QFileInfo::exists(SWARDWALK_SERVER)) GTEST_SKIP() << "the server was not built"

TEST(ShedPage, WithoutAnAddressThereIsNothingToStart) {
  Trial trial(Trial::Begin::withCourse);
  EXPECT_FALSE(trial.app().shed().show().canStart);
  EXPECT_EQ(trial.app().shed().show().title, "No shed yet");
  trial.app().shed().setAddress("127.0.0.1:8080");
  EXPECT_TRUE(trial.app().shed().show().canStart);
}

TEST(ShedPage, ShowsWhatOnlyThisTabletHolds) {
  Trial trial(Trial::Begin::withCourse);
  auto* rows = trial.app().shed().onlyHere();
  const int count = rows->roleNames().key("count");
  EXPECT_EQ(rows->data(rows->index(0, 0), count).toString(), "16") << "sightings";
  EXPECT_EQ(rows->data(rows->index(1, 0), count).toString(), "1") << "repairs";
  EXPECT_EQ(rows->data(rows->index(2, 0), count).toString(), "2") << "rounds";
  EXPECT_TRUE(trial.app().shell().onlyHere().endsWith("records only on this tablet"));
}

TEST(ShedPage, AShedThatDoesNotAnswerIsSaidInWordsAndNothingIsLost) {
  Trial trial(Trial::Begin::withCourse);
  QTcpServer closed;
  ASSERT_TRUE(closed.listen(QHostAddress::LocalHost));
  const auto port = closed.serverPort();
  closed.close();
  trial.app().shed().setAddress(QString("http://127.0.0.1:%1").arg(port));
  const auto records = trial.app().store().journal().recordCount();
  trial.app().shed().exchangeNow();
  ASSERT_TRUE(waitUntil([&] { return !trial.app().shed().show().running; }));
  EXPECT_EQ(trial.app().shed().show().title, "The shed does not answer at 127.0.0.1");
  EXPECT_EQ(trial.app().store().journal().recordCount(), records);
}

TEST(ShedPage, AServerThatSpeaksNonsenseIsRefused) {
  Trial trial(Trial::Begin::withCourse);
  QTcpServer server;
  ASSERT_TRUE(server.listen(QHostAddress::LocalHost));
  QObject::connect(&server, &QTcpServer::newConnection, &server, [&server] {
    auto* socket = server.nextPendingConnection();
    QObject::connect(socket, &QIODevice::readyRead, socket, [socket] {
      socket->readAll();
      socket->write("HTTP/1.1 200 OK\r\nContent-Length: 5\r\nConnection: close\r\n\r\nhello");
      socket->disconnectFromHost();
    });
  });
  trial.app().shed().setAddress(QString("http://127.0.0.1:%1").arg(server.serverPort()));
  trial.app().shed().exchangeNow();
  ASSERT_TRUE(waitUntil([&] { return !trial.app().shed().show().running; }));
  EXPECT_FALSE(trial.app().shed().show().title.isEmpty());
  EXPECT_NE(trial.app().shed().show().title, "All exchanged");
}

TEST(ShedPage, StoppingIsSafe) {
  Trial trial(Trial::Begin::withCourse);
  QTcpServer silent;
  ASSERT_TRUE(silent.listen(QHostAddress::LocalHost));
  trial.app().shed().setAddress(QString("http://127.0.0.1:%1").arg(silent.serverPort()));
  trial.app().shed().exchangeNow();
  EXPECT_TRUE(trial.app().shed().show().running);
  EXPECT_EQ(trial.app().shell().network(), "In the shed's Wi-Fi");
  trial.app().shed().stop();
  EXPECT_FALSE(trial.app().shed().show().running);
  EXPECT_EQ(trial.app().shed().show().title, "Stopped");
}

TEST(ShedExchange, GivesAllToTheShedAndABlankTabletTakesItThere) {
  NEEDS_SERVER();
  Shed shed;
  ASSERT_FALSE(shed.address().isEmpty());
  Trial first(Trial::Begin::withCourse);
  first.app().shed().setAddress(shed.address());
  first.app().shed().exchangeNow();
  ASSERT_TRUE(waitUntil([&] { return !first.app().shed().show().running; }));
  ASSERT_EQ(first.app().shed().show().title, "All exchanged")
      << first.app().shed().show().second.toStdString();
  EXPECT_EQ(first.app().shell().onlyHere(), "");

  Trial second(Trial::Begin::blank);
  second.app().shed().setAddress(shed.address());
  second.app().shed().exchangeNow();
  ASSERT_TRUE(waitUntil([&] { return !second.app().shed().show().running; }));
  ASSERT_EQ(second.app().shed().show().title, "All exchanged")
      << second.app().shed().show().second.toStdString();
  EXPECT_EQ(second.app().store().state().patches.size(),
            first.app().store().state().patches.size());
  EXPECT_EQ(second.app().walk().show().green, "Hollow");

  // What the second one sees reaches the first.
  second.app().walk().mark();
  second.app().mark().chooseKind(Show::Bare);
  ASSERT_TRUE(second.app().mark().save());
  EXPECT_EQ(second.app().shell().onlyHere(), "1 sighting only on this tablet");
  second.app().shed().exchangeNow();
  ASSERT_TRUE(waitUntil([&] { return !second.app().shed().show().running; }));
  first.app().shed().exchangeNow();
  ASSERT_TRUE(waitUntil([&] { return !first.app().shed().show().running; }));
  EXPECT_EQ(first.app().store().state().patches.size(),
            second.app().store().state().patches.size());
  EXPECT_EQ(first.app().store().journal().vector(), second.app().store().journal().vector());
}

TEST(ShedExchange, AClockThatIsYearsOffIsSaid) {
  NEEDS_SERVER();
  Shed shed;
  Trial trial(Trial::Begin::withCourse);  // its clock stands in April 2027
  trial.app().shed().setAddress(shed.address());
  trial.app().shed().exchangeNow();
  ASSERT_TRUE(waitUntil([&] { return !trial.app().shed().show().running; }));
  auto* alarms = trial.app().shed().alarms();
  ASSERT_GE(alarms->rowCount(), 1);
  EXPECT_TRUE(alarms->data(alarms->index(0, 0), alarms->roleNames().key("title"))
                  .toString()
                  .startsWith("Clock "));
}

}  // namespace
}  // namespace swardwalk::mobile
