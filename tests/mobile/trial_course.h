#pragma once

#include <QString>
#include <memory>
#include <string>

#include "common/geo/position.h"
#include "mobile/app/app.h"
#include "mobile/position/scripted_source.h"

class QTemporaryDir;

namespace swardwalk::mobile {

/// The moment at which trials take place: a morning, six days after the last round.
measure::Instant trialNow();

/// A place on the trial course: metres east and north of the middle of Hollow.
geo::Position trialPlace(double east_m, double north_m);

/// An app on a folder of its own, with a course of two greens and some patches, or on an
/// empty folder. The clock stands; positions come from the script.
class Trial {
 public:
  enum class Begin { blank, withCourse };
  enum class Clockwork { standing, running };
  explicit Trial(Begin begin, Options options = {}, Clockwork clockwork = Clockwork::standing);
  ~Trial();

  App& app() { return *app_; }
  ScriptedSource& script() { return *script_; }
  QString folder() const;

  /// Closes the app and opens it anew on the same folder, as after a dead battery.
  void restart();

  /// Stands at a place of the course with this accuracy.
  void stand(double east_m, double north_m, double accuracy_m = 2.4);
  /// Moves the clock on.
  void wait(std::chrono::milliseconds span);

  /// Bodies of the records of a type, in order, read from the journal by common code.
  std::vector<std::string> bodies(std::string_view type);

 private:
  void open();

  std::unique_ptr<QTemporaryDir> folder_;
  Options options_;
  Clock clock_;
  ScriptedSource* script_ = nullptr;
  std::unique_ptr<App> app_;
};

}  // namespace swardwalk::mobile
