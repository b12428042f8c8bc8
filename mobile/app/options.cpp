#include "mobile/app/options.h"

#include <QCommandLineParser>

#include "common/version.h"

namespace swardwalk::mobile {

namespace {

QCommandLineOption option(const char* name, const char* what, const char* value = "") {
  return QCommandLineOption(QString::fromUtf8(name), QString::fromUtf8(what),
                            QString::fromUtf8(value));
}

tl::unexpected<Failure> wrong(const QString& what) {
  return fail(FailureKind::invalid, "", what.toStdString(), "see --help");
}

Result<QSize> sizeFrom(const QString& words) {
  const QStringList parts = words.split(QLatin1Char('x'));
  bool wideGood = false;
  bool highGood = false;
  const QSize size =
      parts.size() == 2 ? QSize(parts[0].toInt(&wideGood), parts[1].toInt(&highGood)) : QSize();
  if (!wideGood || !highGood || size.width() < 320 || size.height() < 480 || size.width() > 8192 ||
      size.height() > 8192) {
    return wrong(QStringLiteral("--size wants WIDTHxHEIGHT, 320x480 or more"));
  }
  return size;
}

}  // namespace

Result<Options> parseOptions(const QStringList& arguments) {
  QCommandLineParser parser;
  parser.setApplicationDescription(
      QStringLiteral("Walk greens, mark what is wrong, and see how it closes."));
  const QCommandLineOption help = parser.addHelpOption();
  const QCommandLineOption version = parser.addVersionOption();
  const auto data = option("data", "Folder that holds the course on this tablet.", "DIR");
  const auto shed = option("shed", "Address of the shed, http://HOST:PORT.", "ADDRESS");
  const auto nmea = option("nmea", "Plays an NMEA log back instead of the receiver.", "FILE");
  const auto receiver = option("receiver",
                               "An external receiver (NMEA 0183): tcp:HOST:PORT, "
                               "serial:DEVICE[:BAUD] or file:PATH.",
                               "WHERE");
  const auto pace = option("pace", "How the log is played: real or fast.", "PACE");
  const auto theme = option("theme", "sun or dark.", "THEME");
  const auto portrait = option("portrait", "800x1280.");
  const auto size = option("size", "Size of the window.", "WxH");
  const auto person = option("person", "Who walks.", "NAME");
  const auto device = option("device", "This tablet's name.", "NAME");
  const auto letter = option("letter", "This tablet's letter in patch numbers.", "LETTER");
  const auto left = option("left-handed", "Rail and big action at the left.");
  const auto units = option("units", "metric or imperial.", "SYSTEM");
  const auto photos = option("pictures", "Folder that the camera writes its pictures to.", "DIR");
  const auto pictures =
      option("screenshots", "Saves a picture of each page into DIR, then quits.", "DIR");
  const auto now = option("now", "The clock stands at TIME, 2027-04-29T06:42:00+01:00.", "TIME");
  const auto on = option("on", "The day that counts as today, 2027-04-29.", "DATE");
  parser.addOptions({data, shed, nmea, receiver, pace, theme, portrait, size, person, device,
                     letter, left, units, photos, pictures, now, on});
  if (!parser.parse(QStringList{QStringLiteral("swardwalk")} + arguments)) {
    return wrong(parser.errorText());
  }
  if (!parser.positionalArguments().isEmpty()) {
    return wrong(QStringLiteral("unexpected argument %1").arg(parser.positionalArguments()[0]));
  }

  Options options;
  if (parser.isSet(help)) options.say = parser.helpText();
  if (parser.isSet(version)) {
    options.say = QStringLiteral("swardwalk %1\n").arg(QString::fromUtf8(versionText));
  }
  if (options.say) return options;
  options.data = parser.value(data);
  if (parser.isSet(shed)) options.shed = parser.value(shed);
  options.nmea = parser.value(nmea);
  if (parser.isSet(receiver)) {
    if (parser.isSet(nmea))
      return wrong(QStringLiteral("--nmea and --receiver exclude each other"));
    const auto address = parseReceiver(parser.value(receiver));
    if (!address) return tl::unexpected(address.error());
    // A log is a log, whichever way it is named.
    if (address->way == ReceiverAddress::Way::file) {
      options.nmea = address->place;
    } else {
      options.receiver = *address;
    }
  }
  if (parser.isSet(pace)) {
    if (parser.value(pace) != QLatin1String("real") &&
        parser.value(pace) != QLatin1String("fast")) {
      return wrong(QStringLiteral("--pace is real or fast"));
    }
    options.fast = parser.value(pace) == QLatin1String("fast");
  }
  if (parser.isSet(theme)) {
    if (parser.value(theme) != QLatin1String("sun") &&
        parser.value(theme) != QLatin1String("dark")) {
      return wrong(QStringLiteral("--theme is sun or dark"));
    }
    options.dark = parser.value(theme) == QLatin1String("dark");
  }
  if (parser.isSet(portrait)) options.size = QSize(800, 1280);
  if (parser.isSet(size)) {
    const auto wanted = sizeFrom(parser.value(size));
    if (!wanted) return tl::unexpected(wanted.error());
    options.size = *wanted;
  }
  if (parser.isSet(person)) options.person = parser.value(person);
  if (parser.isSet(device)) options.device = parser.value(device);
  if (parser.isSet(letter)) options.letter = parser.value(letter);
  if (parser.isSet(left)) options.leftHanded = true;
  if (parser.isSet(units)) {
    if (parser.value(units) != QLatin1String("metric") &&
        parser.value(units) != QLatin1String("imperial")) {
      return wrong(QStringLiteral("--units is metric or imperial"));
    }
    options.imperial = parser.value(units) == QLatin1String("imperial");
  }
  options.pictures = parser.value(photos);
  options.screenshots = parser.value(pictures);
  if (parser.isSet(now)) {
    const auto time = measure::parseInstant(parser.value(now).toStdString());
    if (!time) return tl::unexpected(time.error());
    options.now = *time;
  }
  if (parser.isSet(on)) {
    const auto date = measure::parseDate(parser.value(on).toStdString());
    if (!date) return tl::unexpected(date.error());
    options.on = *date;
  }
  return options;
}

}  // namespace swardwalk::mobile
