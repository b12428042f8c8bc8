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

constexpr unsigned notModified = 304;  // the one answer without a body

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
    case 501:
      return "Not Implemented";
    case 503:
      return "Service Unavailable";
    case 507:
      return "Insufficient Storage";
    default:
      return "Status";
  }
}

/// What an answer tells a browser: it loads nothing from elsewhere, runs nothing that
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
                               Budget::Share& share, std::chrono::milliseconds time,
                               error_code& error) {
  bool looked = false;
  for (;;) {
    // A request without a body is whole without a further byte.
    if (!incoming.bytes.empty() || (!state.idle && !looked)) {
      looked = true;
      std::size_t used = 0;
      const Step step = reader.take(incoming.bytes, used);
      incoming.bytes.erase(0, used);
      if (!share.growTo(reader.bodyBytes())) {
        error = asio::error::no_memory;
        co_return Step::broken;
      }
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

/// In pieces, each with a time of its own, so that a long answer over a slow Wi-Fi is no
/// fault, and who reads nothing is found out soon.
asio::awaitable<bool> answer(SessionState& state, const Response& response, bool keepAlive,
                             bool withBody, const Limits& limits) {
  std::string first = writeHead(response, keepAlive);
  std::string_view rest;
  if (withBody && response.status != notModified) rest = response.body;
  // Together with the header, so that a short answer is one write.
  first += rest.substr(0, limits.pieceBytes);
  rest.remove_prefix(std::min(rest.size(), limits.pieceBytes));
  error_code error;
  state.transport->expireAfter(limits.writing);
  co_await state.transport->write(first, error);
  while (!error && !rest.empty()) {
    const std::string_view piece = rest.substr(0, limits.pieceBytes);
    state.transport->expireAfter(limits.writing);
    co_await state.transport->write(piece, error);
    rest.remove_prefix(piece.size());
  }
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

/// One request from its first byte to its answer.
struct Turn {
  SessionState& state;
  RequestHandler& handler;
  const Limits& limits;
  Request asked;  ///< what is told of it: no body, no credentials
  std::chrono::steady_clock::time_point began = std::chrono::steady_clock::now();

  void name(Response& response) const { response.fields.emplace_back("Request-Id", asked.id); }
  void tell(const Response& response) const {
    const auto took = std::chrono::steady_clock::now() - began;
    handler.answered(asked, response.status,
                     std::chrono::duration_cast<std::chrono::microseconds>(took));
  }
};

asio::awaitable<Next> refuse(const Turn& turn, Response response) {
  turn.name(response);
  turn.tell(response);
  co_await answer(turn.state, response, false, true, turn.limits);
  co_return Next::closeAfterReading;
}

/// What is said to a request whose header or body did not come as it should.
asio::awaitable<Next> endUnread(const Turn& turn, const RequestReader& reader,
                                const error_code& error, std::string_view part) {
  if (!error) co_return co_await refuse(turn, reader.refusal());
  if (error == asio::error::no_memory) {
    spdlog::warn("a request was sent away: the bodies of others fill the memory for them");
    const Response busy =
        busyResponse("The shed is taking in much at once. Try again in a moment.");
    co_return co_await refuse(turn, busy);
  }
  if (error != asio::error::timed_out) co_return Next::close;
  const Response late = failureResponse(
      408, "too_slow", fmt::format("The request's {} took too long to arrive.", part));
  co_return co_await refuse(turn, late);
}

asio::awaitable<Next> runRequest(SessionState& state, RequestHandler& handler, Incoming& incoming,
                                 const Limits& limits, SessionMemory& memory) {
  RequestReader reader(limits);
  Budget::Share body(memory.bodies);
  Turn turn{state, handler, limits, {}};
  turn.asked.id = memory.ids.next();
  turn.asked.remote = state.address;
  error_code error;
  state.idle = incoming.bytes.empty();
  state.transport->expireAfter(state.idle ? limits.idle : limits.header);
  Step step = co_await nextStep(state, reader, incoming, body, limits.header, error);
  if (error && state.idle) co_return Next::close;
  turn.began = std::chrono::steady_clock::now();
  if (error || step == Step::broken) {
    co_return co_await endUnread(turn, reader, error, "header");
  }

  reader.request().id = turn.asked.id;
  reader.request().remote = state.address;
  turn.asked.method = reader.request().method;
  turn.asked.target = reader.request().target;
  Welcome welcome = handler.welcome(reader.request(), reader.declaredBytes());
  state.known = welcome.known;
  if (welcome.refusal) co_return co_await refuse(turn, std::move(*welcome.refusal));
  reader.limitBody(std::min<std::uint64_t>(welcome.mostBodyBytes, limits.bodyBytes));
  state.transport->expireAfter(limits.body);
  if (reader.waitsForContinue()) {
    co_await state.transport->write("HTTP/1.1 100 Continue\r\n\r\n", error);
    if (error) co_return Next::close;
  }
  step = co_await nextStep(state, reader, incoming, body, limits.body, error);
  if (error) spdlog::info("a request was cut: {}", error.message());
  if (error || step == Step::broken) {
    co_return co_await endUnread(turn, reader, error, "body");
  }

  const bool withBody = reader.request().method != Method::head;
  const bool wantsMore = reader.keepsConnection();
  state.transport->neverExpire();  // the answer takes what it takes; the store is ours
  state.working = true;
  Request request = std::move(reader.request());
  Response response = co_await handler.handle(std::move(request));
  state.working = false;
  state.served = std::chrono::steady_clock::now();
  body.growTo(0);
  Budget::Share held(memory.answers);
  if (withBody && response.body.size() > limits.pieceBytes && !held.growTo(response.body.size())) {
    spdlog::warn("an answer was held back: those of others fill the memory for them");
    response = busyResponse("The shed is giving out much at once. Try again in a moment.");
  }
  turn.name(response);
  turn.tell(response);
  const bool keep = wantsMore && !state.stopping;
  const bool sent = co_await answer(state, response, keep, withBody, limits);
  if (!sent) co_return Next::close;
  co_return keep ? Next::keep : Next::closeAfterReading;
}

}  // namespace

void SessionState::stop() {
  stopping = true;
  if (idle && transport) transport->close();
}

void SessionState::leave() {
  leaving = true;
  stopping = true;
  if (transport) transport->close();
}

asio::awaitable<void> runSession(std::shared_ptr<SessionState> state, RequestHandler& handler,
                                 Limits limits, std::shared_ptr<SessionMemory> memory) {
  auto incoming = std::make_unique<Incoming>();
  Next next = Next::keep;
  error_code error;
  state->transport->expireAfter(limits.opening);
  co_await state->transport->open(error);
  // Who was refused there may still be reading why.
  if (error == asio::error::connection_refused) next = Next::closeAfterReading;
  if (error && error != asio::error::connection_refused) next = Next::close;
  while (next == Next::keep && !state->stopping) {
    next = co_await runRequest(*state, handler, *incoming, limits, *memory);
  }
  if (next == Next::closeAfterReading && !state->stopping) {
    co_await drain(*state, *incoming, limits);
  }
  state->transport->close();
}

std::string writeHead(const Response& response, bool keepAlive) {
  std::string wire =
      fmt::format("HTTP/1.1 {} {}\r\n", response.status, reasonPhrase(response.status));
  if (response.status != notModified) {
    wire += fmt::format("Content-Type: {}\r\nContent-Length: {}\r\n", response.contentType,
                        response.body.size());
  }
  if (!response.forDevices) wire += protection;
  for (const auto& [name, value] : response.fields) wire += fmt::format("{}: {}\r\n", name, value);
  if (!keepAlive) wire += "Connection: close\r\n";
  wire += "\r\n";
  return wire;
}

std::string writeResponse(const Response& response, bool keepAlive) {
  return writeHead(response, keepAlive) +
         (response.status == notModified ? std::string() : response.body);
}

}  // namespace swardwalk::server
