#pragma once

#include <QSize>
#include <QString>
#include <QStringList>
#include <optional>

#include "common/failure.h"
#include "common/measure/instant.h"
#include "mobile/position/receiver_address.h"

namespace swardwalk::mobile {

/// What the command line asks for. Absent: as the tablet's own settings say.
struct Options {
  QString data;                             ///< the data folder; empty: the standard place
  std::optional<QString> shed;              ///< "http://127.0.0.1:8080"
  QString nmea;                             ///< a log to play back instead of the receiver
  std::optional<ReceiverAddress> receiver;  ///< an external one
  bool fast = false;                        ///< the log as fast as it goes
  std::optional<bool> dark;
  std::optional<bool> leftHanded;
  std::optional<bool> imperial;
  QSize size{1280, 800};
  std::optional<QString> person;
  std::optional<QString> device;
  std::optional<QString> letter;
  QString pictures;     ///< a folder of photos; empty: where the tablet's camera puts them
  QString screenshots;  ///< a folder; empty: a window for people
  std::optional<measure::Instant> now;
  std::optional<measure::Date> on;
  std::optional<QString> say;  ///< help or version: print it and go
};

/// Reads the arguments (without the program's name). Fails with `invalid` in one line.
Result<Options> parseOptions(const QStringList& arguments);

}  // namespace swardwalk::mobile
