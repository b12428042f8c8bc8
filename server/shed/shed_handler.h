#pragma once

#include "server/door/doorkeeper.h"
#include "server/http/message.h"
#include "server/shed/router.h"
#include "server/shed/sign_in_desk.h"
#include "server/shed/store.h"
#include "server/shed/vitals.h"

namespace swardwalk::server {

/// Brings requests of sessions to the store's thread, and answers back to theirs. What
/// needs no journal is answered at once.
class ShedHandler final : public RequestHandler {
 public:
  /// All must outlive the handler and every session.
  ShedHandler(Store& store, SignInWorker& desk, Doorkeeper& keeper, Vitals& vitals)
      : store_(store), desk_(desk), keeper_(keeper), vitals_(vitals) {}

  Welcome welcome(const Request& request, std::optional<std::uint64_t> declaredBytes) override;
  boost::asio::awaitable<Response> handle(Request request) override;
  /// Counts it, and writes a line of the log: what was sent or refused, at least.
  void answered(const Request& asked, unsigned status, std::chrono::microseconds took) override;

 private:
  Store& store_;
  SignInWorker& desk_;
  Doorkeeper& keeper_;
  Vitals& vitals_;
};

}  // namespace swardwalk::server
