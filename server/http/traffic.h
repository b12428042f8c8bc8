#pragma once

#include <cstddef>
#include <cstdint>

namespace swardwalk::server {

/// What goes through a listener's door, for who watches the shed.
struct Traffic {
  std::size_t connections = 0;   ///< open now
  std::uint64_t turnedAway = 0;  ///< since the start; all others were at work
  std::uint64_t madeRoom = 0;    ///< since the start; closed for a newer one
  std::size_t bodiesBytes = 0;   ///< in memory now
  std::size_t answersBytes = 0;  ///< in memory now
};

}  // namespace swardwalk::server
