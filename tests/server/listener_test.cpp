#include "server/http/listener.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <boost/asio/connect.hpp>
#include <boost/asio/io_context.hpp>
#include <boost/asio/post.hpp>
#include <boost/asio/read_until.hpp>
#include <boost/asio/write.hpp>
#include <thread>

namespace swardwalk::server {
namespace {

namespace asio = boost::asio;
using asio::ip::tcp;
using testing::StartsWith;

class Yes final : public RequestHandler {
 public:
  Welcome welcome(const Request& request, std::optional<std::uint64_t>) override {
    remote = request.remote;
    return {std::nullopt, 0, !request.token.empty()};
  }
  std::string remote;
  asio::awaitable<Response> handle(Request) override { co_return Response{}; }
};

/// A listener on loopback in a thread of its own, and clients that talk when they are told.
class Doorway : public testing::Test {
 protected:
  void open(const asio::ip::address& at = asio::ip::address_v4::loopback()) {
    listener_ = std::make_unique<Listener>(context_, yes_, limits);
    const auto opened = listener_->open(tcp::endpoint(at, 0));
    ASSERT_TRUE(opened);
    const std::string address = listener_->address();
    port_ = static_cast<unsigned short>(std::stoi(address.substr(address.rfind(':') + 1)));
    listener_->start();
    thread_ = std::thread([this] { context_.run(); });
  }

  void TearDown() override {
    asio::post(context_, [this] { listener_->stop(); });
    if (thread_.joinable()) thread_.join();
  }

  tcp::socket connect() {
    tcp::socket socket(mine_);
    socket.connect(tcp::endpoint(asio::ip::address_v4::loopback(), port_));
    return socket;
  }

  /// The answer, which has no body; empty where the connection was ended.
  static std::string get(tcp::socket& socket, const std::string& fields = {}) {
    boost::system::error_code error;
    const std::string question = "GET / HTTP/1.1\r\nHost: localhost\r\n" + fields + "\r\n";
    asio::write(socket, asio::buffer(question), error);
    std::string answer;
    asio::read_until(socket, asio::dynamic_buffer(answer), "\r\n\r\n", error);
    return error ? std::string() : answer;
  }

  const std::string& remote() const { return yes_.remote; }

  Limits limits;

 private:
  Yes yes_;
  asio::io_context context_{1};
  asio::io_context mine_{1};
  std::unique_ptr<Listener> listener_;
  std::thread thread_;
  unsigned short port_ = 0;
};

TEST_F(Doorway, TheStalestConnectionMakesRoomForANewOne) {
  limits.connections = 2;
  open();
  tcp::socket first = connect();
  tcp::socket second = connect();
  ASSERT_THAT(get(first), StartsWith("HTTP/1.1 200"));
  ASSERT_THAT(get(second), StartsWith("HTTP/1.1 200"));
  tcp::socket third = connect();
  EXPECT_THAT(get(third), StartsWith("HTTP/1.1 200"));
  EXPECT_EQ(get(first), "");
  tcp::socket fourth = connect();
  EXPECT_THAT(get(fourth), StartsWith("HTTP/1.1 200"));
}

TEST_F(Doorway, StrangersNeverPushOutWhoIsKnown) {
  limits.connections = 4;
  open();
  tcp::socket tablet = connect();
  const std::string token = "Authorization: Bearer 12\r\n";
  ASSERT_THAT(get(tablet, token), StartsWith("HTTP/1.1 200"));
  std::vector<tcp::socket> strangers;
  for (int i = 0; i < 20; ++i) {
    strangers.push_back(connect());
    EXPECT_THAT(get(strangers.back()), StartsWith("HTTP/1.1 200"));
  }
  EXPECT_EQ(get(strangers.front()), "");
  EXPECT_EQ(get(strangers[15]), "");
  EXPECT_THAT(get(tablet, token), StartsWith("HTTP/1.1 200"));
  EXPECT_THAT(get(strangers.back()), StartsWith("HTTP/1.1 200"));
}

TEST_F(Doorway, AMachineOfVersion4IsTheSameThroughASocketOfVersion6) {
  open(asio::ip::address_v6::any());
  tcp::socket one = connect();
  ASSERT_THAT(get(one), StartsWith("HTTP/1.1 200"));
  EXPECT_EQ(remote(), "127.0.0.1");
}

}  // namespace
}  // namespace swardwalk::server
