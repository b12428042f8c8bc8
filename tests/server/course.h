#pragma once

#include <sstream>
#include <string>

#include "server/command/commands.h"

namespace swardwalk::server {

/// The invented course that these tests look at, and the day on which they do.
inline const std::string brindlewater = std::string(SWARDWALK_TEST_DATA) + "/brindlewater.geojson";
inline const std::string lookDay = "2027-04-12";

/// What a command printed, run inside the test's own process.
struct Printed {
  int status = 0;
  std::string out;
  std::string err;
};

inline Printed runHere(std::vector<const char*> words) {
  words.insert(words.begin(), "swardwalk-server");
  const auto parsed = parseCommandLine(static_cast<int>(words.size()), words.data());
  if (const auto* end = std::get_if<EarlyEnd>(&parsed)) return {end->status, "", end->text};
  std::ostringstream out;
  std::ostringstream err;
  // Noon of the day after the last sighting.
  Console console{out, err, [] { return std::int64_t{1807531200000}; }};
  const int status = run(std::get<CommandLine>(parsed), console);
  return {status, out.str(), err.str()};
}

}  // namespace swardwalk::server
