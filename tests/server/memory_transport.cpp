#include "tests/server/memory_transport.h"

#include <algorithm>
#include <boost/asio/error.hpp>
#include <boost/asio/io_context.hpp>
#include <boost/asio/redirect_error.hpp>
#include <boost/asio/use_awaitable.hpp>
#include <cstring>

namespace swardwalk::server {

namespace asio = boost::asio;
using boost::system::error_code;

MemoryTransport::MemoryTransport(asio::io_context& context, std::shared_ptr<Peer> peer)
    : peer_(std::move(peer)), silence_(context) {
  neverExpire();
}

asio::awaitable<void> MemoryTransport::open(error_code& error) {
  error = {};
  co_return;
}

asio::awaitable<void> MemoryTransport::finishWriting() {
  peer_->finished = true;
  co_return;
}

asio::awaitable<std::size_t> MemoryTransport::readSome(asio::mutable_buffer into,
                                                       error_code& error) {
  error = {};
  if (peer_->says.empty() && peer_->staysSilent && !peer_->closed) {
    error_code woken;
    co_await silence_.async_wait(asio::redirect_error(asio::use_awaitable, woken));
    error = asio::error::timed_out;
    if (peer_->closed) error = asio::error::operation_aborted;
    co_return 0;
  }
  if (peer_->closed || peer_->says.empty()) {
    error = asio::error::eof;
    if (peer_->closed) error = asio::error::operation_aborted;
    co_return 0;
  }
  const std::size_t size = std::min({into.size(), peer_->says.size(), peer_->blockBytes});
  std::memcpy(into.data(), peer_->says.data(), size);
  peer_->says.erase(0, size);
  co_return size;
}

asio::awaitable<void> MemoryTransport::write(std::string_view bytes, error_code& error) {
  error = {};
  ++peer_->writes;
  if (peer_->isGone) error = asio::error::broken_pipe;
  if (peer_->hears.size() > peer_->takesBytes) {
    error_code woken;
    co_await silence_.async_wait(asio::redirect_error(asio::use_awaitable, woken));
    error = asio::error::timed_out;
  }
  if (!error) peer_->hears += bytes;
  co_return;
}

void MemoryTransport::expireAfter(std::chrono::milliseconds time) { silence_.expires_after(time); }

void MemoryTransport::neverExpire() { silence_.expires_at(asio::steady_timer::time_point::max()); }

void MemoryTransport::close() {
  peer_->closed = true;
  silence_.cancel();
}

}  // namespace swardwalk::server
