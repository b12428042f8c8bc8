#pragma once

#include <functional>
#include <memory>
#include <string>
#include <string_view>

#include "common/failure.h"
#include "server/http/endpoint.h"
#include "server/limits.h"

namespace swardwalk::server {

/// Carries one message to a shed and its answer back, over one kept connection of plain
/// HTTP/1.1. One try: whatever breaks is a failure. Use from one thread.
class ExchangeClient {
 public:
  ExchangeClient(Endpoint shed, ClientLimits limits);
  ~ExchangeClient();

  /// Sends a compressed message; `take` gets the answer's bytes, still compressed, as
  /// they come, so that what arrives before a cut is not lost. Failures of `take` end it.
  /// An answer that is an error is a failure in the shed's own words.
  Result<void> post(std::string_view message,
                    const std::function<Result<void>(std::string_view)>& take);

 private:
  struct Inner;
  std::unique_ptr<Inner> inner_;
};

}  // namespace swardwalk::server
