#pragma once

#include <cstdint>

#include "common/failure.h"
#include "server/tls/certificate.h"
#include "server/tls/fingerprint.h"
#include "server/tls/openssl.h"

namespace swardwalk::server {

/// What every encrypted connection of a server shares: its certificate and key, TLS 1.3,
/// else 1.2 with forward secrecy, nothing older, no renegotiation, no compression, no
/// kept sessions. Immutable.
class ServerTls {
 public:
  /// Reads the files; `notFound`, `corrupt`, `refused` (expired, not valid yet, a key of
  /// another certificate) in words.
  static Result<ServerTls> load(const CertificateFiles& files, std::int64_t now_ms);

  const Fingerprint& fingerprint() const { return fingerprint_; }
  SSL_CTX& context() const { return *context_; }

 private:
  explicit ServerTls(Openssl<SSL_CTX> context) : context_(std::move(context)) {}

  Openssl<SSL_CTX> context_;
  Fingerprint fingerprint_{};
};

}  // namespace swardwalk::server
