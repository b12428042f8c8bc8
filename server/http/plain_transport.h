#pragma once

#include <boost/asio/ip/tcp.hpp>
#include <memory>

#include "server/http/transport.h"

namespace swardwalk::server {

/// A connected TCP socket, unencrypted.
std::unique_ptr<Transport> plainTransport(boost::asio::ip::tcp::socket socket);

}  // namespace swardwalk::server
