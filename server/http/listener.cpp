#include "server/http/listener.h"

#include <fmt/format.h>
#include <spdlog/spdlog.h>

#include <boost/asio/co_spawn.hpp>
#include <boost/asio/detached.hpp>
#include <boost/asio/io_context.hpp>
#include <boost/asio/ip/address.hpp>
#include <boost/asio/redirect_error.hpp>
#include <boost/asio/steady_timer.hpp>
#include <boost/asio/use_awaitable.hpp>
#include <exception>

#include "server/http/own_address.h"
#include "server/http/plain_transport.h"
#include "server/tls/tls_transport.h"

namespace swardwalk::server {
namespace {

namespace asio = boost::asio;
using asio::ip::tcp;
using boost::system::error_code;

/// After an error such as too many open files, trying again at once would only spin.
constexpr std::chrono::milliseconds acceptPause{100};

/// One machine is the same whether it comes over version 4, or over version 4 through a
/// socket of version 6.
asio::ip::address plain(const asio::ip::address& address) {
  if (!address.is_v6() || !address.to_v6().is_v4_mapped()) return address;
  return asio::ip::make_address_v4(asio::ip::v4_mapped, address.to_v6());
}

}  // namespace

Result<tcp::endpoint> listenAddress(const Endpoint& endpoint) {
  const std::string host = endpoint.host == "localhost" ? "127.0.0.1" : endpoint.host;
  error_code error;
  const asio::ip::address address = asio::ip::make_address(host, error);
  if (error) {
    return fail(FailureKind::invalid, written(endpoint), "this is no address of a machine",
                "write one in numbers, such as 192.0.2.7:8137, or 0.0.0.0:8137 for all of this "
                "machine's");
  }
  return tcp::endpoint(address, endpoint.port);
}

Listener::Listener(asio::io_context& context, RequestHandler& handler, Limits limits,
                   const ServerTls* tls)
    : context_(context),
      handler_(handler),
      limits_(limits),
      tls_(tls),
      acceptor_(context),
      grace_(context),
      memory_(std::make_shared<SessionMemory>(limits)) {}

Result<void> Listener::open(const tcp::endpoint& endpoint) {
  const std::string where = written({endpoint.address().to_string(), endpoint.port()});
  try {
    acceptor_.open(endpoint.protocol());
    acceptor_.set_option(tcp::acceptor::reuse_address(true));
    acceptor_.bind(endpoint);
    acceptor_.listen();
  } catch (const boost::system::system_error& problem) {
    if (problem.code() == asio::error::address_in_use) {
      return fail(FailureKind::busy, where, "another program listens there already",
                  "stop it, or choose another port with --listen");
    }
    return fail(FailureKind::io, where,
                "it is not possible to listen there (" + problem.code().message() + ")",
                "choose another address or port with --listen");
  }
  return {};
}

std::string Listener::address() const {
  const tcp::endpoint local = acceptor_.local_endpoint();
  return addressAt(local, local.address().to_string());
}

std::string Listener::reachableAddress() const {
  const tcp::endpoint local = acceptor_.local_endpoint();
  const std::string own = local.address().is_unspecified() ? ownNetworkAddress() : std::string();
  return addressAt(local, own.empty() ? local.address().to_string() : own);
}

std::string Listener::addressAt(const tcp::endpoint& local, std::string host) const {
  const std::string scheme = tls_ ? "https://" : "http://";
  return scheme + written({std::move(host), local.port()}) + "/";
}

Traffic Listener::traffic() const {
  Traffic now = since_;
  now.connections = sessions_.size();
  now.bodiesBytes = memory_->bodies.taken();
  now.answersBytes = memory_->answers.taken();
  return now;
}

void Listener::start() { asio::co_spawn(context_, acceptLoop(), asio::detached); }

asio::awaitable<void> Listener::acceptLoop() {
  while (!stopping_) {
    error_code error;
    tcp::socket socket =
        co_await acceptor_.async_accept(asio::redirect_error(asio::use_awaitable, error));
    if (stopping_ || error == asio::error::operation_aborted) break;
    if (!error) {
      error_code gone;  // who is gone already needs no place
      const asio::ip::address address = plain(socket.remote_endpoint(gone).address());
      // Who is turned away is so by the end of this turn: its socket closes here.
      if (!gone && makeRoomFor(address)) startSession(std::move(socket), address.to_string());
      continue;
    }
    spdlog::warn("a connection could not be accepted: {}", error.message());
    asio::steady_timer pause(context_, acceptPause);
    co_await pause.async_wait(asio::redirect_error(asio::use_awaitable, error));
  }
}

bool Listener::makeRoomFor(const asio::ip::address& address) {
  std::vector<Guest*> here;
  here.reserve(sessions_.size());
  for (const auto& state : sessions_) here.push_back(state.get());
  const std::size_t ofAddress =
      address.is_loopback() ? limits_.connections : limits_.connectionsOfAddress;
  const Admission admission = admit(here, address.to_string(), limits_.connections, ofAddress);
  if (!admission.admitted) {
    ++since_.turnedAway;
    spdlog::warn("a connection was turned away: {} are open, and all at work", sessions_.size());
  }
  if (admission.leaves) {
    ++since_.madeRoom;
    spdlog::info("a connection makes room for another; {} are open", sessions_.size());
    static_cast<SessionState*>(admission.leaves)->leave();
  }
  return admission.admitted;
}

void Listener::startSession(tcp::socket socket, const std::string& address) {
  auto state = std::make_shared<SessionState>();
  state->address = address;
  state->served = std::chrono::steady_clock::now();
  error_code ignored;  // costs memory of the system only
  socket.set_option(asio::socket_base::send_buffer_size(static_cast<int>(limits_.sendBufferBytes)),
                    ignored);
  state->transport = plainTransport(std::move(socket));
  if (tls_) state->transport = tlsTransport(std::move(state->transport), *tls_);
  sessions_.insert(state);
  auto session = runSession(state, handler_, limits_, memory_);
  asio::co_spawn(context_, std::move(session), [this, state](std::exception_ptr problem) {
    sessions_.erase(state);
    if (stopping_ && sessions_.empty()) grace_.cancel();
    if (!problem) return;
    try {
      std::rethrow_exception(problem);
    } catch (const std::exception& known) {
      spdlog::error("a connection ended with an error: {}", known.what());
    }
  });
}

void Listener::stop() {
  if (stopping_) return;
  stopping_ = true;
  error_code ignored;  // a socket that was never opened has nothing to close
  acceptor_.close(ignored);
  for (const auto& state : sessions_) state->stop();
  if (sessions_.empty()) return;
  grace_.expires_after(limits_.stopping);
  grace_.async_wait([this](error_code error) {
    if (error) return;
    spdlog::warn("{} connections did not finish in time and are cut", sessions_.size());
    for (const auto& state : sessions_) state->transport->close();
  });
}

}  // namespace swardwalk::server
