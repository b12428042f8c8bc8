#include "server/http/plain_transport.h"

#include <boost/asio/redirect_error.hpp>
#include <boost/asio/steady_timer.hpp>
#include <boost/asio/use_awaitable.hpp>
#include <boost/asio/write.hpp>

namespace swardwalk::server {
namespace {

namespace asio = boost::asio;
using boost::system::error_code;

/// What the timer's handler touches; it may outlive the transport by one turn.
struct Wire {
  explicit Wire(asio::ip::tcp::socket connected) : socket(std::move(connected)) {}

  asio::ip::tcp::socket socket;
  bool expired = false;
};

class PlainTransport final : public Transport {
 public:
  explicit PlainTransport(asio::ip::tcp::socket socket)
      : wire_(std::make_shared<Wire>(std::move(socket))), timer_(wire_->socket.get_executor()) {
    error_code ignored;  // only costs time where it fails
    wire_->socket.set_option(asio::ip::tcp::no_delay(true), ignored);
  }

  ~PlainTransport() override { close(); }

  asio::awaitable<void> open(error_code& error) override {
    error = {};
    co_return;
  }

  asio::awaitable<std::size_t> readSome(asio::mutable_buffer into, error_code& error) override {
    if (wire_->expired) {
      error = asio::error::timed_out;
      co_return 0;
    }
    const std::size_t size = co_await wire_->socket.async_read_some(
        into, asio::redirect_error(asio::use_awaitable, error));
    if (error && wire_->expired) error = asio::error::timed_out;
    co_return size;
  }

  asio::awaitable<void> write(std::string_view bytes, error_code& error) override {
    if (wire_->expired) {
      error = asio::error::timed_out;
      co_return;
    }
    co_await asio::async_write(wire_->socket, asio::buffer(bytes.data(), bytes.size()),
                               asio::redirect_error(asio::use_awaitable, error));
    if (error && wire_->expired) error = asio::error::timed_out;
  }

  void expireAfter(std::chrono::milliseconds time) override {
    wire_->expired = false;
    timer_.expires_after(time);  // cancels the wait before it
    timer_.async_wait([wire = std::weak_ptr<Wire>(wire_)](error_code error) {
      const auto here = wire.lock();
      if (error || !here) return;
      // Cancelled and not closed, so that the peer can still be told what went wrong.
      here->expired = true;
      error_code ignored;  // the socket may be closed already
      here->socket.cancel(ignored);
    });
  }

  void neverExpire() override {
    wire_->expired = false;
    timer_.cancel();
  }

  asio::awaitable<void> finishWriting() override {
    error_code ignored;  // the peer may be gone, which is as good
    wire_->socket.shutdown(asio::ip::tcp::socket::shutdown_send, ignored);
    co_return;
  }

  void close() override {
    timer_.cancel();
    error_code ignored;  // the socket may be closed already
    wire_->socket.close(ignored);
  }

 private:
  std::shared_ptr<Wire> wire_;
  asio::steady_timer timer_;
};

}  // namespace

std::unique_ptr<Transport> plainTransport(asio::ip::tcp::socket socket) {
  return std::make_unique<PlainTransport>(std::move(socket));
}

}  // namespace swardwalk::server
