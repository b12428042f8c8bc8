#pragma once

#include <chrono>
#include <cstddef>

#include "common/exchange/message.h"

/// What the server allows anybody to ask of it (S1); PROTOCOL.md, "Over HTTP", tells the
/// other side. Limits of what an exchange says stand in common/exchange/message.h; these are
/// those of its carrier.
namespace swardwalk::server {

struct Limits {
  std::size_t headerBytes = 16 * 1024;  ///< request line and all fields
  std::size_t targetBytes = 2048;       ///< path and query
  /// A compressed message is never much longer than what it holds.
  std::size_t bodyBytes = exchange::limits::messageBytes + 64 * 1024;
  std::size_t formBytes = 4096;  ///< what the page sends

  std::size_t connections = 256;
  /// Of one address; those of this machine itself share all.
  std::size_t connectionsOfAddress = 32;
  /// Bodies of requests in memory together, until they are answered.
  std::size_t bodiesBytes = 24 * 1024 * 1024;
  /// Answers in memory together that are longer than a piece, until they are written.
  std::size_t answersBytes = 24 * 1024 * 1024;
  std::size_t pieceBytes = 64 * 1024;        ///< so much of an answer is written at once
  std::size_t sendBufferBytes = 256 * 1024;  ///< what the system keeps of it

  std::chrono::milliseconds opening{10'000};   ///< the handshake of TLS
  std::chrono::milliseconds idle{60'000};      ///< between two requests of a connection
  std::chrono::milliseconds header{10'000};    ///< from its first byte to its end
  std::chrono::milliseconds body{120'000};     ///< from the header's end to the body's
  std::chrono::milliseconds writing{30'000};   ///< one piece of an answer
  std::chrono::milliseconds stopping{10'000};  ///< what is under way may still finish
};

/// What the exchange client waits for at most, for each step.
struct ClientLimits {
  std::chrono::milliseconds connecting{10'000};
  std::chrono::milliseconds silence{120'000};  ///< no byte moved in either direction
};

}  // namespace swardwalk::server
