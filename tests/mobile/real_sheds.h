#pragma once

#include <QElapsedTimer>
#include <QGuiApplication>
#include <QJsonDocument>
#include <QJsonObject>
#include <QProcess>
#include <QRegularExpression>
#include <QTemporaryDir>
#include <functional>

#include "tests/mobile/trial_course.h"

/// Sheds as the crew meets them: the server's own program on a free port of this machine.
namespace swardwalk::mobile {

inline bool waitUntil(const std::function<bool()>& fits) {
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
  QString folder() const { return folder_.path(); }

 private:
  QTemporaryDir folder_;
  QProcess server_;
  QString said_, address_;
};

/// A real shed that asks everybody who they are, with a certificate of its own.
class GuardedShed {
 public:
  GuardedShed() {
    server_.start(SWARDWALK_SERVER, {"serve", "--data", folder_.path(), "--listen", "127.0.0.1:0",
                                     "--guarded", "--format", "json"});
    if (!server_.waitForStarted() || !server_.waitForReadyRead(20'000)) return;
    const QJsonObject said = QJsonDocument::fromJson(server_.readLine()).object();
    address_ = said["address"].toString();
    fingerprint_ = said["fingerprint"].toString();
  }
  ~GuardedShed() {
    server_.terminate();
    if (!server_.waitForFinished(10'000)) server_.kill();
  }
  const QString& address() const { return address_; }
  const QString& fingerprint() const { return fingerprint_; }
  QString folder() const { return folder_.path(); }

  QByteArray command(QStringList words) {
    words.insert(1, "--data");
    words.insert(2, folder_.path());
    QProcess process;
    process.start(SWARDWALK_SERVER, words);
    process.waitForFinished();
    return process.readAllStandardOutput();
  }
  /// What somebody at the shed copies to the tablet.
  QString card() {
    const QJsonObject shown =
        QJsonDocument::fromJson(command({"pair", "--format", "json"})).object();
    return QString("swardwalk pair 1 %1 %2 %3")
        .arg(shown["address"].toString(), shown["fingerprint"].toString(),
             shown["code"].toString());
  }

 private:
  QTemporaryDir folder_;
  QProcess server_;
  QString address_, fingerprint_;
};

inline bool settles(Trial& trial) {
  return waitUntil([&] { return !trial.app().shed().show().running; });
}

}  // namespace swardwalk::mobile
