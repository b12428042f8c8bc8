#include "tests/server/child.h"

#include <arpa/inet.h>
#include <fcntl.h>
#include <netinet/in.h>
#include <poll.h>
#include <signal.h>
#include <sys/socket.h>
#include <sys/wait.h>
#include <unistd.h>

#include <array>
#include <cstdio>
#include <stdexcept>

namespace swardwalk::server {
namespace {

int statusOf(int waited) {
  return WIFEXITED(waited) ? WEXITSTATUS(waited) : 128 + WTERMSIG(waited);
}

/// Reads two pipes together, so that a full one never blocks the program.
void readBoth(int out, int err, Ended& into) {
  std::array<pollfd, 2> pipes{pollfd{out, POLLIN, 0}, pollfd{err, POLLIN, 0}};
  std::array<std::string*, 2> texts{&into.out, &into.err};
  while (pipes[0].fd >= 0 || pipes[1].fd >= 0) {
    ::poll(pipes.data(), pipes.size(), -1);
    for (std::size_t i = 0; i < pipes.size(); ++i) {
      if (pipes[i].fd < 0 || pipes[i].revents == 0) continue;
      std::array<char, 4096> block;
      const ssize_t size = ::read(pipes[i].fd, block.data(), block.size());
      if (size > 0) texts[i]->append(block.data(), static_cast<std::size_t>(size));
      if (size <= 0) pipes[i].fd = -1;
    }
  }
}

}  // namespace

Child::Child(const std::vector<std::string>& arguments) {
  std::array<int, 2> out{};
  std::array<int, 2> err{};
  if (::pipe2(out.data(), O_CLOEXEC) != 0 || ::pipe2(err.data(), O_CLOEXEC) != 0) {
    throw std::runtime_error("no pipe");
  }
  std::vector<std::string> words{SWARDWALK_SERVER};
  words.insert(words.end(), arguments.begin(), arguments.end());
  std::vector<char*> argv;
  for (std::string& word : words) argv.push_back(word.data());
  argv.push_back(nullptr);
  id_ = ::fork();
  if (id_ == 0) {
    ::dup2(out[1], 1);
    ::dup2(err[1], 2);
    ::execv(argv[0], argv.data());
    ::_exit(127);
  }
  ::close(out[1]);
  ::close(err[1]);
  out_ = out[0];
  err_ = err[0];
}

Child::~Child() {
  if (id_ > 0) {
    ::kill(id_, SIGKILL);
    ::waitpid(id_, nullptr, 0);
  }
  ::close(out_);
  ::close(err_);
}

std::string Child::readLine() {
  for (;;) {
    const std::size_t end = read_.find('\n');
    if (end != std::string::npos) {
      std::string line = read_.substr(0, end);
      read_.erase(0, end + 1);
      return line;
    }
    std::array<char, 512> block;
    const ssize_t size = ::read(out_, block.data(), block.size());
    if (size <= 0) return {};
    read_.append(block.data(), static_cast<std::size_t>(size));
  }
}

void Child::send(int signal) { ::kill(id_, signal); }

Ended Child::finish() {
  Ended ended;
  ended.out = std::move(read_);
  readBoth(out_, err_, ended);
  int waited = 0;
  ::waitpid(id_, &waited, 0);
  id_ = -1;
  ended.status = statusOf(waited);
  return ended;
}

Ended runServer(const std::vector<std::string>& arguments) { return Child(arguments).finish(); }

namespace {

std::vector<std::string> serveArguments(const std::string& data,
                                        const std::vector<std::string>& more) {
  std::vector<std::string> arguments{"serve", "--data", data, "--listen", "127.0.0.1:0"};
  arguments.insert(arguments.end(), more.begin(), more.end());
  return arguments;
}

}  // namespace

RunningShed::RunningShed(const std::string& data, const std::vector<std::string>& more)
    : child_(serveArguments(data, more)) {
  const std::string line = child_.readLine();
  const std::size_t begin = line.find("http");
  if (begin == std::string::npos) throw std::runtime_error("no address: " + child_.finish().err);
  address_ = line.substr(begin, line.find_first_of(" \n", begin) - begin);
  address_.pop_back();
  if (address_.starts_with("https:")) fingerprint_ = line.substr(line.rfind(' ') + 1);
}

unsigned short RunningShed::port() const {
  return static_cast<unsigned short>(std::stoi(address_.substr(address_.rfind(':') + 1)));
}

std::string shell(const std::string& command) {
  FILE* pipe = ::popen((command + " 2>&1").c_str(), "re");
  if (!pipe) throw std::runtime_error("no shell");
  std::string printed;
  std::array<char, 4096> block;
  std::size_t size = 0;
  while ((size = std::fread(block.data(), 1, block.size(), pipe)) > 0) {
    printed.append(block.data(), size);
  }
  ::pclose(pipe);
  return printed;
}

std::string ask(unsigned short port, const std::string& request) {
  const int socket = ::socket(AF_INET, SOCK_STREAM | SOCK_CLOEXEC, 0);
  sockaddr_in where{};
  where.sin_family = AF_INET;
  where.sin_port = htons(port);
  where.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
  if (::connect(socket, reinterpret_cast<sockaddr*>(&where), sizeof(where)) != 0) {
    ::close(socket);
    return {};
  }
  std::string response;
  if (::send(socket, request.data(), request.size(), MSG_NOSIGNAL) ==
      static_cast<ssize_t>(request.size())) {
    std::array<char, 4096> block;
    ssize_t size = 0;
    while ((size = ::read(socket, block.data(), block.size())) > 0) {
      response.append(block.data(), static_cast<std::size_t>(size));
    }
  }
  ::close(socket);
  return response;
}

std::string get(unsigned short port, const std::string& target) {
  return ask(port, "GET " + target + " HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\n\r\n");
}

std::string bodyOf(const std::string& response) {
  const std::size_t end = response.find("\r\n\r\n");
  return end == std::string::npos ? std::string() : response.substr(end + 4);
}

}  // namespace swardwalk::server
