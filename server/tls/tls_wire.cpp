#include "server/tls/tls_wire.h"

#include <array>
#include <optional>

#include "server/tls/tls_engine.h"

namespace swardwalk::server {
namespace {

using Step = TlsEngine::Step;

Openssl<SSL_CTX> clientContext() {
  Openssl<SSL_CTX> context(SSL_CTX_new(TLS_client_method()));
  SSL_CTX_set_min_proto_version(context.get(), TLS1_2_VERSION);
  // The pinned fingerprint is compared below instead.
  SSL_CTX_set_verify(context.get(), SSL_VERIFY_NONE, nullptr);
  SSL_CTX_set_mode(context.get(),
                   SSL_MODE_ENABLE_PARTIAL_WRITE | SSL_MODE_ACCEPT_MOVING_WRITE_BUFFER);
  return context;
}

class TlsWire final : public Wire {
 public:
  TlsWire(std::unique_ptr<Wire> carrier, const Fingerprint& pinned)
      : carrier_(std::move(carrier)), pinned_(pinned), context_(clientContext()) {}

  bool isOpen() const override { return engine_ && carrier_->isOpen(); }

  Result<void> open() override {
    if (auto carried = carrier_->open(); !carried) return carried;
    engine_.emplace(*context_, TlsRole::client);
    for (;;) {
      const Step step = engine_->handshake();
      if (auto sent = flush(); !sent) return sent;
      if (step == Step::done) break;
      if (step != Step::wantsPeer) return broken();
      if (auto more = feed(); !more) return more;
    }
    return checkPin();
  }

  Result<void> send(std::string_view bytes) override {
    while (!bytes.empty()) {
      std::size_t used = 0;
      if (engine_->write(bytes, used) != Step::done) return broken();
      bytes.remove_prefix(used);
      if (auto sent = flush(); !sent) return sent;
    }
    return {};
  }

  Result<std::size_t> receive(char* into, std::size_t size) override {
    for (;;) {
      std::size_t got = 0;
      const Step step = engine_->read(into, size, got);
      if (step == Step::done) return got;
      if (auto sent = flush(); !sent) return tl::unexpected(sent.error());
      if (step == Step::ended) {
        return fail(FailureKind::io, "", "the exchange was cut, the shed closed the connection",
                    "what arrived whole is kept; exchange again");
      }
      if (step == Step::broken) return tl::unexpected(broken().error());
      if (auto more = feed(); !more) return tl::unexpected(more.error());
    }
  }

  void close() override {
    if (isOpen()) {
      engine_->sayGoodbye();
      (void)flush();  // a shed that is gone needs no goodbye
    }
    engine_.reset();
    carrier_->close();
  }

 private:
  Result<void> flush() {
    const std::string wire = engine_->takeOutgoing();
    return wire.empty() ? Result<void>() : carrier_->send(wire);
  }

  Result<void> feed() {
    const auto size = carrier_->receive(block_.data(), block_.size());
    if (!size) return tl::unexpected(size.error());
    engine_->feed({block_.data(), *size});
    return {};
  }

  Result<void> broken() const {
    return fail(FailureKind::io, "",
                "no encrypted connection came about (" + engine_->reason() + ")",
                "is this the shed's address, and is it https there?");
  }

  Result<void> checkPin() {
    const Openssl<X509> certificate(SSL_get1_peer_certificate(&engine_->connection()));
    const Fingerprint met = certificate ? fingerprintOf(*certificate) : Fingerprint{};
    if (certificate && met == pinned_) return {};
    close();
    return fail(FailureKind::refused, "",
                "this is not the shed that was met before: its certificate has the fingerprint " +
                    written(met) + " and not " + written(pinned_) +
                    "; it got a new certificate, or somebody stands between; nothing was sent",
                "ask whoever keeps the shed which fingerprint it shows when it starts, and only if "
                "it is this one give it with --fingerprint");
  }

  std::unique_ptr<Wire> carrier_;
  Fingerprint pinned_;
  Openssl<SSL_CTX> context_;
  std::optional<TlsEngine> engine_;
  std::array<char, 16 * 1024> block_{};
};

}  // namespace

std::unique_ptr<Wire> tlsWire(std::unique_ptr<Wire> carrier, const Fingerprint& pinned) {
  return std::make_unique<TlsWire>(std::move(carrier), pinned);
}

}  // namespace swardwalk::server
