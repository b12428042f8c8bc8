#pragma once

#include <chrono>
#include <cstddef>
#include <map>
#include <string>

namespace swardwalk::server {

/// How guessing is slowed down.
struct SlowingRule {
  unsigned free = 5;                      ///< wrong tries before anybody waits
  std::chrono::milliseconds first{1000};  ///< the wait then; doubled at each further one
  std::chrono::milliseconds longest{60'000};
  std::chrono::milliseconds forgotten{600'000};  ///< after the last wrong try
  std::size_t remembered = 4096;                 ///< at most so many who tried
};

/// Counts wrong tries by who makes them, in bounded memory. A try that has to wait is not
/// looked at, and so tells the one who guesses nothing. Use from one thread.
class Slowing {
 public:
  using Moment = std::chrono::steady_clock::time_point;

  explicit Slowing(SlowingRule rule = {}) : rule_(rule) {}

  /// How long this one has to wait before the next try; zero: it may try now.
  std::chrono::milliseconds wait(const std::string& who, Moment now) const;
  void failed(const std::string& who, Moment now);
  void succeeded(const std::string& who) { tries_.erase(who); }

 private:
  struct Tries {
    unsigned count = 0;
    Moment last;
    Moment next;
  };

  void makeRoom(Moment now);

  SlowingRule rule_;
  std::map<std::string, Tries> tries_;
};

}  // namespace swardwalk::server
