#pragma once

#include "server/http/message.h"
#include "server/shed/router.h"
#include "server/shed/store.h"

namespace swardwalk::server {

/// Brings requests of sessions to the store's thread, and answers back to theirs. What
/// needs no journal is answered at once.
class ShedHandler final : public RequestHandler {
 public:
  /// `store` must outlive the handler and every session.
  ShedHandler(Store& store, Door door) : store_(store), door_(door) {}

  std::optional<Response> refuseEarly(const Request& request,
                                      std::optional<std::uint64_t> declaredBytes) override;
  boost::asio::awaitable<Response> handle(Request request) override;

 private:
  Store& store_;
  Door door_;
};

}  // namespace swardwalk::server
