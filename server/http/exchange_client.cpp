#include "server/http/exchange_client.h"

#include <fmt/format.h>

#include <array>
#include <boost/asio/buffer.hpp>
#include <boost/beast/http/parser.hpp>
#include <boost/beast/http/string_body.hpp>
#include <boost/json.hpp>
#include <thread>

#include "common/exchange/busy_wait.h"
#include "common/exchange/message.h"
#include "common/exchange/photos.h"

namespace swardwalk::server {

namespace asio = boost::asio;
namespace http = boost::beast::http;
using boost::system::error_code;

namespace {

/// The shed's own words, where they are JSON as PROTOCOL.md says.
Failure shedFailure(unsigned status, std::string_view body) {
  error_code error;
  const boost::json::value value =
      boost::json::parse(boost::json::string_view(body.data(), body.size()), error);
  std::string reason;
  if (!error && value.is_object()) {
    const auto* text = value.get_object().if_contains("reason");
    if (text && text->is_string()) reason = text->get_string().c_str();
  }
  if (reason.empty()) reason = fmt::format("the shed answered with status {}", status);
  constexpr unsigned insufficientStorage = 507;
  const FailureKind kind = status == insufficientStorage   ? FailureKind::full
                           : status >= 400 && status < 500 ? FailureKind::refused
                                                           : FailureKind::io;
  return {kind, "", reason, "nothing was lost; what was saved here stays"};
}

}  // namespace

ExchangeClient::ExchangeClient(std::unique_ptr<Wire> wire, std::string host, std::string token,
                               Pause pause)
    : wire_(std::move(wire)),
      host_(std::move(host)),
      token_(std::move(token)),
      pause_(std::move(pause)) {
  if (!pause_) pause_ = [](std::chrono::milliseconds time) { std::this_thread::sleep_for(time); };
}

Result<void> ExchangeClient::post(std::string_view message,
                                  const std::function<Result<void>(std::string_view)>& take) {
  auto done = ask("/exchange", exchange::zstdType, message, take);
  // What went wrong half way leaves nothing on this connection that could be trusted.
  if (!done) wire_->close();
  return done;
}

Result<std::string> ExchangeClient::sendPhoto(std::string_view target, std::string_view bytes) {
  std::string answer;
  auto done = ask(target, exchange::photoType, bytes, [&](std::string_view piece) -> Result<void> {
    answer += piece;
    return {};
  });
  if (done) return answer;
  if (done.error().kind != FailureKind::refused) wire_->close();
  return tl::unexpected(done.error());
}

Result<std::string> ExchangeClient::pair(std::string_view question) {
  std::string answer;
  auto done =
      ask("/pair", "application/json", question, [&](std::string_view bytes) -> Result<void> {
        answer += bytes;
        return {};
      });
  wire_->close();
  if (!done) return tl::unexpected(done.error());
  return answer;
}

Result<void> ExchangeClient::ask(std::string_view target, std::string_view type,
                                 std::string_view body, const Take& take) {
  exchange::BusyWait busy;
  for (;;) {
    std::optional<std::string> retryAfter;
    auto done = askOnce(target, type, body, take, retryAfter);
    if (done || !retryAfter) return done;
    const auto wait = busy.next(*retryAfter);
    if (!wait) return done;
    wire_->close();
    pause_(*wait);
  }
}

Result<void> ExchangeClient::askOnce(std::string_view target, std::string_view type,
                                     std::string_view body, const Take& take,
                                     std::optional<std::string>& retryAfter) {
  if (!wire_->isOpen()) {
    if (auto opened = wire_->open(); !opened) return opened;
  }
  std::string head =
      fmt::format("POST {} HTTP/1.1\r\nHost: {}\r\nContent-Type: {}\r\nContent-Length: {}\r\n",
                  target, host_, type, body.size());
  if (!token_.empty()) head += fmt::format("Authorization: Bearer {}\r\n", token_);
  head += "\r\n";
  // In one piece: a second small one would wait for the shed to acknowledge the first.
  if (auto sent = wire_->send(head.append(body)); !sent) return sent;

  http::response_parser<http::string_body> parser;
  const Limits limits;
  parser.header_limit(static_cast<std::uint32_t>(limits.headerBytes));
  parser.body_limit(limits.bodyBytes);
  parser.eager(true);
  std::string failureBody;
  std::string unread;
  std::array<char, 64 * 1024> block;
  while (!parser.is_done()) {
    const auto size = wire_->receive(block.data(), block.size());
    if (!size) return tl::unexpected(size.error());
    unread.append(block.data(), *size);
    error_code error;
    const std::size_t used = parser.put(asio::buffer(unread.data(), unread.size()), error);
    unread.erase(0, used);
    if (error && error != http::error::need_more) {
      return fail(FailureKind::corrupt, "", "this is not a shed's answer", "look at the address");
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
  // The shed ends this connection; the next message opens another.
  if (!parser.keep_alive()) wire_->close();
  if (parser.get().result() == http::status::service_unavailable) {
    retryAfter = std::string(parser.get()[http::field::retry_after]);
  }
  if (parser.get().result_int() != 200) {
    return tl::unexpected(shedFailure(parser.get().result_int(), failureBody));
  }
  return {};
}

}  // namespace swardwalk::server
