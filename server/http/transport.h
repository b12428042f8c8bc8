#pragma once

#include <boost/asio/awaitable.hpp>
#include <boost/asio/buffer.hpp>
#include <chrono>
#include <cstddef>
#include <string_view>

namespace swardwalk::server {

/// A two-way stream of bytes, whatever carries it: TCP, TLS over it, memory in tests.
/// Sessions speak through this interface so that the templates of a carrier are compiled
/// once. Use from one thread, the one that runs its executor.
class Transport {
 public:
  virtual ~Transport() = default;

  /// Does what must come before the first byte, such as a handshake. To be called once.
  virtual boost::asio::awaitable<void> open(boost::system::error_code& error) = 0;

  /// Reads at least one byte; 0 with `error` unset never happens. The end of the stream
  /// is `asio::error::eof`; a deadline that passed is `asio::error::timed_out`.
  virtual boost::asio::awaitable<std::size_t> readSome(boost::asio::mutable_buffer into,
                                                       boost::system::error_code& error) = 0;

  /// Writes all of it. `bytes` must live until this returns.
  virtual boost::asio::awaitable<void> write(std::string_view bytes,
                                             boost::system::error_code& error) = 0;

  /// What is under way then and later is cut after this time, until it is set again.
  virtual void expireAfter(std::chrono::milliseconds time) = 0;
  virtual void neverExpire() = 0;

  /// Says to the peer that nothing more will come; it may still send.
  virtual boost::asio::awaitable<void> finishWriting() = 0;

  /// Ends whatever is under way. May be called at any time, several times.
  virtual void close() = 0;
};

}  // namespace swardwalk::server
