#include <boost/asio/connect.hpp>
#include <boost/asio/io_context.hpp>
#include <boost/asio/ip/tcp.hpp>
#include <boost/asio/steady_timer.hpp>
#include <boost/asio/write.hpp>

#include "server/http/wire.h"

namespace swardwalk::server {
namespace {

namespace asio = boost::asio;
using asio::ip::tcp;
using boost::system::error_code;

class PlainWire final : public Wire {
 public:
  PlainWire(Endpoint shed, ClientLimits limits) : shed_(std::move(shed)), limits_(limits) {}

  bool isOpen() const override { return socket_.is_open(); }

  Result<void> open() override {
    tcp::resolver resolver(context_);
    error_code result;
    const auto addresses = resolver.resolve(shed_.host, std::to_string(shed_.port), result);
    if (!result) {
      asio::async_connect(socket_, addresses, [&](error_code error, const tcp::endpoint&) {
        result = error;
        deadline_.cancel();
      });
      result = finish(result, limits_.connecting);
    }
    if (!result) {
      error_code ignored;  // costs time only
      socket_.set_option(tcp::no_delay(true), ignored);
      return {};
    }
    return fail(FailureKind::io, written(shed_),
                "the shed cannot be reached (" + result.message() + ")",
                "is it open, and is this its address?");
  }

  Result<void> send(std::string_view bytes) override {
    error_code result;
    asio::async_write(socket_, asio::buffer(bytes.data(), bytes.size()),
                      [&](error_code error, std::size_t) {
                        result = error;
                        deadline_.cancel();
                      });
    result = finish(result, limits_.silence);
    if (!result) return {};
    return tl::unexpected(cut(result));
  }

  Result<std::size_t> receive(char* into, std::size_t size) override {
    error_code result;
    std::size_t got = 0;
    socket_.async_read_some(asio::buffer(into, size), [&](error_code error, std::size_t read) {
      result = error;
      got = read;
      deadline_.cancel();
    });
    result = finish(result, limits_.silence);
    if (result) return tl::unexpected(cut(result));
    return got;
  }

  void close() override {
    error_code ignored;  // the socket may be closed already
    socket_.close(ignored);
  }

 private:
  /// Runs what was just started until it is done or its time is over.
  error_code finish(const error_code& result, std::chrono::milliseconds time) {
    bool late = false;
    deadline_.expires_after(time);
    deadline_.async_wait([&](error_code error) {
      if (error) return;
      late = true;
      close();
    });
    context_.restart();
    context_.run();
    return late ? error_code(asio::error::timed_out) : result;
  }

  Failure cut(const error_code& error) const {
    const std::string why = error == asio::error::timed_out ? "it did not answer in time"
                            : error == asio::error::eof     ? "it closed the connection"
                                                            : error.message();
    return {FailureKind::io, written(shed_), "the exchange was cut, " + why,
            "what arrived whole is kept; exchange again"};
  }

  Endpoint shed_;
  ClientLimits limits_;
  asio::io_context context_;
  tcp::socket socket_{context_};
  asio::steady_timer deadline_{context_};
};

}  // namespace

std::unique_ptr<Wire> plainWire(Endpoint shed, ClientLimits limits) {
  return std::make_unique<PlainWire>(std::move(shed), limits);
}

}  // namespace swardwalk::server
