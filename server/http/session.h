#pragma once

#include <boost/asio/awaitable.hpp>
#include <memory>
#include <string>

#include "server/http/budget.h"
#include "server/http/crowd.h"
#include "server/http/message.h"
#include "server/http/request_ids.h"
#include "server/http/transport.h"
#include "server/limits.h"

namespace swardwalk::server {

/// What all sessions of a listener share.
struct SessionMemory {
  explicit SessionMemory(const Limits& limits)
      : bodies(limits.bodiesBytes), answers(limits.answersBytes) {}

  Budget bodies;
  Budget answers;
  RequestIds ids;
};

/// One connection's share in a graceful stop: what is idle is closed at once, what works
/// finishes its answer. Use from the thread that runs the session.
struct SessionState : Guest {
  std::unique_ptr<Transport> transport;
  bool idle = true;  ///< between two requests
  bool stopping = false;

  /// No further request is taken.
  void stop();
  /// Makes room for somebody else: whatever is under way ends.
  void leave();
};

/// Speaks HTTP/1.1 over one connection until either side ends it: requests one after the
/// other, each within its limits and times. Errors end the connection, never the server.
boost::asio::awaitable<void> runSession(std::shared_ptr<SessionState> state,
                                        RequestHandler& handler, Limits limits,
                                        std::shared_ptr<SessionMemory> memory);

/// Status line and header as they go over the wire.
std::string writeHead(const Response& response, bool keepAlive);
/// The same with the body.
std::string writeResponse(const Response& response, bool keepAlive);

}  // namespace swardwalk::server
