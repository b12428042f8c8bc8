#pragma once

#include <boost/asio/awaitable.hpp>
#include <memory>
#include <string>

#include "server/http/message.h"
#include "server/http/transport.h"
#include "server/limits.h"

namespace swardwalk::server {

/// One connection's share in a graceful stop: what is idle is closed at once, what works
/// finishes its answer. Use from the thread that runs the session.
struct SessionState {
  std::unique_ptr<Transport> transport;
  std::string remote;  ///< the address of its other end
  bool idle = true;    ///< between two requests
  bool stopping = false;

  /// No further request is taken.
  void stop();
};

/// Speaks HTTP/1.1 over one connection until either side ends it: requests one after the
/// other, each within its limits and times. Errors end the connection, never the server.
boost::asio::awaitable<void> runSession(std::shared_ptr<SessionState> state,
                                        RequestHandler& handler, Limits limits);

/// Status line, header and body as they go over the wire; `withBody` false for HEAD.
std::string writeResponse(const Response& response, bool keepAlive, bool withBody);

}  // namespace swardwalk::server
