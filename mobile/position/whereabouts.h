#pragma once

#include <QtQml/qqmlregistration.h>
#include <QObject>
#include <QTimer>
#include <optional>

#include "common/course/features.h"
#include "common/geo/correction.h"
#include "common/geo/position.h"
#include "mobile/app/clock.h"
#include "mobile/app/show.h"
#include "mobile/position/position_source.h"

namespace swardwalk::mobile {

/// Where the walker is, how well that is known and how old it is. A position older than
/// ten seconds is not used for new records. Use from the GUI thread.
class Whereabouts : public QObject {
  Q_OBJECT
  QML_ELEMENT
  QML_UNCREATABLE("made at start")
  Q_PROPERTY(State state READ state NOTIFY changed)
  /// "± 2.4 m, 1 s old", or "no position".
  Q_PROPERTY(QString line READ line NOTIFY changed)
  /// What to know and to do where the position is missing or poor.
  Q_PROPERTY(QString title READ title NOTIFY changed)
  Q_PROPERTY(QString reason READ reason NOTIFY changed)
  /// Which receiver it is, what it says of its quality, what came damaged from it.
  Q_PROPERTY(QString receiver READ receiver NOTIFY changed)

 public:
  enum State { None, Lost, Poor, Good };
  Q_ENUM(State)

  /// Worse than this, one patch can't be told from the next.
  static constexpr double poor_m = 10.0;
  static constexpr std::chrono::milliseconds oldest{10'000};

  /// `source` and `clock` must outlive this.
  Whereabouts(PositionSource& source, Clock& clock, QObject* parent = nullptr);

  /// In which lengths are written from now on.
  void setUnits(measure::UnitSystem units) {
    units_ = units;
    Q_EMIT changed();
  }

  State state() const;
  QString line() const;
  QString title() const;
  QString reason() const;
  QString receiver() const;

  /// The last fix, however old.
  const std::optional<geo::Fix>& last() const { return last_; }
  /// The last fix unless it is too old to be believed.
  std::optional<geo::Fix> current() const;

  /// The same with the error that was found on a mark taken off, and what was taken off.
  struct Corrected {
    geo::Position position;
    double u_m = 0.0;
    course::CorrectedReading reading;
  };
  /// Nothing without a correction, or where it has aged so far that it hardly helps.
  std::optional<Corrected> corrected() const;
  /// From now on; the mark's name is for records and words.
  void correctBy(const geo::ReceiverCorrection& correction, const std::string& mark);

 Q_SIGNALS:
  /// A fix arrived.
  void moved(const swardwalk::geo::Fix& fix);
  /// Anything of the texts: once a second while a position is known.
  void changed();

 private:
  void take(const geo::Fix& fix);
  std::chrono::milliseconds age() const;

  std::optional<geo::ReceiverCorrection> correction_;
  std::string correctedOn_;

  PositionSource* source_;
  Clock* clock_;
  std::optional<geo::Fix> last_;
  measure::Instant arrived_{};
  measure::Instant begun_{};
  QString trouble_;
  measure::UnitSystem units_ = measure::UnitSystem::metric;
  QTimer tick_;
};

/// "12 s", "2 min 10 s", "3 h 12 min".
QString spanWords(std::chrono::milliseconds span);

}  // namespace swardwalk::mobile
