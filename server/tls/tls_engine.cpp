#include "server/tls/tls_engine.h"

#include <openssl/err.h>

#include <cassert>
#include <limits>

namespace swardwalk::server {

TlsEngine::TlsEngine(SSL_CTX& context, TlsRole role)
    : ssl_(SSL_new(&context)), incoming_(BIO_new(BIO_s_mem())), outgoing_(BIO_new(BIO_s_mem())) {
  assert(ssl_ && incoming_ && outgoing_);
  SSL_set_bio(ssl_.get(), incoming_, outgoing_);
  if (role == TlsRole::server) {
    SSL_set_accept_state(ssl_.get());
  } else {
    SSL_set_connect_state(ssl_.get());
  }
}

TlsEngine::Step TlsEngine::stepOf(int result) {
  switch (SSL_get_error(ssl_.get(), result)) {
    case SSL_ERROR_NONE:
      return Step::done;
    case SSL_ERROR_WANT_READ:
      return Step::wantsPeer;
    case SSL_ERROR_ZERO_RETURN:
      return Step::ended;
    default:
      reason_ = opensslReason();
      return Step::broken;
  }
}

TlsEngine::Step TlsEngine::handshake() {
  ERR_clear_error();
  return stepOf(SSL_do_handshake(ssl_.get()));
}

TlsEngine::Step TlsEngine::read(char* into, std::size_t size, std::size_t& got) {
  ERR_clear_error();
  return stepOf(SSL_read_ex(ssl_.get(), into, size, &got));
}

TlsEngine::Step TlsEngine::write(std::string_view bytes, std::size_t& used) {
  ERR_clear_error();
  return stepOf(SSL_write_ex(ssl_.get(), bytes.data(), bytes.size(), &used));
}

void TlsEngine::sayGoodbye() {
  ERR_clear_error();
  if (SSL_is_init_finished(ssl_.get()) == 1) SSL_shutdown(ssl_.get());
  ERR_clear_error();  // the peer may be gone, which is as good
}

void TlsEngine::feed(std::string_view wire) {
  assert(wire.size() <= static_cast<std::size_t>(std::numeric_limits<int>::max()));
  [[maybe_unused]] const int taken =
      BIO_write(incoming_, wire.data(), static_cast<int>(wire.size()));
  assert(taken == static_cast<int>(wire.size()));
}

std::string TlsEngine::takeOutgoing() {
  char* bytes = nullptr;
  const long size = BIO_get_mem_data(outgoing_, &bytes);
  std::string wire(bytes, static_cast<std::size_t>(size > 0 ? size : 0));
  BIO_reset(outgoing_);
  return wire;
}

}  // namespace swardwalk::server
