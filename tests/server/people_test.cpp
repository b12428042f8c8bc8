#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <boost/json.hpp>
#include <optional>

#include "server/door/passwords.h"
#include "server/shed/router.h"
#include "server/shed/routes.h"
#include "server/shed/sign_in_desk.h"
#include "tests/server/child.h"
#include "tests/server/course.h"
#include "tests/server/folder.h"

namespace swardwalk::server {
namespace {

using std::chrono::milliseconds;
using testing::AllOf;
using testing::HasSubstr;
using testing::Not;
using testing::StartsWith;

const std::string managersWord = "a barrow of wet sand";
const std::string crewsWord = "rake the north green";

/// A guarded shed with a manager and one of the crew, asked by another program.
class PeopleShed : public testing::Test {
 protected:
  PeopleShed() {
    EXPECT_EQ(runServer({"import", "--data", data, brindlewater}).status, 0);
    EXPECT_EQ(add("Ann", "manager", managersWord).status, 0);
    EXPECT_EQ(add("Bo", "crew", crewsWord).status, 0);
    shed.emplace(data, std::vector<std::string>{"--guarded"});
  }

  Ended add(const std::string& name, const std::string& role, const std::string& word) {
    const std::string file = writeText(folder / "word", word + "\n");
    return runServer(
        {"people", "--data", data, "add", name, "--role", role, "--password-file", file});
  }

  /// The whole answer; cookies are kept in `jar`.
  std::string curl(const std::string& jar, const std::string& target,
                   const std::string& options = "") {
    return shell(
        fmt::format("curl --silent --show-error --include --max-time 20 --insecure "
                    "--cookie {0} --cookie-jar {0} {1} {2}{3}",
                    folder / jar, options, shed->address(), target));
  }

  std::string post(const std::string& jar, const std::string& target, const std::string& body,
                   const std::string& options = "") {
    return curl(
        jar, target,
        fmt::format("--header 'Content-Type: application/json' --data '{}' {}", body, options));
  }

  std::string signIn(const std::string& jar, const std::string& name, const std::string& word) {
    return post(jar, "/sign-in", fmt::format(R"({{"name":"{}","password":"{}"}})", name, word));
  }

