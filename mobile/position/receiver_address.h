#pragma once

#include <QString>

#include "common/failure.h"

namespace swardwalk::mobile {

/// Where an external receiver's NMEA sentences come from.
struct ReceiverAddress {
  enum class Way { tcp, serial, file };
  Way way = Way::tcp;
  QString place;  ///< host, device or file
  int port = 0;   ///< of a host
  int baud = 0;   ///< of a device

  /// "rover.local:5000", "/dev/ttyUSB0 at 115200 baud".
  QString words() const;
};

/// Reads "tcp:HOST:PORT", "serial:DEVICE[:BAUD]" (9600 where nothing is said, as NMEA 0183
/// receivers for positioning send from the factory; common practice, no source) or
/// "file:PATH". Fails with `invalid` in one line.
Result<ReceiverAddress> parseReceiver(const QString& words);

}  // namespace swardwalk::mobile
