#pragma once

#include <memory>

#include "mobile/position/position_source.h"

class QGeoPositionInfoSource;

namespace swardwalk::mobile {

/// The tablet's receiver through Qt Positioning.
class LiveSource final : public PositionSource {
  Q_OBJECT

 public:
  explicit LiveSource(QObject* parent = nullptr);
  ~LiveSource() override;

  void start() override;
  void stop() override;
  QString name() const override;
  bool tellsNow() const override { return true; }

 private:
  std::unique_ptr<QGeoPositionInfoSource> receiver_;
};

}  // namespace swardwalk::mobile
