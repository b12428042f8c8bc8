#include "mobile/position/external_source.h"

#include <QIODevice>
#include <QSerialPort>
#include <QTcpSocket>
#include <cassert>

namespace swardwalk::mobile {

namespace {

/// Far more than any sentence: what has no line end by then is noise.
constexpr qsizetype longestRest = 4096;

void endQuietly(std::unique_ptr<QIODevice>& device) {
  if (!device) return;
  device->disconnect();
  // It may be the one whose signal we are in.
  device.release()->deleteLater();
}

}  // namespace

ExternalSource::ExternalSource(ReceiverAddress address, Patience patience)
    : address_(std::move(address)), patience_(patience) {
  assert(address_.way != ReceiverAddress::Way::file);
  for (QTimer* timer : {&retry_, &silence_, &pause_}) timer->setSingleShot(true);
  connect(&retry_, &QTimer::timeout, this, &ExternalSource::open);
  connect(&silence_, &QTimer::timeout, this, [this] {
    lost(reader_.sentences() == 0 && damaged() > 0
             ? tr("sends what is no NMEA, or at another baud rate")
             : tr("is silent"));
  });
  connect(&pause_, &QTimer::timeout, this, [this] { give(reader_.finish()); });
}

ExternalSource::~ExternalSource() { endQuietly(device_); }

void ExternalSource::start() { open(); }

void ExternalSource::stop() { close(); }

QString ExternalSource::name() const { return tr("the receiver at %1").arg(address_.words()); }

void ExternalSource::open() {
  close();
  silence_.start(patience_.silence);
  if (address_.way == ReceiverAddress::Way::tcp) {
    openSocket();
  } else {
    openSerial();
  }
}

void ExternalSource::openSocket() {
  auto socket = std::make_unique<QTcpSocket>();
  connect(socket.get(), &QTcpSocket::readyRead, this, &ExternalSource::read);
  connect(socket.get(), &QTcpSocket::errorOccurred, this,
          [this](QAbstractSocket::SocketError error) {
            lost(error == QAbstractSocket::RemoteHostClosedError    ? tr("hung up")
                 : error == QAbstractSocket::HostNotFoundError      ? tr("was not found")
                 : error == QAbstractSocket::ConnectionRefusedError ? tr("does not answer")
                                                                    : tr("was lost"));
          });
  socket->connectToHost(address_.place, static_cast<quint16>(address_.port), QIODevice::ReadOnly);
  device_ = std::move(socket);
}

void ExternalSource::openSerial() {
  auto port = std::make_unique<QSerialPort>();
  port->setPortName(address_.place);
  port->setBaudRate(address_.baud);
  if (!port->open(QIODevice::ReadOnly)) {
    lost(port->error() == QSerialPort::PermissionError
             ? tr("may not be read; your account needs the group of serial devices")
             : tr("is not plugged in"));
    return;
  }
  connect(port.get(), &QSerialPort::readyRead, this, &ExternalSource::read);
  connect(port.get(), &QSerialPort::errorOccurred, this,
          [this](QSerialPort::SerialPortError error) {
            if (error != QSerialPort::NoError && error != QSerialPort::TimeoutError)
              lost(tr("was lost"));
          });
  device_ = std::move(port);
}

void ExternalSource::close() {
  for (QTimer* timer : {&retry_, &silence_, &pause_}) timer->stop();
  endQuietly(device_);
  give(reader_.finish());
  rest_.clear();
}

void ExternalSource::lost(const QString& why) {
  close();
  const qint64 seconds = (patience_.retry.count() + 500) / 1000;
  const QString when = seconds > 1 ? tr("every %1 seconds").arg(seconds) : tr("every second");
  Q_EMIT trouble(tr("%1 %2; it is tried again %3").arg(name(), why, when));
  retry_.start(patience_.retry);
}

void ExternalSource::read() {
  rest_ += device_->readAll();
  qsizetype begin = 0;
  for (qsizetype end = rest_.indexOf('\n'); end >= 0; end = rest_.indexOf('\n', begin)) {
    const int before = reader_.sentences();
    give(reader_.take({rest_.constData() + begin, static_cast<std::size_t>(end - begin)}));
    if (reader_.sentences() != before) silence_.start(patience_.silence);
    begin = end + 1;
  }
  rest_.remove(0, begin);
  if (rest_.size() > longestRest) {
    ++unreadable_;
    rest_.clear();
  }
  pause_.start(patience_.pause);
}

void ExternalSource::give(const std::optional<geo::Fix>& fix) {
  if (fix) Q_EMIT this->fix(*fix);
}

}  // namespace swardwalk::mobile
