#include "server/shed/shed_handler.h"

#include <boost/asio/post.hpp>
#include <boost/asio/redirect_error.hpp>
#include <boost/asio/steady_timer.hpp>
#include <boost/asio/this_coro.hpp>
#include <boost/asio/use_awaitable.hpp>

#include "server/shed/router.h"
#include "server/shed/routes.h"

namespace swardwalk::server {
namespace {

namespace asio = boost::asio;

/// One question on its way. Shared with the store's thread, so that neither a session
/// that ends nor a store that is slow leaves the other with nothing to hold.
struct Errand {
  explicit Errand(const asio::any_io_executor& executor) : bell(executor) {
    bell.expires_at(asio::steady_timer::time_point::max());
  }

  Request request;
  Caller caller;
  Response response;
  bool answered = false;
  asio::steady_timer bell;
};

}  // namespace

Welcome ShedHandler::welcome(const Request& request, std::optional<std::uint64_t> declaredBytes) {
  const auto caller = keeper_.whoAsks(request);
  if (!caller) return {busyResponse(caller.error().text()), 0, false};
  return {refuseByHeader(request, *caller, declaredBytes), mostBodyBytes(request),
          caller->device || caller->person};
}

asio::awaitable<Response> ShedHandler::handle(Request request) {
  if (auto answer = answerWithoutShed(request)) co_return std::move(*answer);

  const asio::any_io_executor executor = co_await asio::this_coro::executor;
  // Asked again: whoever was shut out while the body came is shut out.
  auto caller = keeper_.whoAsks(request);
  if (!caller) co_return busyResponse(caller.error().text());
  if (auto refusal = refuseByHeader(request, *caller, request.body.size())) {
    co_return std::move(*refusal);
  }
  const auto errand = std::make_shared<Errand>(executor);
  errand->caller = std::move(*caller);
  errand->request = std::move(request);
  // Work that is outstanding keeps the session's thread running until the answer is back.
  auto guard = asio::make_work_guard(executor);
  const auto ring = [errand, executor] {
    asio::post(executor, [errand] {
      errand->answered = true;
      errand->bell.cancel();
    });
  };
  if (routeOf(errand->request.path())->id == RouteId::signIn) {
    const bool taken = desk_.ask([errand, ring](SignInDesk& desk) {
      errand->response = desk.answer(errand->request);
      ring();
    });
    if (!taken) co_return busyResponse("Many are signing in. Try again in a moment.");
  } else {
    store_.ask([errand, ring](Shed& shed) {
      errand->response = handleRequest(shed, errand->request, errand->caller);
      ring();
    });
  }
  while (!errand->answered) {
    boost::system::error_code woken;  // cancelled is how the bell rings
    co_await errand->bell.async_wait(asio::redirect_error(asio::use_awaitable, woken));
  }
  co_return std::move(errand->response);
}

}  // namespace swardwalk::server
