#include "tests/server/knock.h"

#include <arpa/inet.h>
#include <netinet/in.h>
#include <poll.h>
#include <sys/socket.h>
#include <unistd.h>

#include <array>
#include <stdexcept>
#include <utility>

namespace swardwalk::server {

Knock::Knock(unsigned short port) : socket_(::socket(AF_INET, SOCK_STREAM | SOCK_CLOEXEC, 0)) {
  sockaddr_in where{};
  where.sin_family = AF_INET;
  where.sin_port = htons(port);
  where.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
  if (::connect(socket_, reinterpret_cast<sockaddr*>(&where), sizeof(where)) != 0) {
    throw std::runtime_error("the shed cannot be reached");
  }
}

Knock::~Knock() {
  if (socket_ >= 0) ::close(socket_);
}

Knock::Knock(Knock&& other) noexcept : socket_(std::exchange(other.socket_, -1)) {}

std::size_t Knock::say(std::string_view bytes) {
  const ssize_t said = ::send(socket_, bytes.data(), bytes.size(), MSG_NOSIGNAL | MSG_DONTWAIT);
  return said > 0 ? static_cast<std::size_t>(said) : 0;
}

void Knock::sayAll(std::string_view bytes) {
  while (!bytes.empty()) {
    const ssize_t said = ::send(socket_, bytes.data(), bytes.size(), MSG_NOSIGNAL);
    if (said <= 0) return;
    bytes.remove_prefix(static_cast<std::size_t>(said));
  }
}

bool Knock::isEndedOrAnswered() {
  pollfd one{socket_, POLLIN, 0};
  constexpr int most_ms = 50;
  return ::poll(&one, 1, most_ms) > 0;
}

std::string Knock::hearAll() { return hear(true); }

std::string Knock::hearHead() { return hear(false); }

std::string Knock::hear(bool toTheEnd) {
  std::string heard;
  std::array<char, 4096> block;
  while (toTheEnd || heard.find("\r\n\r\n") == std::string::npos) {
    const ssize_t size = ::recv(socket_, block.data(), block.size(), 0);
    if (size <= 0) break;
    heard.append(block.data(), static_cast<std::size_t>(size));
  }
  return heard;
}

}  // namespace swardwalk::server
