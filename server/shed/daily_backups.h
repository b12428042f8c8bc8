#pragma once

#include <cstdint>
#include <string>

#include "common/failure.h"
#include "server/shed/kept_days.h"

namespace swardwalk::server {

/// The copies that a shed makes of its journal by itself: one a day (UTC) in the folder
/// "backups" of its directory, each checked, named by its day, "2027-04-12.sqlite"; their
/// pictures in one folder "photos" beside them. Use from one thread; others may use the
/// journal meanwhile.
class DailyBackups {
 public:
  explicit DailyBackups(std::string directory) : directory_(std::move(directory)) {}

  /// Makes the copy of this day where there is none yet and the journal knows a course, and
  /// drops what the rule does not keep. True: one was made. Erased pictures leave the copies'
  /// pictures, too. Fails as a backup does, and where pictures cannot be copied.
  Result<bool> keepUp(std::int64_t now_ms, const KeepingRule& rule = {});

 private:
  void dropOld(const KeepingRule& rule);

  std::string directory_;
};

/// The pictures of a backup: those in the folder that `backup` writes beside its file, else
/// those that the daily copies share.
std::string photosOfBackup(const std::string& file);

}  // namespace swardwalk::server
