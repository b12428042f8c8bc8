#pragma once

#include <cstddef>
#include <string>
#include <string_view>

#include "server/tls/openssl.h"

namespace swardwalk::server {

enum class TlsRole { server, client };

/// One TLS connection without a network: turns what people say into what goes over the
/// wire and back. Whoever carries the bytes calls it in turns; so both a session and a
/// client speak TLS without the library's own sockets.
class TlsEngine {
 public:
  enum class Step {
    done,       ///< went on
    wantsPeer,  ///< needs more of the peer's bytes
    ended,      ///< the peer said goodbye
    broken      ///< this connection is of no more use; `reason` says why
  };

  TlsEngine(SSL_CTX& context, TlsRole role);

  Step handshake();
  /// Decrypts into `into`; `got` is at least 1 when done.
  Step read(char* into, std::size_t size, std::size_t& got);
  /// Encrypts from the front of `bytes`; `used` says how many.
  Step write(std::string_view bytes, std::size_t& used);
  void sayGoodbye();

  /// Bytes from the peer.
  void feed(std::string_view wire);
  /// Bytes for the peer; to be carried after every step, also a broken one (its alert).
  std::string takeOutgoing();

  const std::string& reason() const { return reason_; }
  const SSL& connection() const { return *ssl_; }

 private:
  Step stepOf(int result);

  Openssl<SSL> ssl_;
  BIO* incoming_;  ///< owned by ssl_
  BIO* outgoing_;  ///< owned by ssl_
  std::string reason_;
};

}  // namespace swardwalk::server
