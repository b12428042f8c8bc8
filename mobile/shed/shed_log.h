#pragma once

#include <QObject>
#include <optional>
#include <vector>

#include "mobile/app/store.h"

namespace swardwalk::mobile {

/// How one exchange went.
struct ShedVisit {
  measure::Instant at;
  std::uint64_t given = 0;
  std::uint64_t received = 0;
  bool whole = true;
  QString words;  ///< what cut it; empty where it was whole
};

/// The last exchanges with the shed, kept as a note of the journal, and what only this
/// tablet holds. Use from the GUI thread.
class ShedLog : public QObject {
  Q_OBJECT

 public:
  /// `store` must outlive this.
  explicit ShedLog(Store& store, QObject* parent = nullptr);

  const std::vector<ShedVisit>& visits() const { return visits_; }  ///< newest first
  void add(const ShedVisit& visit);
  /// When the shed answered last.
  std::optional<measure::Instant> lastMet() const;

  struct OnlyHere {
    std::uint64_t all = 0;
    std::uint64_t sightings = 0, repairs = 0, rounds = 0, others = 0;
  };
  const OnlyHere& onlyHere() const { return onlyHere_; }
  /// "7 sightings only on this tablet"; empty where the shed holds all.
  QString onlyHereLine() const;

  /// An exchange is going on: "In the shed's Wi-Fi".
  void setMeeting(bool meeting);
  /// "Offline since 05:58", "In the shed's Wi-Fi", "Not met the shed yet".
  QString networkLine() const;

 Q_SIGNALS:
  void changed();

 private:
  void count();

  Store* store_;
  std::vector<ShedVisit> visits_;
  OnlyHere onlyHere_;
  bool meeting_ = false;
};

}  // namespace swardwalk::mobile
