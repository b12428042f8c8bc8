#include "mobile/position/replay_source.h"

#include <QFile>
#include <algorithm>

#include "common/geo/nmea.h"

namespace swardwalk::mobile {

namespace {

/// A pause in a log longer than this is not waited for.
constexpr std::chrono::milliseconds longestPause{5000};
/// A day at ten fixes a second is about 100 MB; more is no log of a round.
constexpr qint64 largestLog_bytes = 256 * 1024 * 1024;

}  // namespace

Result<std::unique_ptr<ReplaySource>> ReplaySource::read(const QString& name, Pace pace) {
  QFile file(name);
  if (!file.open(QIODevice::ReadOnly)) {
    return fail(FailureKind::io, name.toStdString(), "the log can't be read",
                "check the name of the file");
  }
  if (file.size() > largestLog_bytes) {
    return fail(FailureKind::invalid, name.toStdString(), "the log is larger than 256 MB",
                "cut it into single rounds");
  }
  geo::NmeaReader reader;
  std::vector<geo::Fix> fixes;
  while (!file.atEnd()) {
    const QByteArray line = file.readLine();
    if (auto fix = reader.take({line.constData(), static_cast<std::size_t>(line.size())})) {
      fixes.push_back(*fix);
    }
  }
  if (auto fix = reader.finish()) fixes.push_back(*fix);
  if (fixes.empty()) {
    return fail(FailureKind::invalid, name.toStdString(), "the log holds no position with a date",
                "give an NMEA 0183 log with RMC");
  }
  return std::unique_ptr<ReplaySource>(new ReplaySource(std::move(fixes), reader, pace));
}

ReplaySource::ReplaySource(std::vector<geo::Fix> fixes, const geo::NmeaReader& reader, Pace pace)
    : fixes_(std::move(fixes)),
      pace_(pace),
      damaged_(reader.badChecksums()),
      sentences_(reader.sentences()) {
  timer_.setSingleShot(true);
  timer_.setTimerType(Qt::PreciseTimer);
  connect(&timer_, &QTimer::timeout, this, &ReplaySource::next);
}

void ReplaySource::start() { timer_.start(0); }

void ReplaySource::stop() { timer_.stop(); }

QString ReplaySource::name() const { return tr("a log that is played back"); }

void ReplaySource::next() {
  if (at_ >= fixes_.size()) return;
  const geo::Fix& now = fixes_[at_++];
  if (at_ < fixes_.size()) {
    std::chrono::milliseconds pause{0};
    if (pace_ == Pace::real) {
      pause = std::clamp(fixes_[at_].time - now.time, std::chrono::milliseconds{0}, longestPause);
    }
    timer_.start(pause);
  }
  Q_EMIT fix(now);
  if (at_ >= fixes_.size()) Q_EMIT ended();
}

}  // namespace swardwalk::mobile
