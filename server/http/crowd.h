#pragma once

#include <chrono>
#include <string>
#include <vector>

namespace swardwalk::server {

/// One connection among the others.
struct Guest {
  std::string address;   ///< of its other end
  bool known = false;    ///< its last request came from somebody whom the shed knows
  bool working = false;  ///< its request is whole and being answered
  bool leaving = false;  ///< it was sent away, and is not gone yet
  std::chrono::steady_clock::time_point served{};  ///< its last answer, else its beginning
};

struct Admission {
  bool admitted = false;
  Guest* leaves = nullptr;  ///< who makes room
};

/// Whether one more from `address` may come in, and who must leave for it: of its own
/// address where that has its share, else of all; never who is being answered; strangers
/// before those whom the shed knows; of these the one that was served longest ago. Bytes
/// alone keep no place, so that whoever sends slowly goes before whoever asks.
Admission admit(const std::vector<Guest*>& here, const std::string& address, std::size_t most,
                std::size_t mostOfAddress);

}  // namespace swardwalk::server
