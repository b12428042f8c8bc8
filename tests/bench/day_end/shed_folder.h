#pragma once

#include <optional>
#include <string>

#include "common/course/course_fold.h"
#include "common/journal/journal.h"
#include "tests/bench/day_end/crew.h"

namespace swardwalk::bench {

/// A shed's data directory that founded the crew's course.
class ShedFolder {
 public:
  explicit ShedFolder(std::string folder);

  /// Takes runs as they come in an exchange: so many records in one durable transaction.
  void take(const std::vector<journal::Run>& runs);
  journal::Journal& journal() { return *journal_; }
  const std::string& folder() const { return folder_; }
  /// Leaves the directory to somebody else.
  void close() { journal_.reset(); }

 private:
  std::string folder_;
  course::CourseFold fold_;
  std::optional<journal::Journal> journal_;
};

}  // namespace swardwalk::bench
