#pragma once

#include <atomic>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <string>
#include <thread>

namespace swardwalk::server {

/// What a bad network does to one connection; bytes count from its beginning.
struct Trouble {
  static constexpr std::size_t never = std::numeric_limits<std::size_t>::max();
  std::size_t cutQuestionAfter = never;  ///< both ways end there
  std::size_t cutAnswerAfter = never;    ///< both ways end there
  bool stall = false;                    ///< instead of ending: nothing goes on, nobody hangs up
  std::size_t pieceBytes = 65536;        ///< so much goes on at once
  unsigned pause_ms = 0;                 ///< between two pieces
  bool repeatQuestion = false;           ///< the shed gets it a second time, on another connection
};

/// Carries connections to a server on loopback, one after the other, and does harm to them.
class Proxy {
 public:
  Proxy(std::uint16_t server, Trouble trouble);
  ~Proxy();
  Proxy(const Proxy&) = delete;
  Proxy& operator=(const Proxy&) = delete;

  std::string address() const;
  std::size_t questionBytes() const { return questionBytes_; }
  std::size_t answerBytes() const { return answerBytes_; }

 private:
  void serve();
  void carry(int client);

  std::uint16_t server_;
  Trouble trouble_;
  int listener_ = -1;
  std::uint16_t port_ = 0;
  std::atomic<std::size_t> questionBytes_{0};
  std::atomic<std::size_t> answerBytes_{0};
  std::atomic<bool> ending_{false};
  std::thread thread_;
};

}  // namespace swardwalk::server
