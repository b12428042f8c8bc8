#include "server/shed/shed_handler.h"

#include <spdlog/spdlog.h>

#include <boost/asio/post.hpp>
#include <boost/asio/redirect_error.hpp>
#include <boost/asio/steady_timer.hpp>
#include <boost/asio/this_coro.hpp>
#include <boost/asio/use_awaitable.hpp>

#include "server/request_scope.h"
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

const char* wordOf(Method method) {
  switch (method) {
    case Method::get:
      return "GET";
    case Method::head:
      return "HEAD";
    case Method::post:
      return "POST";
    case Method::other:
      break;
  }
  return "other";
}

}  // namespace

Welcome ShedHandler::welcome(const Request& request, std::optional<std::uint64_t> declaredBytes) {
  const auto caller = keeper_.whoAsks(request);
  if (!caller) return {busyResponse(caller.error().text()), 0, false};
  return {refuseByHeader(request, *caller, declaredBytes), mostBodyBytes(request),
          caller->device || caller->person};
}

asio::awaitable<Response> ShedHandler::handle(Request request) {
  const Route* route = routeOf(request.path());
  if (route && route->id == RouteId::health) co_return vitals_.health();
  if (route && route->id == RouteId::metrics) co_return vitals_.metrics();
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
  const Vitals::Waiting waiting(vitals_);
  if (route && route->id == RouteId::signIn) {
    const bool taken = desk_.ask([errand, ring](SignInDesk& desk) {
      const RequestScope scope(errand->request.id);
      errand->response = desk.answer(errand->request);
      ring();
    });
    if (!taken) co_return busyResponse("Many are signing in. Try again in a moment.");
  } else {
    store_.ask([errand, ring](Shed& shed) {
      const RequestScope scope(errand->request.id);
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

void ShedHandler::answered(const Request& asked, unsigned status, std::chrono::microseconds took) {
  // The table's own words: nothing of what was typed goes into the log.
  const Route* route = routeOf(asked.path());
  const std::string_view path = route ? route->path : "-";
  vitals_.answered(path, status, took);
  constexpr unsigned refused = 400;
  constexpr unsigned failed = 500;
  const auto level = status >= failed                                    ? spdlog::level::warn
                     : status >= refused || asked.method == Method::post ? spdlog::level::info
                                                                         : spdlog::level::debug;
  spdlog::log(level, "request={} method={} path={} status={} ms={} from={}", asked.id,
              wordOf(asked.method), path, status, took.count() / 1000, asked.remote);
}

}  // namespace swardwalk::server
