#pragma once

#include <cstddef>
#include <optional>
#include <string>

#include "common/course/course_fold.h"
#include "common/journal/journal.h"
#include "server/http/exchange_client.h"
#include "tests/bench/day_end/crew.h"

namespace swardwalk::bench {

/// A device with a journal in a folder of its own, that exchanges with a shed over one kept
/// connection as `swardwalk-server exchange` does.
class Tablet {
 public:
  Tablet(const std::string& folder, const std::string& address);

  /// One whole exchange; throws where it fails. Gives the number of round trips.
  unsigned exchange();
  /// Writes so many of the crew's sightings, each saved for itself.
  void write(Crew& crew, std::size_t records);
  journal::Journal& journal() { return *journal_; }

 private:
  course::CourseFold fold_;
  std::optional<journal::Journal> journal_;
  server::ExchangeClient client_;
};

}  // namespace swardwalk::bench
