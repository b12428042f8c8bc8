#pragma once

#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "common/course/course_fold.h"
#include "common/course/recorder.h"
#include "common/course/state.h"
#include "common/journal/journal.h"

namespace swardwalk::course {

/// A directory of its own, gone at the end of the test.
class TempFolder {
 public:
  TempFolder();
  ~TempFolder();
  TempFolder(const TempFolder&) = delete;
  TempFolder& operator=(const TempFolder&) = delete;
  std::string file(const std::string& name) const { return path_ + "/" + name; }

 private:
  std::string path_;
};

/// A journal with a course fold of its own. Fails the test where something is refused.
class Device {
 public:
  /// `key` makes the origin; the first device founds the course, the others adopt it.
  Device(std::uint8_t key, const Device* founder, CourseFold fold = CourseFold());
  /// Opens the same file again, with another fold.
  void reopen(CourseFold fold);

  journal::Journal& journal() { return *journal_; }
  const journal::Journal& journal() const { return *journal_; }
  Recorder recorder(const std::string& author = "");

  /// Writes a feature as a course file has it: {"role", …} without its geometry.
  journal::Record write(std::string_view role, std::string_view properties,
                        std::string_view geometry = "null");
  /// Writes a draft that no check has seen.
  journal::Record writeRaw(const std::string& type, const std::string& body, int version = 1,
                           const std::string& subject = "");

  std::string stateText();
  /// The state up to a moment; at the end of time by default.
  CourseState state(std::string_view until = "2199-12-31T00:00:00Z");

  /// Gives this journal what the other one holds.
  void takeAll(const Device& other);

 private:
  TempFolder folder_;
  std::uint8_t key_;
  std::unique_ptr<CourseFold> fold_;
  std::optional<journal::Journal> journal_;
  std::int64_t wall_ms_ = 1'800'000'000'000;
};

/// What the journal holds in runs as short as its signatures allow, so that a test can
/// order them as it likes.
std::vector<journal::Run> shortRuns(const journal::Journal& journal);

measure::Instant at(std::string_view time);

/// A feature that every check passes.
struct GoodFeature {
  std::string role;
  std::string geometry;
  std::string properties;
};
/// One of each role of the course file, and of our own types that may stand in it; in an
/// order in which each one finds what it names.
std::vector<GoodFeature> goodFeatures();

/// A square of `size_m` whose south-west corner lies that far from 52 N, 5 E.
std::string square(double east_m, double north_m, double size_m);
/// A Point so far from 52 N, 5 E.
std::string point(double east_m, double north_m);

}  // namespace swardwalk::course
