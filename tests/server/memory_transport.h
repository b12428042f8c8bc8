#pragma once

#include <boost/asio/steady_timer.hpp>
#include <limits>
#include <memory>
#include <string>

#include "server/http/transport.h"

namespace swardwalk::server {

/// A connection without a network: what the peer said beforehand, and what it was told.
class MemoryTransport final : public Transport {
 public:
  /// What the test sees of it, also after the session let go of it.
  struct Peer {
    std::string says;               ///< read by the session
    std::size_t blockBytes = 4096;  ///< most that one read gives
    bool staysSilent = false;       ///< after `says` nothing comes instead of the end
    bool isGone = false;            ///< writes fail
    std::size_t takesBytes = std::numeric_limits<std::size_t>::max();  ///< reads no more
    int writes = 0;
    std::string hears;      ///< written by the session
    bool finished = false;  ///< the session said that nothing more comes
    bool closed = false;
  };

  MemoryTransport(boost::asio::io_context& context, std::shared_ptr<Peer> peer);

  boost::asio::awaitable<void> open(boost::system::error_code& error) override;
  boost::asio::awaitable<std::size_t> readSome(boost::asio::mutable_buffer into,
                                               boost::system::error_code& error) override;
  boost::asio::awaitable<void> write(std::string_view bytes,
                                     boost::system::error_code& error) override;
  void expireAfter(std::chrono::milliseconds time) override;
  void neverExpire() override;
  boost::asio::awaitable<void> finishWriting() override;
  void close() override;

 private:
  std::shared_ptr<Peer> peer_;
  boost::asio::steady_timer silence_;
};

}  // namespace swardwalk::server
