#include "mobile/position/live_source.h"

#include <QDateTime>
#include <QGeoPositionInfo>
#include <QGeoPositionInfoSource>
#include <QtMath>

namespace swardwalk::mobile {

namespace {

constexpr int interval_ms = 1000;

/// Qt gives a horizontal accuracy that receivers mean as a radius of about 68 % (which
/// the platforms state so); one axis of a circular normal has 0.662 of it.
constexpr double axisOfRadius68 = 0.662;

std::optional<double> attribute(const QGeoPositionInfo& info, QGeoPositionInfo::Attribute which) {
  // Present does not mean known: some back ends give NaN.
  if (!info.hasAttribute(which) || qIsNaN(info.attribute(which))) return std::nullopt;
  return info.attribute(which);
}

geo::Fix fixOf(const QGeoPositionInfo& info) {
  geo::Fix fix;
  fix.time = measure::Instant(std::chrono::milliseconds(info.timestamp().toMSecsSinceEpoch()));
  fix.position = {info.coordinate().latitude(), info.coordinate().longitude()};
  if (const auto radius_m = attribute(info, QGeoPositionInfo::HorizontalAccuracy)) {
    fix.accuracy_m = *radius_m * axisOfRadius68;
  }
  fix.speed_m_s = attribute(info, QGeoPositionInfo::GroundSpeed);
  fix.heading_deg = attribute(info, QGeoPositionInfo::Direction);
  return fix;
}

}  // namespace

LiveSource::LiveSource(QObject* parent)
    : PositionSource(parent), receiver_(QGeoPositionInfoSource::createDefaultSource(nullptr)) {
  if (!receiver_) return;
  receiver_->setUpdateInterval(interval_ms);
  connect(receiver_.get(), &QGeoPositionInfoSource::positionUpdated, this,
          [this](const QGeoPositionInfo& info) {
            if (info.isValid()) Q_EMIT fix(fixOf(info));
          });
  connect(receiver_.get(), &QGeoPositionInfoSource::errorOccurred, this,
          [this](QGeoPositionInfoSource::Error error) {
            if (error == QGeoPositionInfoSource::AccessError) {
              Q_EMIT trouble(tr("this tablet does not let us use its receiver"));
            } else if (error == QGeoPositionInfoSource::ClosedError ||
                       error == QGeoPositionInfoSource::UnknownSourceError) {
              Q_EMIT trouble(tr("the receiver does not answer"));
            }
          });
}

LiveSource::~LiveSource() = default;

void LiveSource::start() {
  if (receiver_) {
    receiver_->startUpdates();
  } else {
    Q_EMIT trouble(tr("there is no receiver on this tablet"));
  }
}

void LiveSource::stop() {
  if (receiver_) receiver_->stopUpdates();
}

QString LiveSource::name() const { return tr("the tablet's receiver"); }

}  // namespace swardwalk::mobile
