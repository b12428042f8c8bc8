#pragma once

#include <map>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "common/turf/species.h"

/// Defaults of the trade that a course may change, by name, in its `settings`.
namespace swardwalk::answers {

/// One default, with the range that a course may move it in.
struct Setting {
  std::string_view name;  ///< as in the course's `settings`, unit last
  double standard = 0.0;  ///< NaN: none, nothing is assumed
  double low = 0.0;       ///< smallest value that is taken
  double high = 0.0;      ///< largest value that is taken
  std::string_view unit;
  std::string_view what;
  std::string_view origin;
};

/// The whole table, in the order in which a page shows it.
std::span<const Setting> allSettings();

/// The table as it stands in SETTINGS.md.
std::string settingsTable();

/// The table with a course's own values laid over it. Immutable; safe to share.
/// Not to be copied: what it hands out points into it.
class Settings {
 public:
  /// Unknown names and values outside their range keep the default; `notes` says which.
  explicit Settings(const std::map<std::string, double>& ofCourse);
  Settings(const Settings&) = delete;
  Settings& operator=(const Settings&) = delete;

  /// `name` must be in the table.
  double operator[](std::string_view name) const;

  /// Has the course a value of its own for it?
  bool changed(std::string_view name) const;

  /// A grass by its trade name with the course's own figures; null where we do not know
  /// it. Lives as long as these settings.
  const turf::Species* grass(std::string_view name) const;

  /// One sentence for each entry that could not be used.
  const std::vector<std::string>& notes() const { return notes_; }

  /// One sentence for each figure of a grass that the course has of its own.
  std::vector<std::string> ownGrassFigures() const;

 private:
  std::map<std::string, double, std::less<>> own_;
  std::vector<turf::Species> grasses_;  ///< in the order of `turf::allSpecies`
  std::vector<std::string> notes_;
};

}  // namespace swardwalk::answers
