#pragma once

#include <string>
#include <vector>

#include "common/exchange/message.h"
#include "common/exchange/shut_out.h"
#include "common/journal/journal.h"

namespace swardwalk::exchange {

/// What runs of the other side came to.
struct Taken {
  std::uint64_t received = 0;       ///< records that are new here
  std::vector<journal::Head> held;  ///< ends of what is durable here now
  std::vector<Trouble> troubles;    ///< for the sender
  std::vector<std::string> alarms;  ///< for people here
};

/// Commits runs of the other side. A run that cannot be taken leaves the others unharmed.
Result<Taken> takeRuns(journal::Journal& journal, const std::vector<journal::Run>& runs,
                       journal::Vouching vouching, const IsShutOut& isShutOut = {});

/// Refuses a message of another protocol or course; `notFound` when both are blank.
Result<void> meet(const journal::Journal& journal, const Hello& hello);

/// Lets a blank journal adopt the course that a message names, once one of its runs is signed
/// for it: the first line alone may have been garbled on the way, and a course is for good.
/// `invalid` where no run is.
Result<void> adoptCourse(journal::Journal& journal, const Hello& hello,
                         const std::vector<journal::Run>& runs);

/// The failure of an earlier look at the journal that could not report it. Before anything
/// is said from what was seen, so that a busy or damaged file is not taken for an empty one.
Result<void> confirmLooks(journal::Journal& journal);

/// How a device is named to people: the beginning of its key.
std::string shortName(const journal::OriginKey& origin);

/// What to say when the own key writes elsewhere too (X3).
std::string forkedOriginAlarm();

}  // namespace swardwalk::exchange
