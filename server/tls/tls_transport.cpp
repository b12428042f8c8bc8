#include "server/tls/tls_transport.h"

#include <spdlog/spdlog.h>

#include <array>
#include <boost/asio/error.hpp>

#include "server/http/session.h"
#include "server/tls/tls_engine.h"

namespace swardwalk::server {
namespace {

namespace asio = boost::asio;
using boost::system::error_code;
using Step = TlsEngine::Step;

/// Every TLS connection begins with a record of this type (RFC 8446, 5.1).
constexpr char handshakeRecord = 0x16;
/// At most this goes into one round of encrypting, so that a long answer is never held twice.
constexpr std::size_t writtenAtOnce = 16 * 1024;

class TlsTransport final : public Transport {
 public:
  TlsTransport(std::unique_ptr<Transport> carrier, const ServerTls& tls)
      : carrier_(std::move(carrier)), engine_(tls.context(), TlsRole::server) {}

  asio::awaitable<void> open(error_code& error) override {
    co_await carrier_->open(error);
    bool first = true;
    while (!error) {
      const Step step = engine_.handshake();
      co_await flush(error);
      if (step == Step::done || error) co_return;
      if (step != Step::wantsPeer) {
        spdlog::info("a connection was not encrypted as the shed wants it: {}", engine_.reason());
        finished_ = true;
        error = asio::error::connection_refused;
        co_return;
      }
      const std::size_t size = co_await carrier_->readSome(asio::buffer(block_), error);
      if (error) co_return;
      if (first && block_[0] != handshakeRecord) {
        co_await refusePlain(error);
        co_return;
      }
      first = false;
      engine_.feed({block_.data(), size});
    }
  }

  asio::awaitable<std::size_t> readSome(asio::mutable_buffer into, error_code& error) override {
    error = {};
    while (!error) {
      // After our goodbye only the end of what the peer sends matters.
      if (finished_) co_return co_await carrier_->readSome(into, error);
      std::size_t got = 0;
      const Step step = engine_.read(static_cast<char*>(into.data()), into.size(), got);
      if (step == Step::done) co_return got;
      co_await flush(error);
      if (error) break;
      if (step == Step::ended) error = asio::error::eof;
      if (step == Step::broken) error = asio::error::connection_aborted;
      if (step != Step::wantsPeer) break;
      const std::size_t size = co_await carrier_->readSome(asio::buffer(block_), error);
      if (!error) engine_.feed({block_.data(), size});
    }
    co_return 0;
  }

  asio::awaitable<void> write(std::string_view bytes, error_code& error) override {
    error = {};
    while (!error && !bytes.empty()) {
      std::size_t used = 0;
      // Without renegotiation writing never waits for the peer.
      const Step step = engine_.write(bytes.substr(0, writtenAtOnce), used);
      if (step != Step::done) {
        error = asio::error::connection_aborted;
        break;
      }
      bytes.remove_prefix(used);
      co_await flush(error);
    }
  }

  void expireAfter(std::chrono::milliseconds time) override { carrier_->expireAfter(time); }
  void neverExpire() override { carrier_->neverExpire(); }

  asio::awaitable<void> finishWriting() override {
    engine_.sayGoodbye();
    error_code ignored;  // the peer may be gone, which is as good
    co_await flush(ignored);
    finished_ = true;
    co_await carrier_->finishWriting();
  }

  void close() override { carrier_->close(); }

 private:
  asio::awaitable<void> flush(error_code& error) {
    const std::string wire = engine_.takeOutgoing();
    if (!wire.empty()) co_await carrier_->write(wire, error);
  }

  asio::awaitable<void> refusePlain(error_code& error) {
    const Response refusal =
        failureResponse(400, "needs_tls",
                        "The shed speaks https here, so that nobody listens in. Begin its address "
                        "with https://.");
    const std::string wire = writeResponse(refusal, false);
    co_await carrier_->write(wire, error);
    co_await carrier_->finishWriting();
    finished_ = true;
    error = asio::error::connection_refused;
  }

  std::unique_ptr<Transport> carrier_;
  TlsEngine engine_;
  std::array<char, 16 * 1024> block_{};
  bool finished_ = false;
};

}  // namespace

std::unique_ptr<Transport> tlsTransport(std::unique_ptr<Transport> carrier, const ServerTls& tls) {
  return std::make_unique<TlsTransport>(std::move(carrier), tls);
}

}  // namespace swardwalk::server
