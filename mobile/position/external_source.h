#pragma once

#include <QByteArray>
#include <QTimer>
#include <memory>

#include "common/geo/nmea.h"
#include "mobile/position/position_source.h"
#include "mobile/position/receiver_address.h"

class QIODevice;

namespace swardwalk::mobile {

/// An external receiver that sends NMEA 0183 over TCP or a serial line. Damaged sentences
/// are counted; a line that is lost or falls silent is opened again, for as long as it
/// takes, and said in words. Use from the GUI thread.
class ExternalSource final : public PositionSource {
  Q_OBJECT

 public:
  struct Patience {
    std::chrono::milliseconds retry{3000};  ///< between two tries
    /// Receivers send once a second or oftener; so long a silence is no pause.
    std::chrono::milliseconds silence{10'000};
    /// The sentences of one moment come in one go; then it is complete.
    std::chrono::milliseconds pause{200};
  };

  /// `address` is no file.
  ExternalSource(ReceiverAddress address, Patience patience);
  ~ExternalSource() override;

  void start() override;
  void stop() override;
  QString name() const override;
  bool tellsNow() const override { return true; }
  int damaged() const override { return reader_.badChecksums() + unreadable_; }
  int sentences() const override { return reader_.sentences(); }

 private:
  void open();
  void openSocket();
  void openSerial();
  void close();
  void lost(const QString& why);
  void read();
  void give(const std::optional<geo::Fix>& fix);

  ReceiverAddress address_;
  Patience patience_;
  std::unique_ptr<QIODevice> device_;
  geo::NmeaReader reader_;
  QByteArray rest_;
  int unreadable_ = 0;  ///< stretches without a line end
  QTimer retry_, silence_, pause_;
};

}  // namespace swardwalk::mobile