  TestFolder folder;
  std::string data = folder / "shed";
  std::optional<RunningShed> shed;
};

TEST_F(PeopleShed, WhoSignedInSeesThePage) {
  EXPECT_THAT(curl("jar", "/api/overview"), StartsWith("HTTP/1.1 401"));
  EXPECT_THAT(signIn("jar", "ann", managersWord), StartsWith("HTTP/1.1 200"));
  EXPECT_THAT(curl("jar", "/api/overview"), StartsWith("HTTP/1.1 200"));
  EXPECT_THAT(curl("jar", "/api/me"), HasSubstr(R"({"name":"Ann","role":"manager"})"));
}

TEST_F(PeopleShed, TheSessionIsForThePageAlone) {
  const std::string answer = signIn("jar", "Ann", managersWord);
  const std::size_t at = answer.find("Set-Cookie: __Host-session=");
  ASSERT_NE(at, std::string::npos) << answer;
  const std::string cookie = answer.substr(at, answer.find('\r', at) - at);
  EXPECT_THAT(cookie,
              AllOf(HasSubstr("; Secure"), HasSubstr("; HttpOnly"), HasSubstr("; SameSite=Strict"),
                    HasSubstr("Path=/"), Not(HasSubstr("Domain"))));
  EXPECT_THAT(bodyOf(answer), Not(HasSubstr("session")));
}

TEST_F(PeopleShed, AWrongPasswordAndAnUnknownNameAreAnsweredAlike) {
  const std::string wrong = signIn("jar", "Ann", crewsWord);
  EXPECT_THAT(wrong, StartsWith("HTTP/1.1 403"));
  EXPECT_EQ(bodyOf(wrong), bodyOf(signIn("jar", "Nobody", crewsWord)));
  EXPECT_THAT(curl("jar", "/api/overview"), StartsWith("HTTP/1.1 401"));
}

TEST_F(PeopleShed, CrewLooksAndManagesNothing) {
  signIn("bo", "Bo", crewsWord);
  EXPECT_THAT(curl("bo", "/api/overview"), StartsWith("HTTP/1.1 200"));
  EXPECT_THAT(curl("bo", "/api/devices"), StartsWith("HTTP/1.1 403"));
  EXPECT_THAT(post("bo", "/api/pairing", "{}"), StartsWith("HTTP/1.1 403"));
  signIn("ann", "Ann", managersWord);
  EXPECT_THAT(curl("ann", "/api/devices"), StartsWith("HTTP/1.1 200"));
}

TEST_F(PeopleShed, SigningOutEndsThisSessionAndEverywhereAllOfThem) {
  for (const char* jar : {"one", "two", "three"}) signIn(jar, "Ann", managersWord);
  signIn("bo", "Bo", crewsWord);
  EXPECT_THAT(post("one", "/sign-out", "{}"), StartsWith("HTTP/1.1 200"));
  EXPECT_THAT(curl("one", "/api/me"), StartsWith("HTTP/1.1 401"));
  EXPECT_THAT(curl("two", "/api/me"), StartsWith("HTTP/1.1 200"));
  EXPECT_THAT(post("two", "/sign-out-everywhere", "{}"), StartsWith("HTTP/1.1 200"));
  EXPECT_THAT(curl("three", "/api/me"), StartsWith("HTTP/1.1 401"));
  EXPECT_THAT(curl("bo", "/api/me"), StartsWith("HTTP/1.1 200"));
}

TEST_F(PeopleShed, ASessionEndsWithThePersonAndWithTheirPassword) {
  signIn("bo", "Bo", crewsWord);
  ASSERT_EQ(runServer({"people", "--data", data, "remove", "Bo"}).status, 0);
  EXPECT_THAT(curl("bo", "/api/me"), StartsWith("HTTP/1.1 401"));
  signIn("ann", "Ann", managersWord);
  const std::string file = writeText(folder / "word", "another barrow of sand\n");
  ASSERT_EQ(
      runServer({"people", "--data", data, "password", "Ann", "--password-file", file}).status, 0);
  EXPECT_THAT(curl("ann", "/api/me"), StartsWith("HTTP/1.1 401"));
  EXPECT_THAT(signIn("ann", "Ann", managersWord), StartsWith("HTTP/1.1 403"));
}

TEST_F(PeopleShed, AnotherSitesPageWritesNothing) {
  signIn("ann", "Ann", managersWord);
  for (const char* site :
       {"--header 'Sec-Fetch-Site: cross-site'", "--header 'Sec-Fetch-Site: same-site'",
        "--header 'Origin: https://shed.example'", "--header 'Origin: null'"}) {
    EXPECT_THAT(post("ann", "/api/pairing", "{}", site),
                AllOf(StartsWith("HTTP/1.1 403"), HasSubstr("other_site")))
        << site;
  }
  // What a form of another page can send without asking is no JSON.
  EXPECT_THAT(curl("ann", "/api/pairing", "--data x=1"), StartsWith("HTTP/1.1 415"));
  EXPECT_THAT(post("ann", "/api/pairing", "{}",
                   fmt::format("--header 'Sec-Fetch-Site: same-origin' --header 'Origin: {}'",
                               shed->address())),
              StartsWith("HTTP/1.1 200"));
}

TEST_F(PeopleShed, AManagerPairsShutsOutAndAcceptsOnThePage) {
  signIn("ann", "Ann", managersWord);
  const auto code = boost::json::parse(bodyOf(post("ann", "/api/pairing", "{}"))).as_object();
  const Ended paired = runServer({"exchange", "--data", folder / "t", "--with", shed->address(),
                                  "--code", code.at("code").as_string().c_str(), "--fingerprint",
                                  shed->fingerprint(), "--device", "t"});
  ASSERT_EQ(paired.status, 0) << paired.err;
  const auto device = boost::json::parse(bodyOf(curl("ann", "/api/devices")))
                          .at("devices")
                          .as_array()
                          .at(0)
                          .as_object();
  EXPECT_EQ(device.at("name"), "t");
  const std::string named =
      fmt::format(R"({{"origin":"{}"}})", device.at("origin").as_string().c_str());
  EXPECT_THAT(post("ann", "/api/shut-out", named), StartsWith("HTTP/1.1 200"));
  EXPECT_EQ(runServer({"exchange", "--data", folder / "t", "--with", shed->address()}).status, 1);
  EXPECT_THAT(bodyOf(curl("ann", "/api/devices")), HasSubstr("Shut out"));
  EXPECT_THAT(post("ann", "/api/accept", named), StartsWith("HTTP/1.1 200"));
  EXPECT_THAT(bodyOf(curl("ann", "/api/devices")), Not(HasSubstr("Shut out")));
}

TEST_F(PeopleShed, NoPasswordAndNoSessionLieInFilesOrLog) {
  const std::string answer = signIn("jar", "Ann", managersWord);
  const std::size_t at = answer.find("__Host-session=") + 15;
  const std::string session = answer.substr(at, 64);
  signIn("jar", "Ann", "not the right word");
  shed->child().send(SIGTERM);
  std::string all = shed->child().finish().err;
  EXPECT_THAT(all, HasSubstr("could not sign in"));
  for (const auto& entry : std::filesystem::directory_iterator(data)) {
    all += contentOf(entry.path().string());
  }
  for (const std::string& secret : {managersWord, std::string("not the right word"), session}) {
    EXPECT_EQ(all.find(secret), std::string::npos) << secret;
  }
  EXPECT_THAT(all, HasSubstr("$argon2id$"));
}

TEST_F(PeopleShed, EveryAnswerTellsBrowsersToLoadNothingFromElsewhere) {
  signIn("jar", "Ann", managersWord);
  for (const char* target : {"/", "/health", "/api/overview", "/api/devices", "/none"}) {
    EXPECT_THAT(curl("jar", target),
                AllOf(HasSubstr("default-src 'none'"), HasSubstr("frame-ancestors 'none'"),
                      HasSubstr("X-Content-Type-Options: nosniff"),
                      HasSubstr("Referrer-Policy: no-referrer"), Not(HasSubstr("unsafe"))))
        << target;
  }
}

TEST(PeopleCommand, TellsWhatItRefuses) {
  const TestFolder folder;
  const std::string data = folder / "d";
  ASSERT_EQ(runServer({"import", "--data", data, brindlewater}).status, 0);
  const auto people = [&](std::vector<std::string> words) {
    words.insert(words.begin(), {"people", "--data", data});
    return runServer(words);
  };
  const std::string good = writeText(folder / "good", managersWord);
  const std::string small = writeText(folder / "small", "eleven char");
  EXPECT_THAT(people({"add", "Ann", "--role", "manager", "--password-file", small}).err,
              HasSubstr("shorter than 12"));
  EXPECT_EQ(people({"add", "Ann", "--role", "boss", "--password-file", good}).status, 2);
  EXPECT_EQ(people({"add", "Ann", "--role", "manager", "--password-file", good}).status, 0);
  EXPECT_THAT(people({"add", "ANN", "--role", "crew", "--password-file", good}).err,
              HasSubstr("already"));
  EXPECT_EQ(people({"add", "Bo", "--role", "crew", "--password-file", good}).status, 0);
  EXPECT_THAT(people({"remove", "Ann"}).err, HasSubstr("last manager"));
  EXPECT_THAT(people({"remove", "Cy"}).err, HasSubstr("nobody of this name"));
  EXPECT_EQ(people({"list", "--format", "json"}).out,
            R"({"people":[{"name":"Ann","role":"manager"},{"name":"Bo","role":"crew"}]})"
            "\n");
  EXPECT_EQ(people({}).status, 2);
}

TEST(PeopleCommand, ALoopbackShedIsOpenUntilSomebodyIsEntered) {
  const TestFolder folder;
  const std::string data = folder / "d";
  ASSERT_EQ(runServer({"import", "--data", data, brindlewater}).status, 0);
  const RunningShed shed(data);
  EXPECT_THAT(get(shed.port(), "/api/overview"), StartsWith("HTTP/1.1 200"));
  const std::string good = writeText(folder / "good", managersWord);
  ASSERT_EQ(runServer({"people", "--data", data, "add", "Ann", "--role", "manager",
                       "--password-file", good})
                .status,
            0);
  EXPECT_THAT(get(shed.port(), "/api/overview"), StartsWith("HTTP/1.1 401"));
  // Tablets on this machine go on exchanging.
  EXPECT_EQ(runServer({"exchange", "--data", folder / "t", "--with", shed.address()}).status, 0);
}

TEST(Passwords, AreArgon2idAndFitTheirOwnDigestOnly) {
  const std::string digest = passwordDigest(managersWord);
  EXPECT_THAT(digest, StartsWith("$argon2id$v=19$m=19456,t=3,p=1$"));
  EXPECT_TRUE(passwordFits(digest, managersWord));
  EXPECT_FALSE(passwordFits(digest, crewsWord));
  EXPECT_FALSE(passwordFits("", ""));
  EXPECT_NE(digest, passwordDigest(managersWord));
  EXPECT_TRUE(passwordTrouble("aaaaaaaaaaaaaaa", "Ann"));
  EXPECT_TRUE(passwordTrouble("Ann of the shed", "Ann of the shed"));
  std::string tooLong(257, 'a');
  tooLong.back() = 'b';
  EXPECT_TRUE(passwordTrouble(tooLong, "Ann"));
  EXPECT_FALSE(passwordTrouble("zwölf zeichen", "Ann"));
}

/// The desk alone, with clocks that stand still until they are moved.
class Desk : public testing::Test {
 protected:
  Desk() : door(std::move(*DoorFile::open(folder.path()))) {
    EXPECT_TRUE(People(*door).add({"Ann", Role::manager}, passwordDigest(managersWord)));
    desk.emplace(
        std::move(*DoorFile::open(folder.path())), [this] { return now_ms; },
        [this] { return moment; });
  }

