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

/// Refuses a message of another protocol or course. A blank journal adopts the course;
/// `notFound` when both are blank.
Result<void> meet(journal::Journal& journal, const Hello& hello);

/// The failure of an earlier look at the journal that could not report it. Before anything
/// is said from what was seen, so that a busy or damaged file is not taken for an empty one.
Result<void> confirmLooks(journal::Journal& journal);

/// How a device is named to people: the beginning of its key.
std::string shortName(const journal::OriginKey& origin);

/// What to say when the own key writes elsewhere too (X3).
std::string forkedOriginAlarm();

}  // namespace swardwalk::exchange
