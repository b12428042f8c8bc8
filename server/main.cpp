#include <chrono>
#include <iostream>

#include "server/command/commands.h"

namespace {

std::int64_t wallClock_ms() {
  using namespace std::chrono;
  return duration_cast<milliseconds>(system_clock::now().time_since_epoch()).count();
}

}  // namespace

int main(int argc, char** argv) {
  using namespace swardwalk::server;
  try {
    const auto parsed = parseCommandLine(argc, argv);
    if (const auto* end = std::get_if<EarlyEnd>(&parsed)) {
      (end->status == 0 ? std::cout : std::cerr) << end->text;
      return end->status;
    }
    Console console{std::cout, std::cerr, wallClock_ms};
    return run(std::get<CommandLine>(parsed), console);
  } catch (const std::exception& problem) {
    std::cerr << "swardwalk-server: a mistake of the program: " << problem.what()
              << "; nothing that was saved is lost\n";
    return 1;
  }
}
