#pragma once

#include <QTimer>
#include <vector>

#include "common/failure.h"
#include "common/geo/nmea.h"
#include "mobile/position/position_source.h"

namespace swardwalk::mobile {

/// Plays an NMEA log back, at its own pace or as fast as it goes.
class ReplaySource final : public PositionSource {
  Q_OBJECT

 public:
  enum class Pace { real, fast };

  /// Reads the whole log; fails in words where it can't be read or holds no fix.
  static Result<std::unique_ptr<ReplaySource>> read(const QString& file, Pace pace);

  void start() override;
  void stop() override;
  QString name() const override;
  int damaged() const override { return damaged_; }
  int sentences() const override { return sentences_; }

  const std::vector<geo::Fix>& fixes() const { return fixes_; }

 private:
  ReplaySource(std::vector<geo::Fix> fixes, const geo::NmeaReader& reader, Pace pace);
  void next();

  std::vector<geo::Fix> fixes_;
  Pace pace_;
  std::size_t at_ = 0;
  int damaged_ = 0;
  int sentences_ = 0;
  QTimer timer_;
};

}  // namespace swardwalk::mobile
