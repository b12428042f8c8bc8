#pragma once

#include <functional>
#include <ostream>

#include "common/failure.h"
#include "server/command/command_line.h"

namespace swardwalk::journal {
class Journal;
}

namespace swardwalk::server {

/// Where a command prints, and what it may know of the world.
struct Console {
  std::ostream& out;  ///< results
  std::ostream& err;  ///< messages and progress
  std::function<std::int64_t()> now_ms;
};

/// Each runs one command and gives the program's exit status: 0 done, 1 something was
/// refused or found wrong (each named on `err`, one line each).
int runServe(const CommandLine& line, Console& console);
int runImport(const CommandLine& line, Console& console);
int runExport(const CommandLine& line, Console& console);
int runExchange(const CommandLine& line, Console& console);
int runAccept(const CommandLine& line, Console& console);
int runPair(const CommandLine& line, Console& console);
int runDevices(const CommandLine& line, Console& console);
int runShutOut(const CommandLine& line, Console& console);
int runPeople(const CommandLine& line, Console& console);
int runProgress(const CommandLine& line, Console& console);
int runPlan(const CommandLine& line, Console& console);
int runRound(const CommandLine& line, Console& console);
int runMeasure(const CommandLine& line, Console& console);
int runBackup(const CommandLine& line, Console& console);
int runRestore(const CommandLine& line, Console& console);
int runCheck(const CommandLine& line, Console& console);
int runRescue(const CommandLine& line, Console& console);
int runErase(const CommandLine& line, Console& console);
int runBundle(const CommandLine& line, Console& console);

int run(const CommandLine& line, Console& console);

/// Names on `err` the origins whose records wait (X5), if there are any.
void sayWhoWaits(Console& console, const journal::Journal& journal);

/// One line on `err`; gives exit status 1.
int refuse(Console& console, const Failure& failure);

}  // namespace swardwalk::server
