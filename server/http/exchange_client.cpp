#include "server/http/exchange_client.h"

#include <fmt/format.h>

#include <array>
#include <boost/asio/connect.hpp>
#include <boost/asio/io_context.hpp>
#include <boost/asio/ip/tcp.hpp>
#include <boost/asio/steady_timer.hpp>
#include <boost/asio/write.hpp>
#include <boost/beast/http/parser.hpp>
#include <boost/beast/http/string_body.hpp>
#include <boost/json.hpp>

#include "common/exchange/message.h"

namespace swardwalk::server {

namespace asio = boost::asio;
namespace http = boost::beast::http;
using asio::ip::tcp;
using boost::system::error_code;

struct ExchangeClient::Inner {
  Endpoint shed;
  ClientLimits limits;
  asio::io_context context;
  tcp::socket socket{context};
  asio::steady_timer deadline{context};
  std::string unread;  ///< received and not parsed yet

  Inner(Endpoint where, ClientLimits within) : shed(std::move(where)), limits(within) {}

  std::string where() const { return "http://" + written(shed); }

  /// Runs what was just started until it is done or its time is over.
  error_code finish(const error_code& result, std::chrono::milliseconds time) {
    bool late = false;
    deadline.expires_after(time);
    deadline.async_wait([&](error_code error) {
      if (error) return;
      late = true;
      error_code ignored;  // the socket may not be open
      socket.close(ignored);
    });
    context.restart();
    context.run();
    return late ? error_code(asio::error::timed_out) : result;
  }

  Result<void> connect();
  Result<void> send(std::string_view bytes);
  Result<std::size_t> receive(asio::mutable_buffer into);
};

namespace {

Failure carrierFailure(const std::string& where, const error_code& error) {
  const std::string why = error == asio::error::timed_out ? "it did not answer in time"
                          : error == asio::error::eof     ? "it closed the connection"
                                                          : error.message();
  return {FailureKind::io, where, "the exchange was cut, " + why,
          "what arrived whole is kept; exchange again"};
}

/// The shed's own words, where they are JSON as PROTOCOL.md says.
Failure shedFailure(const std::string& where, unsigned status, std::string_view body) {
  error_code error;
  const boost::json::value value =
      boost::json::parse(boost::json::string_view(body.data(), body.size()), error);
  std::string reason;
  if (!error && value.is_object()) {
    const auto* text = value.get_object().if_contains("reason");
    if (text && text->is_string()) reason = text->get_string().c_str();
  }
  if (reason.empty()) reason = fmt::format("the shed answered with status {}", status);
  return {status == 409 ? FailureKind::refused : FailureKind::io, where, reason,
          "nothing was lost; what was saved here stays"};
}

}  // namespace

Result<void> ExchangeClient::Inner::connect() {
  tcp::resolver resolver(context);
  error_code result;
  const auto addresses = resolver.resolve(shed.host, std::to_string(shed.port), result);
  if (!result) {
    asio::async_connect(socket, addresses, [&](error_code error, const tcp::endpoint&) {
      result = error;
      deadline.cancel();
    });
    result = finish(result, limits.connecting);
  }
  if (!result) return {};
  return fail(FailureKind::io, where(), "the shed cannot be reached (" + result.message() + ")",
              "is it open, and is this its address?");
}

Result<void> ExchangeClient::Inner::send(std::string_view bytes) {
  error_code result;
  asio::async_write(socket, asio::buffer(bytes.data(), bytes.size()),
                    [&](error_code error, std::size_t) {
                      result = error;
                      deadline.cancel();
                    });
  result = finish(result, limits.silence);
  if (!result) return {};
  return tl::unexpected(carrierFailure(where(), result));
}

Result<std::size_t> ExchangeClient::Inner::receive(asio::mutable_buffer into) {
  error_code result;
  std::size_t size = 0;
  socket.async_read_some(into, [&](error_code error, std::size_t read) {
    result = error;
    size = read;
    deadline.cancel();
  });
  result = finish(result, limits.silence);
  if (result) return tl::unexpected(carrierFailure(where(), result));
  return size;
}

ExchangeClient::ExchangeClient(Endpoint shed, ClientLimits limits)
    : inner_(std::make_unique<Inner>(std::move(shed), limits)) {}

ExchangeClient::~ExchangeClient() = default;

Result<void> ExchangeClient::post(std::string_view message,
                                  const std::function<Result<void>(std::string_view)>& take) {
  if (!inner_->socket.is_open()) {
    if (auto connected = inner_->connect(); !connected) return connected;
  }
  const std::string head = fmt::format(
      "POST /exchange HTTP/1.1\r\nHost: {}\r\nContent-Type: {}\r\nContent-Length: {}\r\n\r\n",
      written(inner_->shed), exchange::zstdType, message.size());
  if (auto sent = inner_->send(head); !sent) return sent;
  if (auto sent = inner_->send(message); !sent) return sent;

  http::response_parser<http::string_body> parser;
  const Limits limits;
  parser.header_limit(static_cast<std::uint32_t>(limits.headerBytes));
  parser.body_limit(limits.bodyBytes);
  parser.eager(true);
  std::string failureBody;
  std::array<char, 64 * 1024> block;
  inner_->unread.clear();
  while (!parser.is_done()) {
    const auto size = inner_->receive(asio::buffer(block));
    if (!size) return tl::unexpected(size.error());
    inner_->unread.append(block.data(), *size);
    error_code error;
    const std::size_t used =
        parser.put(asio::buffer(inner_->unread.data(), inner_->unread.size()), error);
    inner_->unread.erase(0, used);
    if (error && error != http::error::need_more) {
      return fail(FailureKind::corrupt, inner_->where(), "this is not a shed's answer",
                  "look at the address");
    }
    if (!parser.is_header_done()) continue;
    std::string piece = std::move(parser.get().body());
    parser.get().body().clear();
    if (parser.get().result_int() != 200) {
      failureBody += piece;
    } else if (!piece.empty()) {
      if (auto taken = take(piece); !taken) return taken;
    }
  }
  if (!parser.keep_alive()) {
    error_code ignored;  // the shed ends this connection; the next message opens another
    inner_->socket.close(ignored);
  }
  if (parser.get().result_int() != 200) {
    return tl::unexpected(shedFailure(inner_->where(), parser.get().result_int(), failureBody));
  }
  return {};
}

}  // namespace swardwalk::server
