#pragma once

#include <memory>

#include "server/http/wire.h"
#include "server/tls/fingerprint.h"

namespace swardwalk::server {

/// Speaks TLS as a client over another wire, with exactly the shed whose certificate has
/// this fingerprint. Names and dates of a pinned certificate are not asked: the
/// fingerprint says more. Another certificate is `refused` before anything is sent.
std::unique_ptr<Wire> tlsWire(std::unique_ptr<Wire> carrier, const Fingerprint& pinned);

}  // namespace swardwalk::server