  Response ask(const std::string& word, const std::string& remote,
               const std::string& cookies = "") {
    Request request;
    request.remote = remote;
    request.cookies = cookies;
    request.body = fmt::format(R"({{"name":"Ann","password":"{}"}})", word);
    return desk->answer(request);
  }

  static std::string cookieOf(const Response& response, std::string_view name) {
    for (const auto& [field, value] : response.fields) {
      if (field == "Set-Cookie" && value.starts_with(name)) return value.substr(0, value.find(';'));
    }
    return {};
  }

  TestFolder folder;
  std::unique_ptr<DoorFile> door;
  std::int64_t now_ms = 1807531200000;
  Slowing::Moment moment{};
  std::optional<SignInDesk> desk;
};

TEST_F(Desk, AStrangerWhoGuessesDoesNotKeepTheManagerOutOfTheirOwnBrowser) {
  const Response first = ask(managersWord, "192.0.2.1");
  ASSERT_EQ(first.status, 200U);
  const std::string browser = cookieOf(first, browserCookie);
  // Guesses from many addresses: the name itself is slowed down.
  for (int i = 0; i < 12; ++i) ask("a wrong password", fmt::format("192.0.2.{}", 100 + i));
  EXPECT_EQ(ask(managersWord, "192.0.2.2").status, 429U);
  EXPECT_EQ(ask(managersWord, "192.0.2.101", browser).status, 200U);
  moment += milliseconds(40'000);
  EXPECT_EQ(ask(managersWord, "192.0.2.2").status, 200U);
}

TEST_F(Desk, AKnownBrowserThatGuessesIsSlowedDownToo) {
  const std::string browser = cookieOf(ask(managersWord, "192.0.2.1"), browserCookie);
  for (int i = 0; i < 5; ++i) ask("a wrong password", "192.0.2.1", browser);
  EXPECT_EQ(ask(managersWord, "192.0.2.1", browser).status, 429U);
}

TEST_F(Desk, OneAddressIsSlowedDownAndOthersAreNot) {
  for (int i = 0; i < 5; ++i) ask("a wrong password", "192.0.2.1");
  EXPECT_EQ(ask(managersWord, "192.0.2.1").status, 429U);
  EXPECT_EQ(ask(managersWord, "192.0.2.2").status, 200U);
}

TEST_F(Desk, ASessionEndsAfterHalfAnHourUnusedAndAfterHalfADay) {
  Sessions sessions(*door);
  const auto secret = sessions.begin("Ann", now_ms);
  ASSERT_TRUE(secret);
  EXPECT_TRUE(*sessions.whose(*secret, now_ms + 29 * 60'000));
  EXPECT_TRUE(*sessions.whose(*secret, now_ms + 58 * 60'000));
  EXPECT_FALSE(*sessions.whose(*secret, now_ms + 88 * 60'000));
  const auto busy = sessions.begin("Ann", now_ms);
  for (int i = 1; i < 48; ++i) ASSERT_TRUE(*sessions.whose(*busy, now_ms + i * 15 * 60'000)) << i;
  EXPECT_FALSE(*sessions.whose(*busy, now_ms + 48 * 15 * 60'000));
}

TEST_F(Desk, ASessionIsNeverTakenOver) {
  const Response first = ask(managersWord, "192.0.2.1");
  const std::string old = cookieOf(first, sessionCookie);
  const Response second = ask(managersWord, "192.0.2.1", old);
  EXPECT_NE(cookieOf(second, sessionCookie), old);
  Sessions sessions(*door);
  EXPECT_FALSE(*sessions.whose(old.substr(old.find('=') + 1), now_ms));
}

TEST_F(Desk, WhatIsNoFormIsRefused) {
  for (const std::string& body :
       {std::string(), std::string("{}"), std::string("[]"), std::string(2000, '['),
        std::string(R"({"name":1,"password":2})")}) {
    Request request;
    request.body = body;
    EXPECT_EQ(desk->answer(request).status, 400U) << body.substr(0, 20);
  }
}

}  // namespace
}  // namespace swardwalk::server
