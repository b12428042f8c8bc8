#include "server/http/endpoint.h"

#include <charconv>

namespace swardwalk::server {

Result<Endpoint> parseEndpoint(std::string_view text) {
  const auto bad = [&](std::string what) {
    return fail(FailureKind::invalid, std::string(text), std::move(what),
                "write HOST:PORT, such as 127.0.0.1:8137");
  };
  const std::size_t colon = text.rfind(':');
  if (colon == std::string_view::npos || colon == 0) return bad("this is no HOST:PORT");
  std::string_view host = text.substr(0, colon);
  const std::string_view digits = text.substr(colon + 1);
  if (host.front() == '[' && host.back() == ']') {
    host = host.substr(1, host.size() - 2);
  } else if (host.find(':') != std::string_view::npos) {
    return bad("an address with colons stands in brackets");
  }
  Endpoint endpoint;
  endpoint.host = host;
  const auto [end, error] =
      std::from_chars(digits.data(), digits.data() + digits.size(), endpoint.port);
  if (error != std::errc{} || end != digits.data() + digits.size() || endpoint.host.empty()) {
    return bad("the port must be a number from 0 to 65535");
  }
  return endpoint;
}

std::string written(const Endpoint& endpoint) {
  const bool six = endpoint.host.find(':') != std::string::npos;
  const std::string host = six ? "[" + endpoint.host + "]" : endpoint.host;
  return host + ":" + std::to_string(endpoint.port);
}

}  // namespace swardwalk::server
