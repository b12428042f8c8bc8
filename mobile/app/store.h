#pragma once

#include <QObject>
#include <QString>
#include <functional>
#include <memory>
#include <optional>

#include "common/answers/kept_work.h"
#include "common/answers/plan.h"
#include "common/answers/progress.h"
#include "common/answers/same_patch.h"
#include "common/course/course_fold.h"
#include "common/course/recorder.h"
#include "common/course/state.h"
#include "common/journal/journal.h"
#include "mobile/app/clock.h"
#include "mobile/app/tablet_settings.h"

namespace swardwalk::mobile {

/// The course on this tablet: its journal, the state read from it, and the answers,
/// computed once and shared by all pages. Every record goes through `write`.
/// Use from the GUI thread; the journal lives there.
class Store : public QObject {
  Q_OBJECT

 public:
  /// Opens the journal of `directory`, making both where they are missing. Where that
  /// fails, `failure()` says so and nothing else may be called.
  Store(QString directory, TabletSettings& settings, Clock& clock, QObject* parent = nullptr);

  const std::optional<Failure>& failure() const { return failure_; }
  const QString& directory() const { return directory_; }
  TabletSettings& settings() { return *settings_; }
  Clock& clock() { return *clock_; }

  journal::Journal& journal() { return *journal_; }
  /// Up to the end of today.
  const course::CourseState& state() const { return state_; }
  const measure::Zone& zone() const { return zone_; }
  measure::UnitSystem units() const;
  /// Another system of units: all answers are written anew.
  void unitsChanged();
  /// The time that goes into records: the clock, corrected by what is known of it.
  measure::Instant now() const {
    return clock_->now() + std::chrono::milliseconds(clockOffset_ms_);
  }
  measure::Date today() const { return zone_.dateOf(now()); }

  /// Computed when first asked for after a change.
  const answers::Progress& progress();
  const answers::Plan& plan();
  /// Which known patch may be the one that is marked now.
  const answers::PatchFinder& openPatches();
  const answers::PatchProgress* patchProgress(std::string_view patch);
  const answers::GreenProgress* greenProgress(std::string_view green);

  using Writing = std::function<Result<journal::Record>(course::Recorder&)>;
  /// Writes a record. It is on disk when this returns (J2); then the state is read anew
  /// and `changed` sent.
  Result<journal::Record> write(const Writing& writing);
  /// Makes this tablet the founder of a new course. The journal must be blank.
  Result<void> foundCourse(const QString& courseName);

  /// Reads the state anew: records came from elsewhere, or a day has begun.
  void refresh();
  /// What the shed or a satellite fix says of this tablet's clock (true time less the
  /// clock's); goes into every record from now on. A satellite's word stands over the shed's;
  /// a clock that was set to stand stands over both.
  void clockIs(journal::ClockSource source, std::int64_t offset_ms);
  /// The tablet was copied or restored: it writes on under a new origin (X3).
  Result<void> renewOrigin(std::string_view reason);

  std::string newPatchId() const;
  std::string nextLabel(const std::string& green) const;

 Q_SIGNALS:
  void changed();

 private:
  course::Pen pen() const;

  QString directory_;
  TabletSettings* settings_;
  Clock* clock_;
  course::CourseFold fold_;
  std::optional<Failure> failure_;
  std::optional<journal::Journal> journal_;
  std::optional<course::Recorder> recorder_;
  course::CourseState state_;
  measure::Zone zone_ = measure::Zone::utc();
  journal::ClockSource clockSource_ = journal::ClockSource::none;
  std::int64_t clockOffset_ms_ = 0;
  answers::KeptWork kept_;
  std::optional<answers::Progress> progress_;
  std::optional<answers::Plan> plan_;
  std::optional<answers::PatchFinder> openPatches_;
};

}  // namespace swardwalk::mobile
