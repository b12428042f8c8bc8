#include "mobile/position/receiver_address.h"

#include <QStringList>
#include <algorithm>
#include <array>

namespace swardwalk::mobile {

namespace {

constexpr int usualBaud = 9600;
constexpr std::array<int, 10> bauds = {4800,   9600,   19200,  38400,  57600,
                                       115200, 230400, 460800, 921600, 1000000};

tl::unexpected<Failure> wrong(const char* what) {
  return fail(FailureKind::invalid, "--receiver", what,
              "give tcp:HOST:PORT, serial:DEVICE[:BAUD] or file:PATH");
}

Result<ReceiverAddress> hostFrom(const QString& words) {
  const qsizetype colon = words.lastIndexOf(QLatin1Char(':'));
  bool good = false;
  ReceiverAddress address;
  address.port = words.mid(colon + 1).toInt(&good);
  if (colon < 1 || !good || address.port < 1 || address.port > 65535) {
    return wrong("a host is followed by a port, 1 to 65535");
  }
  address.place = words.left(colon);
  // An IPv6 address stands in brackets.
  if (address.place.startsWith(QLatin1Char('[')) && address.place.endsWith(QLatin1Char(']'))) {
    address.place = address.place.mid(1, address.place.size() - 2);
  }
  return address;
}

Result<ReceiverAddress> deviceFrom(const QString& words) {
  ReceiverAddress address;
  address.way = ReceiverAddress::Way::serial;
  address.place = words;
  address.baud = usualBaud;
  const qsizetype colon = words.lastIndexOf(QLatin1Char(':'));
  bool number = false;
  const int baud = words.mid(colon + 1).toInt(&number);
  if (colon >= 0 && number) {
    address.place = words.left(colon);
    address.baud = baud;
  }
  if (address.place.isEmpty()) return wrong("no device is named");
  if (std::find(bauds.begin(), bauds.end(), address.baud) == bauds.end()) {
    return wrong("the baud rate is none that receivers use");
  }
  return address;
}

}  // namespace

QString ReceiverAddress::words() const {
  if (way == Way::tcp) return QStringLiteral("%1:%2").arg(place).arg(port);
  if (way == Way::serial) return QStringLiteral("%1 at %2 baud").arg(place).arg(baud);
  return place;
}

Result<ReceiverAddress> parseReceiver(const QString& words) {
  const qsizetype colon = words.indexOf(QLatin1Char(':'));
  const QString way = words.left(colon < 0 ? 0 : colon);
  const QString rest = words.mid(colon + 1);
  if (way == QLatin1String("tcp")) return hostFrom(rest);
  if (way == QLatin1String("serial")) return deviceFrom(rest);
  if (way == QLatin1String("file") && !rest.isEmpty()) {
    ReceiverAddress address;
    address.way = ReceiverAddress::Way::file;
    address.place = rest;
    return address;
  }
  return wrong("this is no receiver");
}

}  // namespace swardwalk::mobile
