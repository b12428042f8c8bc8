#include <algorithm>

#include "common/journal/journal.h"
#include "server/command/commands.h"

namespace swardwalk::server {

int run(const CommandLine& line, Console& console) {
  switch (line.command) {
    case Command::serve:
      return runServe(line, console);
    case Command::import:
      return runImport(line, console);
    case Command::exportAs:
      return runExport(line, console);
    case Command::exchange:
      return runExchange(line, console);
    case Command::accept:
      return runAccept(line, console);
    case Command::pair:
      return runPair(line, console);
    case Command::devices:
      return runDevices(line, console);
    case Command::shutOut:
      return runShutOut(line, console);
    case Command::people:
      return runPeople(line, console);
    case Command::progress:
      return runProgress(line, console);
    case Command::plan:
      return runPlan(line, console);
    case Command::round:
      return runRound(line, console);
    case Command::measure:
      return runMeasure(line, console);
    case Command::backup:
      return runBackup(line, console);
    case Command::restore:
      return runRestore(line, console);
    case Command::check:
      return runCheck(line, console);
    case Command::rescue:
      return runRescue(line, console);
    case Command::erase:
      return runErase(line, console);
    case Command::bundle:
      return runBundle(line, console);
  }
  return 2;
}

void sayWhoWaits(Console& console, const journal::Journal& journal) {
  const auto origins = journal.origins();
  const auto waiting = std::count_if(origins.begin(), origins.end(),
                                     [](const auto& info) { return !info.accepted; });
  if (waiting == 0) return;
  console.err << waiting << (waiting == 1 ? " origin waits" : " origins wait")
              << " until somebody accepts it with the accept command:";
  for (const auto& info : origins) {
    if (!info.accepted) console.err << ' ' << journal::hex(info.origin);
  }
  console.err << '\n';
}

int refuse(Console& console, const Failure& failure) {
  std::string line = failure.text();
  for (char& c : line) {
    if (c == '\n' || c == '\r') c = ' ';
  }
  console.err << line << '\n' << std::flush;
  return 1;
}

}  // namespace swardwalk::server
