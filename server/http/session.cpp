#include "server/http/session.h"

#include <fmt/format.h>
#include <spdlog/spdlog.h>

#include <array>
#include <boost/asio/error.hpp>

#include "server/http/request_reader.h"

namespace swardwalk::server {
namespace {

namespace asio = boost::asio;
using boost::system::error_code;
using Step = RequestReader::Step;

const char* reasonPhrase(unsigned status) {
  switch (status) {
    case 200:
      return "OK";
    case 304:
      return "Not Modified";
    case 400:
      return "Bad Request";
    case 401:
      return "Unauthorized";
    case 403:
      return "Forbidden";
    case 404:
      return "Not Found";
    case 405:
      return "Method Not Allowed";
    case 408:
      return "Request Timeout";
    case 409:
      return "Conflict";
    case 413:
      return "Content Too Large";
    case 414:
      return "URI Too Long";
    case 415:
      return "Unsupported Media Type";
    case 421:
      return "Misdirected Request";
    case 429:
      return "Too Many Requests";
    case 431:
      return "Request Header Fields Too Large";
    case 500:
      return "Internal Server Error";
    case 503:
      return "Service Unavailable";
    case 507:
      return "Insufficient Storage";
    default:
      return "Status";
  }
}

/// What every answer tells a browser: it loads nothing from elsewhere, runs nothing that
/// stands in the page itself, guesses no type, tells no other site where it was, and shows
/// the page in no other one.
constexpr const char* protection =
    "X-Content-Type-Options: nosniff\r\n"
    "Referrer-Policy: no-referrer\r\n"
    "Cross-Origin-Resource-Policy: same-origin\r\n"
    "Content-Security-Policy: default-src 'none'; script-src 'self'; style-src 'self'; "
    "font-src 'self'; img-src 'self' data:; connect-src 'self'; base-uri 'none'; "
    "form-action 'none'; frame-ancestors 'none'\r\n";

/// What came and is not parsed yet, and how the reading ended.
struct Incoming {
  std::string bytes;
  std::array<char, 16 * 1024> block;
};

/// Reads on until the reader has its next step; `error` when the connection ended first.
asio::awaitable<Step> nextStep(SessionState& state, RequestReader& reader, Incoming& incoming,
                               std::chrono::milliseconds time, error_code& error) {
  bool looked = false;
  for (;;) {
    // A request without a body is whole without a further byte.
    if (!incoming.bytes.empty() || (!state.idle && !looked)) {
      looked = true;
      std::size_t used = 0;
      const Step step = reader.take(incoming.bytes, used);
      incoming.bytes.erase(0, used);
      if (step != Step::needsMore) co_return step;
    }
    const std::size_t size =
        co_await state.transport->readSome(asio::buffer(incoming.block), error);
    if (error) co_return Step::needsMore;
    if (state.idle) {
      // The first byte of a request ends the idle time and starts the header's.
      state.idle = false;
      state.transport->expireAfter(time);
    }
    incoming.bytes.append(incoming.block.data(), size);
  }
}

asio::awaitable<bool> answer(SessionState& state, const Response& response, bool keepAlive,
                             bool withBody, std::chrono::milliseconds time) {
  const std::string wire = writeResponse(response, keepAlive, withBody);
  state.transport->expireAfter(time);
  error_code error;
  co_await state.transport->write(wire, error);
  // A peer that is gone or too slow has no use for more of it.
  if (error) spdlog::debug("an answer was not taken: {}", error.message());
  co_return !error;
}

/// Lets the peer read the last answer: closing with unread bytes would reset the
/// connection and could take the answer with it.
asio::awaitable<void> drain(SessionState& state, Incoming& incoming, const Limits& limits) {
  co_await state.transport->finishWriting();
  state.transport->expireAfter(limits.header);
  error_code error;
  std::size_t left = limits.bodyBytes;
  while (!error && left > 0) {
    const std::size_t size =
        co_await state.transport->readSome(asio::buffer(incoming.block), error);
    left -= std::min(left, size);
  }
}

enum class Next { keep, close, closeAfterReading };

asio::awaitable<Next> refuse(SessionState& state, const Response& response, const Limits& limits) {
  co_await answer(state, response, false, true, limits.writing);
  co_return Next::closeAfterReading;
}

asio::awaitable<Next> runRequest(SessionState& state, RequestHandler& handler, Incoming& incoming,
                                 const Limits& limits) {
  RequestReader reader(limits);
  error_code error;
  state.idle = incoming.bytes.empty();
  state.transport->expireAfter(state.idle ? limits.idle : limits.header);
  Step step = co_await nextStep(state, reader, incoming, limits.header, error);
  if (error) {
    if (state.idle || error != asio::error::timed_out) co_return Next::close;
    const Response late =
        failureResponse(408, "too_slow", "The request's header took too long to arrive.");
    co_return co_await refuse(state, late, limits);
  }
  if (step == Step::broken) co_return co_await refuse(state, reader.refusal(), limits);

  reader.request().remote = state.remote;
  if (auto refusal = handler.refuseEarly(reader.request(), reader.declaredBytes())) {
    co_return co_await refuse(state, *refusal, limits);
  }
  state.transport->expireAfter(limits.body);
  if (reader.waitsForContinue()) {
    co_await state.transport->write("HTTP/1.1 100 Continue\r\n\r\n", error);
    if (error) co_return Next::close;
  }
  step = co_await nextStep(state, reader, incoming, limits.body, error);
  if (error) {
    spdlog::info("a request was cut: {}", error.message());
    if (error != asio::error::timed_out) co_return Next::close;
    const Response late =
        failureResponse(408, "too_slow", "The request's body took too long to arrive.");
    co_return co_await refuse(state, late, limits);
  }
  if (step == Step::broken) co_return co_await refuse(state, reader.refusal(), limits);

  const bool withBody = reader.request().method != Method::head;
  const bool wantsMore = reader.keepsConnection();
  state.transport->neverExpire();  // the answer takes what it takes; the store is ours
  Request request = std::move(reader.request());
  const Response response = co_await handler.handle(std::move(request));
  const bool keep = wantsMore && !state.stopping;
  const bool sent = co_await answer(state, response, keep, withBody, limits.writing);
  if (!sent) co_return Next::close;
  co_return keep ? Next::keep : Next::closeAfterReading;
}

}  // namespace

void SessionState::stop() {
  stopping = true;
  if (idle && transport) transport->close();
}

asio::awaitable<void> runSession(std::shared_ptr<SessionState> state, RequestHandler& handler,
                                 Limits limits) {
  auto incoming = std::make_unique<Incoming>();
  Next next = Next::keep;
  error_code error;
  state->transport->expireAfter(limits.opening);
  co_await state->transport->open(error);
  // Who was refused there may still be reading why.
  if (error == asio::error::connection_refused) next = Next::closeAfterReading;
  if (error && error != asio::error::connection_refused) next = Next::close;
  while (next == Next::keep && !state->stopping) {
    next = co_await runRequest(*state, handler, *incoming, limits);
  }
  if (next == Next::closeAfterReading && !state->stopping) {
    co_await drain(*state, *incoming, limits);
  }
  state->transport->close();
}

std::string writeResponse(const Response& response, bool keepAlive, bool withBody) {
  const bool empty = response.status == 304;
  std::string wire = fmt::format("HTTP/1.1 {} {}\r\nServer: swardwalk\r\n", response.status,
                                 reasonPhrase(response.status));
  if (!empty) {
    wire += fmt::format("Content-Type: {}\r\nContent-Length: {}\r\n", response.contentType,
                        response.body.size());
  }
  wire += protection;
  for (const auto& [name, value] : response.fields) wire += fmt::format("{}: {}\r\n", name, value);
  if (!keepAlive) wire += "Connection: close\r\n";
  wire += "\r\n";
  if (withBody && !empty) wire += response.body;
  return wire;
}

}  // namespace swardwalk::server
