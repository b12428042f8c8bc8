#pragma once

#include <functional>
#include <map>
#include <memory>
#include <optional>
#include <string>

#include "common/answers/kept_work.h"
#include "common/answers/plan.h"
#include "common/answers/progress.h"
#include "common/answers/round.h"
#include "common/course/course_fold.h"
#include "common/course/photos.h"
#include "common/course/state.h"
#include "common/exchange/message.h"
#include "common/journal/journal.h"
#include "common/journal/photo_folder.h"
#include "server/door/devices.h"
#include "server/door/sessions.h"
#include "server/door/slowing.h"

namespace swardwalk::server {

/// Everything that is computed of the course for one day, made together so that no two
/// pages contradict each other. Immutable once made.
struct CourseAnswers {
  std::uint64_t changeCount = 0;
  measure::Zone zone = measure::Zone::utc();
  course::CourseState state;
  answers::Progress progress;
  answers::Plan plan;
  answers::Round round;
};

/// The course that a data directory holds, and what the server knows about it. Use from
/// one thread, the store's.
class Shed {
 public:
  using Clock = std::function<std::int64_t()>;  ///< wall clock, ms since 1970

  /// Opens the directory or makes it. `fixedDay` counts as today where it is given.
  static Result<std::unique_ptr<Shed>> open(const std::string& directory, Clock clock,
                                            std::optional<measure::Date> fixedDay = {});

  journal::Journal& journal() { return *journal_; }
  Devices& devices() { return *devices_; }
  Sessions& sessions() { return *sessions_; }
  /// Where others reach it, as it was told at the start.
  Result<std::string> address() { return door_->fact("address"); }
  Slowing& pairingTries() { return pairingTries_; }
  /// Of the certificate under which the shed is met; empty where it speaks plain HTTP.
  const std::string& fingerprint() const { return fingerprint_; }
  void metUnder(std::string fingerprint) { fingerprint_ = std::move(fingerprint); }
  std::int64_t now_ms() const { return clock_(); }

  /// Computed anew when a record came, by whichever process, or the day changed.
  Result<const CourseAnswers*> answers();

  /// A page's text as it was made from the present answers; `make` is called where there
  /// is none yet.
  Result<std::string> cached(const std::string& name,
                             const std::function<std::string(const CourseAnswers&)>& make);

  /// Changes with everything that a page may show: a validator for HTTP caches.
  Result<std::string> version();

  journal::PhotoFolder& photos() { return photos_; }
  /// Does a record name this picture? Others are not taken.
  Result<bool> namesPhoto(const journal::Digest& photo);
  /// The pictures that records name and that are not here whole: those that records of
  /// `first` name before the others.
  Result<std::vector<exchange::MissingPhoto>> missingPhotos(const journal::OriginKey& first);

  /// Writes on under a new key, because somebody else writes under ours (X3).
  Result<void> renewOrigin();

 private:
  Shed(std::string directory, Clock clock, std::optional<measure::Date> fixedDay);

  /// Brings `named_` up to date. Pictures whose records were erased go with them.
  Result<void> lookForPhotos();

  std::string directory_;
  Clock clock_;
  std::optional<measure::Date> fixedDay_;
  course::CourseFold fold_;
  std::optional<journal::Journal> journal_;
  std::unique_ptr<DoorFile> door_;
  std::optional<Devices> devices_;
  std::optional<Sessions> sessions_;
  Slowing pairingTries_;
  std::string fingerprint_;
  answers::KeptWork kept_;
  std::unique_ptr<const CourseAnswers> answers_;
  std::map<std::string, std::string> pages_;
  journal::PhotoFolder photos_;
  std::vector<course::NamedPhoto> named_;  ///< as of `namedAt_`
  std::optional<std::uint64_t> namedAt_;
};

}  // namespace swardwalk::server
