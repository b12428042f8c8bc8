#pragma once

#include <boost/asio/awaitable.hpp>
#include <boost/asio/ip/tcp.hpp>
#include <boost/asio/steady_timer.hpp>
#include <memory>
#include <set>
#include <string>

#include "common/failure.h"
#include "server/http/endpoint.h"
#include "server/http/session.h"
#include "server/http/traffic.h"
#include "server/tls/server_tls.h"

namespace swardwalk::server {

/// The numbers of a place to listen at; `invalid` where its host is no address.
Result<boost::asio::ip::tcp::endpoint> listenAddress(const Endpoint& endpoint);

/// Accepts connections and runs a session for each, encrypted where it was given a
/// certificate. Use from the thread that runs the context, which must outlive it, as must
/// the handler and the certificate.
class Listener {
 public:
  Listener(boost::asio::io_context& context, RequestHandler& handler, Limits limits,
           const ServerTls* tls = nullptr);

  /// Binds and listens; `busy` where the port is taken.
  Result<void> open(const boost::asio::ip::tcp::endpoint& endpoint);
  /// Where it listens, the port filled in: "https://192.0.2.7:8137/".
  std::string address() const;

  /// The same as others reach it: where it listens on all addresses, one of this machine's.
  std::string reachableAddress() const;

  Traffic traffic() const;

  /// Accepts until `stop`. Returns at once.
  void start();

  /// Takes no more connections or requests; what is under way finishes within the
  /// limits' stopping time, then it is cut. The context runs dry after that.
  void stop();

 private:
  std::string addressAt(const boost::asio::ip::tcp::endpoint& local, std::string host) const;
  boost::asio::awaitable<void> acceptLoop();
  /// False: all who are here are at work, and nobody can make room.
  bool makeRoomFor(const boost::asio::ip::address& address);
  void startSession(boost::asio::ip::tcp::socket socket, const std::string& address);

  boost::asio::io_context& context_;
  RequestHandler& handler_;
  Limits limits_;
  const ServerTls* tls_;
  boost::asio::ip::tcp::acceptor acceptor_;
  boost::asio::steady_timer grace_;
  std::shared_ptr<SessionMemory> memory_;
  std::set<std::shared_ptr<SessionState>> sessions_;
  Traffic since_;  ///< its counts since the start
  bool stopping_ = false;
};

}  // namespace swardwalk::server
