#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <sys/stat.h>

#include "server/tls/server_tls.h"
#include "tests/server/child.h"
#include "tests/server/course.h"
#include "tests/server/folder.h"

namespace swardwalk::server {
namespace {

using testing::HasSubstr;
using testing::Not;
using testing::StartsWith;

const std::vector<std::string> guarded{"--guarded"};

std::string curl(const RunningShed& shed, const std::string& target,
                 const std::string& options = "") {
  return shell(fmt::format("curl --silent --show-error --max-time 20 --insecure {} {}{}", options,
                           shed.address(), target));
}

/// A handshake by another program, with the versions and ciphers that it is told.
std::string handshake(const RunningShed& shed, const std::string& options) {
  return shell(
      fmt::format("openssl s_client -connect 127.0.0.1:{} {} </dev/null", shed.port(), options));
}

/// Makes a certificate and its key with another program; gives what `serve` is told.
std::vector<std::string> madeCertificate(const TestFolder& folder, const std::string& options) {
  const std::string certificate = folder / "given.pem";
  const std::string key = folder / "given.key";
  shell(
      fmt::format("openssl req -x509 -newkey ec -pkeyopt ec_paramgen_curve:P-256 -nodes "
                  "-subj /CN=shed.example -keyout {} -out {} {}",
                  key, certificate, options));
  return {"--guarded", "--certificate", certificate, "--key", key};
}

Ended serveWith(const TestFolder& folder, const std::vector<std::string>& options) {
  std::vector<std::string> arguments{"serve", "--data", folder / "d", "--listen", "127.0.0.1:0"};
  arguments.insert(arguments.end(), options.begin(), options.end());
  return runServer(arguments);
}

TEST(Tls, AnotherClientIsServedThePage) {
  const TestFolder folder;
  const RunningShed shed(folder / "d", guarded);
  EXPECT_THAT(shed.address(), StartsWith("https://"));
  EXPECT_THAT(curl(shed, "/"), HasSubstr("<title>Swardwalk</title>"));
  EXPECT_THAT(curl(shed, "/health"), HasSubstr("open"));
}

TEST(Tls, ShowsTheFingerprintThatAnotherProgramComputes) {
  const TestFolder folder;
  const RunningShed shed(folder / "d", guarded);
  const std::string printed =
      shell("openssl x509 -noout -fingerprint -sha256 -in " + (folder / "d") + "/tls.pem");
  const auto other = parseFingerprint(printed.substr(printed.find('=') + 1, 32 * 3 - 1));
  ASSERT_TRUE(other) << printed;
  EXPECT_EQ(written(*other), shed.fingerprint());
}

TEST(Tls, TheCertificateStaysAndIsItsOwnersAlone) {
  const TestFolder folder;
  std::string first;
  {
    const RunningShed shed(folder / "d", guarded);
    first = shed.fingerprint();
  }
  const RunningShed again(folder / "d", guarded);
  EXPECT_EQ(again.fingerprint(), first);
  struct stat about {};
  ASSERT_EQ(::stat((folder / "d/tls.pem").c_str(), &about), 0);
  EXPECT_EQ(about.st_mode & 0777U, 0600U);
}

TEST(Tls, SpeaksVersions13And12AndNoOlder) {
  const TestFolder folder;
  const RunningShed shed(folder / "d", guarded);
  EXPECT_THAT(handshake(shed, ""), HasSubstr("TLSv1.3"));
  EXPECT_THAT(handshake(shed, "-tls1_2"), HasSubstr("Protocol  : TLSv1.2"));
  for (const char* old : {"-tls1_1 -cipher ALL:@SECLEVEL=0", "-tls1 -cipher ALL:@SECLEVEL=0"}) {
    EXPECT_THAT(handshake(shed, old), HasSubstr("Cipher is (NONE)")) << old;
  }
}

TEST(Tls, Takes12OnlyWithForwardSecrecyAndAuthenticatedEncryption) {
  const TestFolder folder;
  const RunningShed shed(folder / "d", guarded);
  EXPECT_THAT(handshake(shed, "-tls1_2 -cipher ECDHE-ECDSA-AES128-GCM-SHA256"),
              HasSubstr("Cipher is ECDHE-ECDSA-AES128-GCM-SHA256"));
  for (const char* weak :
       {"ECDHE-ECDSA-AES128-SHA", "AES128-GCM-SHA256", "ECDHE-ECDSA-AES256-SHA384"}) {
    EXPECT_THAT(handshake(shed, fmt::format("-tls1_2 -cipher {}", weak)),
                HasSubstr("Cipher is (NONE)"))
        << weak;
  }
}

TEST(Tls, DoesNotRenegotiate) {
  const TestFolder folder;
  const RunningShed shed(folder / "d", guarded);
  const std::string said = shell(fmt::format(
      "(echo R; sleep 2) | openssl s_client -connect 127.0.0.1:{} -tls1_2", shed.port()));
  EXPECT_THAT(said, HasSubstr("RENEGOTIATING"));
  EXPECT_THAT(said, HasSubstr("no renegotiation"));
  EXPECT_THAT(curl(shed, "/health"), HasSubstr("open"));
}

TEST(Tls, PlainHttpIsRefusedWithTheReason) {
  const TestFolder folder;
  const RunningShed shed(folder / "d", guarded);
  const std::string answer = get(shed.port(), "/");
  EXPECT_THAT(answer, StartsWith("HTTP/1.1 400 "));
  EXPECT_THAT(answer, HasSubstr("https://"));
  EXPECT_THAT(answer, Not(HasSubstr("<title>")));
}

TEST(Tls, OneConnectionServesSeveralRequestsAndEndsProperly) {
  const TestFolder folder;
  const RunningShed shed(folder / "d", guarded);
  const std::string twice = shell(fmt::format(
      "printf 'GET /health HTTP/1.1\\r\\nHost: x\\r\\n\\r\\nGET /health HTTP/1.1\\r\\nHost: x\\r\\n"
      "Connection: close\\r\\n\\r\\n' | openssl s_client -quiet -ign_eof -connect 127.0.0.1:{}",
      shed.port()));
  const std::size_t first = twice.find("HTTP/1.1 200");
  ASSERT_NE(first, std::string::npos) << twice;
  EXPECT_NE(twice.find("HTTP/1.1 200", first + 1), std::string::npos) << twice;
  // A connection that ends without a goodbye could have been cut by anybody.
  EXPECT_THAT(twice, Not(HasSubstr("unexpected eof")));
}

TEST(Tls, AStrangerGetsNoRecordsAndBringsNone) {
  const TestFolder folder;
  ASSERT_EQ(runServer({"import", "--data", folder / "d", brindlewater}).status, 0);
  const RunningShed shed(folder / "d", guarded);
  EXPECT_THAT(curl(shed, "/api/overview"), HasSubstr("not_let_in"));
  const Ended ended = runServer({"exchange", "--data", folder / "t", "--with", shed.address(),
                                 "--fingerprint", shed.fingerprint()});
  EXPECT_EQ(ended.status, 1);
  EXPECT_THAT(ended.err, HasSubstr("does not know who asks"));
  EXPECT_THAT(ended.out, HasSubstr("0 records received"));
}

TEST(Tls, ExchangeWantsToKnowWhoseCertificateItIs) {
  const TestFolder folder;
  const RunningShed shed(folder / "d", guarded);
  const Ended unnamed = runServer({"exchange", "--data", folder / "t", "--with", shed.address()});
  EXPECT_EQ(unnamed.status, 1);
  EXPECT_THAT(unnamed.err, HasSubstr("--fingerprint"));
  const std::string wrong(64, '0');
  const Ended other = runServer(
      {"exchange", "--data", folder / "t", "--with", shed.address(), "--fingerprint", wrong});
  EXPECT_EQ(other.status, 1);
  EXPECT_THAT(other.err, HasSubstr("this is not the shed that was met before"));
  // A wrong one is not kept, so that the right one is still asked for.
  const Ended again = runServer({"exchange", "--data", folder / "t", "--with", shed.address()});
  EXPECT_THAT(again.err, HasSubstr("was not met before"));
}

TEST(Tls, ExchangeRemembersTheCertificateAndSaysThatItChanged) {
  const TestFolder folder;
  std::string listen;
  {
    const RunningShed shed(folder / "d", guarded);
    listen = shed.address().substr(8);
    runServer({"exchange", "--data", folder / "t", "--with", shed.address(), "--fingerprint",
               shed.fingerprint()});
    const Ended known = runServer({"exchange", "--data", folder / "t", "--with", shed.address()});
    EXPECT_THAT(known.err, HasSubstr("does not know who asks"));
  }
  std::filesystem::remove(folder / "d/tls.pem");
  Child changed({"serve", "--data", folder / "d", "--listen", listen, "--guarded"});
  ASSERT_FALSE(changed.readLine().empty());
  const Ended stopped =
      runServer({"exchange", "--data", folder / "t", "--with", "https://" + listen});
  EXPECT_EQ(stopped.status, 1);
  EXPECT_THAT(stopped.err, HasSubstr("nothing was sent"));
}

TEST(Tls, AGivenCertificateIsUsed) {
  const TestFolder folder;
  const RunningShed shed(folder / "d", madeCertificate(folder, "-days 30"));
  EXPECT_THAT(handshake(shed, ""), HasSubstr("shed.example"));
  EXPECT_FALSE(std::filesystem::exists(folder / "d/tls.pem"));
}

TEST(Tls, ACertificateOutsideItsDatesIsRefused) {
  const TestFolder folder;
  constexpr std::int64_t day_ms = 86'400'000;
  constexpr std::int64_t made_ms = 1807531200000;
  const auto files = ownCertificate(folder.path(), {}, made_ms);
  ASSERT_TRUE(files) << files.error().text();
  EXPECT_TRUE(ServerTls::load(*files, made_ms + 3650 * day_ms));
  const auto expired = ServerTls::load(*files, made_ms + 3660 * day_ms);
  ASSERT_FALSE(expired);
  EXPECT_THAT(expired.error().text(), HasSubstr("was valid until"));
  const auto early = ServerTls::load(*files, made_ms - 2 * day_ms);
  ASSERT_FALSE(early);
  EXPECT_THAT(early.error().text(), HasSubstr("valid from"));
}

TEST(Tls, AKeyOfAnotherCertificateIsSaidAtTheStart) {
  const TestFolder folder;
  auto options = madeCertificate(folder, "-days 30");
  options.back() = folder / "other.key";
  shell("openssl genpkey -algorithm EC -pkeyopt ec_paramgen_curve:P-256 -out " + options.back());
  const Ended ended = serveWith(folder, options);
  EXPECT_EQ(ended.status, 1);
  EXPECT_THAT(ended.err, HasSubstr("no key in PEM that belongs to the certificate"));
}

TEST(Tls, WhatIsNoCertificateOrNotThereIsSaidAtTheStart) {
  const TestFolder folder;
  const std::string file = writeText(folder / "x.pem", "not a certificate");
  const Ended wrong = serveWith(folder, {"--guarded", "--certificate", file, "--key", file});
  EXPECT_EQ(wrong.status, 1);
  EXPECT_THAT(wrong.err, HasSubstr("this is no certificate in PEM"));
  const Ended missing =
      serveWith(folder, {"--guarded", "--certificate", folder / "y.pem", "--key", file});
  EXPECT_EQ(missing.status, 1);
  EXPECT_THAT(missing.err, HasSubstr("cannot be read"));
  EXPECT_EQ(serveWith(folder, {"--certificate", file}).status, 2);
}

TEST(Fingerprint, IsReadInEveryUsualWriting) {
  const std::string plain(64, 'a');
  EXPECT_TRUE(parseFingerprint(plain));
  EXPECT_TRUE(parseFingerprint(std::string(64, 'A')));
  std::string colons = "AA";
  for (int i = 1; i < 32; ++i) colons += ":AA";
  EXPECT_EQ(parseFingerprint(colons), parseFingerprint(plain));
  for (const std::string& wrong :
       {std::string(), std::string(62, 'a'), std::string(66, 'a'), std::string(64, 'g'),
        ":" + plain, plain + ":", "a:" + std::string(63, 'a')}) {
    EXPECT_FALSE(parseFingerprint(wrong)) << wrong;
  }
}

}  // namespace
}  // namespace swardwalk::server
