#pragma once

#include <string>
#include <string_view>

#include "common/failure.h"

namespace swardwalk::server {

/// A host, by name or number, and a port.
struct Endpoint {
  std::string host;
  unsigned short port = 0;
};

/// Reads "127.0.0.1:8137", "localhost:0", "[::1]:8137"; `invalid` where it is none.
Result<Endpoint> parseEndpoint(std::string_view text);

/// The same way back.
std::string written(const Endpoint& endpoint);

}  // namespace swardwalk::server
