#include "server/http/message.h"

#include <gtest/gtest.h>

#include "server/http/endpoint.h"
#include "server/http/gzip.h"
#include "server/http/listener.h"

namespace swardwalk::server {
namespace {

TEST(Address, IsDecodedOnlyWhereItIsText) {
  EXPECT_EQ(decodePercent("North%207"), "North 7");
  EXPECT_EQ(decodePercent("Gr%C3%BCn"), "Grün");
  EXPECT_EQ(decodePercent("a+b"), "a+b");
  EXPECT_EQ(decodePercent("%"), std::nullopt);
  EXPECT_EQ(decodePercent("%4"), std::nullopt);
  EXPECT_EQ(decodePercent("%4G"), std::nullopt);
  EXPECT_EQ(decodePercent("%00"), std::nullopt);
  EXPECT_EQ(decodePercent("%C3"), std::nullopt);
}

TEST(Address, GivesItsPathAndQuery) {
  Request request;
  request.target = "/api/patch?x=1&patch=N%207&y=";
  EXPECT_EQ(request.path(), "/api/patch");
  EXPECT_EQ(request.query("patch"), "N 7");
  EXPECT_EQ(request.query("y"), "");
  EXPECT_EQ(request.query("pat"), std::nullopt);
  request.target = "/";
  EXPECT_EQ(request.query("patch"), std::nullopt);
}

TEST(Endpoint, IsReadAndWritten) {
  for (const char* text : {"127.0.0.1:8137", "localhost:0", "[::1]:65535"}) {
    const auto endpoint = parseEndpoint(text);
    ASSERT_TRUE(endpoint) << text;
    EXPECT_EQ(written(*endpoint), text);
  }
}

TEST(Endpoint, IsRefusedWhereItIsNone) {
  for (const char* text : {"", "127.0.0.1", ":8137", "127.0.0.1:", "127.0.0.1:65536",
                           "127.0.0.1:-1", "127.0.0.1:8137x", "::1:8137"}) {
    EXPECT_FALSE(parseEndpoint(text)) << text;
  }
}

TEST(ListenAddress, IsANumberOrThisMachine) {
  EXPECT_TRUE(listenAddress({"localhost", 1})->address().is_loopback());
  EXPECT_TRUE(listenAddress({"::1", 1})->address().is_loopback());
  EXPECT_FALSE(listenAddress({"192.0.2.7", 1})->address().is_loopback());
  EXPECT_FALSE(listenAddress({"0.0.0.0", 1})->address().is_loopback());
  const auto refused = listenAddress({"shed.example", 1});
  ASSERT_FALSE(refused);
  EXPECT_EQ(refused.error().kind, FailureKind::invalid);
}

TEST(Answer, IsZippedOnlyForThoseWhoTakeItAndGainByIt) {
  Request request;
  Response response;
  response.body = std::string(4000, 'x');
  zipIfWorthIt(request, response);
  EXPECT_EQ(response.body.size(), 4000U);
  request.takesGzip = true;
  zipIfWorthIt(request, response);
  EXPECT_LT(response.body.size(), 100U);
  EXPECT_EQ(response.body.substr(0, 2), "\x1f\x8b");  // RFC 1952, 2.3.1
  Response small;
  small.body = "small";
  zipIfWorthIt(request, small);
  EXPECT_EQ(small.body, "small");
}

}  // namespace
}  // namespace swardwalk::server
