#pragma once

#include <memory>

#include "server/http/transport.h"
#include "server/tls/server_tls.h"

namespace swardwalk::server {

/// Speaks TLS as a server over another transport, whose times also hold for what goes on
/// here. A peer that speaks plain HTTP is told so and ended. `tls` must outlive it.
std::unique_ptr<Transport> tlsTransport(std::unique_ptr<Transport> carrier, const ServerTls& tls);

}  // namespace swardwalk::server
