#include "tests/server/proxy.h"

#include <arpa/inet.h>
#include <netinet/in.h>
#include <poll.h>
#include <sys/socket.h>
#include <unistd.h>

#include <chrono>
#include <stdexcept>

namespace swardwalk::server {

namespace {

sockaddr_in loopback(std::uint16_t port) {
  sockaddr_in address{};
  address.sin_family = AF_INET;
  address.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
  address.sin_port = htons(port);
  return address;
}

int connectTo(std::uint16_t port) {
  const int socket = ::socket(AF_INET, SOCK_STREAM | SOCK_CLOEXEC, 0);
  const sockaddr_in address = loopback(port);
  if (::connect(socket, reinterpret_cast<const sockaddr*>(&address), sizeof(address)) == 0)
    return socket;
  ::close(socket);
  return -1;
}

bool sendAll(int socket, const std::string& bytes) {
  std::size_t sent = 0;
  while (sent < bytes.size()) {
    const ssize_t now = ::send(socket, bytes.data() + sent, bytes.size() - sent, MSG_NOSIGNAL);
    if (now <= 0) return false;
    sent += static_cast<std::size_t>(now);
  }
  return true;
}

/// One way of a connection: how much went through, and where it is cut.
struct Way {
  int from;
  int to;
  std::size_t cutAfter;
  std::size_t done = 0;

  /// Carries one piece; false where it ends.
  bool carry(std::size_t pieceBytes, std::string* keep) {
    std::string piece(std::min(pieceBytes, cutAfter - done), '\0');
    if (piece.empty()) return false;
    const ssize_t read = ::recv(from, piece.data(), piece.size(), 0);
    if (read <= 0) return false;
    piece.resize(static_cast<std::size_t>(read));
    done += piece.size();
    if (keep != nullptr) *keep += piece;
    return sendAll(to, piece) && done < cutAfter;
  }
};

}  // namespace

Proxy::Proxy(std::uint16_t server, Trouble trouble) : server_(server), trouble_(trouble) {
  listener_ = ::socket(AF_INET, SOCK_STREAM | SOCK_CLOEXEC, 0);
  sockaddr_in address = loopback(0);
  socklen_t size = sizeof(address);
  if (::bind(listener_, reinterpret_cast<const sockaddr*>(&address), size) != 0 ||
      ::listen(listener_, 4) != 0 ||
      ::getsockname(listener_, reinterpret_cast<sockaddr*>(&address), &size) != 0)
    throw std::runtime_error("no port for the proxy");
  port_ = ntohs(address.sin_port);
  thread_ = std::thread([this] { serve(); });
}

Proxy::~Proxy() {
  ending_ = true;
  ::shutdown(listener_, SHUT_RDWR);
  thread_.join();
  ::close(listener_);
}

std::string Proxy::address() const { return "http://127.0.0.1:" + std::to_string(port_); }

void Proxy::serve() {
  while (!ending_) {
    const int client = ::accept4(listener_, nullptr, nullptr, SOCK_CLOEXEC);
    if (client < 0) return;
    carry(client);
    ::close(client);
  }
}

void Proxy::carry(int client) {
  const int server = connectTo(server_);
  if (server < 0) return;
  Way question{client, server, trouble_.cutQuestionAfter};
  Way answer{server, client, trouble_.cutAnswerAfter};
  std::string asked;
  bool open = true;
  while (open && !ending_) {
    pollfd ends[] = {{client, POLLIN, 0}, {server, POLLIN, 0}};
    if (::poll(ends, 2, 100) < 0) break;
    if (ends[0].revents != 0) open = question.carry(trouble_.pieceBytes, &asked);
    if (open && ends[1].revents != 0) open = answer.carry(trouble_.pieceBytes, nullptr);
    questionBytes_ = question.done;
    answerBytes_ = answer.done;
    if (trouble_.pause_ms > 0)
      std::this_thread::sleep_for(std::chrono::milliseconds(trouble_.pause_ms));
  }
  if (trouble_.stall && !open) {
    // Until the client has enough of it.
    pollfd end{client, POLLRDHUP, 0};
    while (!ending_ && ::poll(&end, 1, 100) == 0) {
    }
  }
  ::close(server);
  if (!trouble_.repeatQuestion) return;
  const int again = connectTo(server_);
  if (again < 0) return;
  sendAll(again, asked);
  ::shutdown(again, SHUT_WR);
  std::string ignored(65536, '\0');
  while (::recv(again, ignored.data(), ignored.size(), 0) > 0) {
  }
  ::close(again);
}

}  // namespace swardwalk::server
