#include "common/exchange/pairing.h"

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <sys/stat.h>

#include <boost/json.hpp>

#include "tests/server/child.h"
#include "tests/server/course.h"
#include "tests/server/folder.h"

namespace swardwalk::server {
namespace {

namespace json = boost::json;
using testing::HasSubstr;
using testing::Not;

json::object printed(const Ended& ended) {
  EXPECT_EQ(ended.status, 0) << ended.err;
  return json::parse(ended.out).as_object();
}

std::string textAt(const json::object& object, const char* key) {
  return object.at(key).as_string().c_str();
}

/// A guarded shed with a course, and tablets as folders beside it.
class Pairing : public testing::Test {
 protected:
  Pairing() {
    EXPECT_EQ(runServer({"import", "--data", data, brindlewater}).status, 0);
    shed.emplace(data, std::vector<std::string>{"--guarded"});
  }

  std::string newCode() {
    return textAt(printed(runServer({"pair", "--data", data, "--format", "json"})), "code");
  }

  Ended exchange(const std::string& tablet, const std::vector<std::string>& more = {}) {
    std::vector<std::string> arguments{"exchange", "--data", folder / tablet, "--with",
                                       shed->address()};
    arguments.insert(arguments.end(), more.begin(), more.end());
    return runServer(arguments);
  }

  Ended pair(const std::string& tablet, const std::string& code) {
    return exchange(tablet,
                    {"--code", code, "--fingerprint", shed->fingerprint(), "--device", tablet});
  }

  /// Writes one record on the tablet.
  void addMark(const std::string& tablet, const std::string& name) {
    const std::string file = writeText(
        folder / (name + ".geojson"),
        fmt::format(R"({{"type":"FeatureCollection","features":[{{"type":"Feature","geometry":)"
                    R"({{"type":"Point","coordinates":[-30.0,40.0]}},"properties":)"
                    R"({{"role":"mark","name":"{}"}}}}]}})",
                    name));
    EXPECT_EQ(runServer({"import", "--data", folder / tablet, file}).status, 0);
  }

  std::string stateOfShed() { return runServer({"export", "--data", data, "--as", "geojson"}).out; }

  std::uint64_t recordsOfShed() {
    return json::parse(runServer({"check", "--data", data, "--format", "json"}).out)
        .at("records")
        .to_number<std::uint64_t>();
  }

  TestFolder folder;
  std::string data = folder / "shed";
  std::optional<RunningShed> shed;
};

TEST_F(Pairing, APairedDeviceExchangesAndIsRemembered) {
  const Ended first = pair("t", newCode());
  EXPECT_EQ(first.status, 0) << first.err;
  EXPECT_THAT(first.out, Not(HasSubstr(" 0 records received")));
  addMark("t", "Peg 1");
  const Ended again = exchange("t");
  EXPECT_EQ(again.status, 0) << again.err;
  // Whoever gave the code vouched for it: its records count at once (X5).
  EXPECT_THAT(stateOfShed(), HasSubstr("Peg 1"));
  EXPECT_THAT(runServer({"devices", "--data", data}).out, HasSubstr("paired  t"));
}

TEST_F(Pairing, ACodeWorksOnce) {
  const std::string code = newCode();
  ASSERT_EQ(pair("t", code).status, 0);
  const Ended second = pair("u", code);
  EXPECT_EQ(second.status, 1);
  EXPECT_THAT(second.err, HasSubstr("wrong, used, or older"));
  EXPECT_THAT(second.out, HasSubstr("0 records received"));
  EXPECT_EQ(exchange("u").status, 1);
}

TEST_F(Pairing, TheCodeIsShownWithWhatATabletNeeds) {
  const json::object shown = printed(runServer({"pair", "--data", data, "--format", "json"}));
  EXPECT_EQ(textAt(shown, "address"), shed->address() + "/");
  EXPECT_EQ(textAt(shown, "fingerprint"), shed->fingerprint());
  EXPECT_THAT(textAt(shown, "ends"), HasSubstr("+00:00"));
  EXPECT_TRUE(exchange::parseCode(textAt(shown, "code")));
}

TEST_F(Pairing, WrongCodesAreSlowedDown) {
  std::string last;
  for (int i = 0; i < 6; ++i) last = pair("t", fmt::format("0000-000{}", i)).err;
  EXPECT_THAT(last, HasSubstr("Too many wrong codes"));
  // The page is served all the same.
  EXPECT_THAT(shell("curl --silent --insecure " + shed->address() + "/health"), HasSubstr("open"));
}

TEST_F(Pairing, ATokenIsOfNoUseUnderAnotherKey) {
  ASSERT_EQ(pair("t", newCode()).status, 0);
  ASSERT_EQ(pair("u", newCode()).status, 0);
  std::filesystem::copy_file(folder / "t/sheds.json", folder / "u/sheds.json",
                             std::filesystem::copy_options::overwrite_existing);
  addMark("u", "Peg 2");
  const Ended other = exchange("u");
  EXPECT_EQ(other.status, 1);
  EXPECT_THAT(other.err, HasSubstr("under another key"));
  EXPECT_THAT(stateOfShed(), Not(HasSubstr("Peg 2")));
}

TEST_F(Pairing, ADeviceThatWasShutOutIsRefusedAtOnceAndWhatItDeliveredStays) {
  ASSERT_EQ(pair("t", newCode()).status, 0);
  addMark("t", "Peg 1");
  ASSERT_EQ(exchange("t").status, 0);
  ASSERT_EQ(runServer({"shut-out", "--data", data, "t"}).status, 0);
  addMark("t", "Peg 2");
  const Ended refused = exchange("t");
  EXPECT_EQ(refused.status, 1);
  EXPECT_THAT(refused.err, HasSubstr("was shut out"));
  EXPECT_THAT(stateOfShed(), HasSubstr("Peg 1"));
  EXPECT_THAT(stateOfShed(), Not(HasSubstr("Peg 2")));
}

TEST_F(Pairing, WhatItWritesLaterWaitsForAManagerByWhicheverWayItComes) {
  ASSERT_EQ(pair("t", newCode()).status, 0);
  addMark("t", "Peg 1");
  ASSERT_EQ(exchange("t").status, 0);
  ASSERT_EQ(runServer({"shut-out", "--data", data, "t"}).status, 0);
  addMark("t", "Peg 2");
  const std::uint64_t before = recordsOfShed();
  // By a stick, carried to the shed itself.
  const std::string stick = folder / "stick";
  runServer({"exchange", "--data", folder / "t", "--with", stick});
  const Ended carried = runServer({"exchange", "--data", data, "--with", stick});
  EXPECT_THAT(carried.err, HasSubstr("which was shut out"));
  EXPECT_EQ(recordsOfShed(), before);
  // By another tablet.
  ASSERT_EQ(pair("u", newCode()).status, 0);
  const std::string other = folder / "other-stick";
  runServer({"exchange", "--data", folder / "t", "--with", other});
  runServer({"exchange", "--data", folder / "u", "--with", other});
  EXPECT_THAT(exchange("u").err, HasSubstr("waits until a manager accepts it"));
  // By itself, after it was found and paired again.
  EXPECT_THAT(pair("t", newCode()).err, HasSubstr("waits until a manager accepts it"));
  EXPECT_THAT(stateOfShed(), Not(HasSubstr("Peg 2")));
  ASSERT_EQ(runServer({"accept", "--data", data, "t"}).status, 0);
  EXPECT_EQ(exchange("t").status, 0);
  EXPECT_THAT(stateOfShed(), HasSubstr("Peg 2"));
}

TEST_F(Pairing, APairedDeviceVouchesForNobodyElse) {
  // A stranger's records come on a paired tablet.
  const std::string stick = folder / "stick";
  ASSERT_EQ(pair("t", newCode()).status, 0);
  runServer({"exchange", "--data", folder / "t", "--with", stick});
  runServer({"exchange", "--data", folder / "stranger", "--with", stick});
  addMark("stranger", "Peg 3");
  runServer({"exchange", "--data", folder / "stranger", "--with", stick});
  runServer({"exchange", "--data", folder / "t", "--with", stick});
  const std::uint64_t before = recordsOfShed();
  EXPECT_EQ(exchange("t").status, 0);
  EXPECT_GT(recordsOfShed(), before);
  EXPECT_THAT(stateOfShed(), Not(HasSubstr("Peg 3")));
}

TEST_F(Pairing, ABlankTabletPairsWithABlankShed) {
  const RunningShed blank(folder / "blank", {"--guarded"});
  const std::string code =
      textAt(printed(runServer({"pair", "--data", folder / "blank", "--format", "json"})), "code");
  const Ended met = runServer({"exchange", "--data", folder / "b", "--with", blank.address(),
                               "--code", code, "--fingerprint", blank.fingerprint()});
  EXPECT_EQ(met.status, 0) << met.err;
  addMark("b", "Peg 4");
  EXPECT_EQ(runServer({"exchange", "--data", folder / "b", "--with", blank.address()}).status, 0);
  EXPECT_THAT(runServer({"export", "--data", folder / "blank", "--as", "geojson"}).out,
              HasSubstr("Peg 4"));
}

TEST_F(Pairing, NoSecretLiesInTheShedsFilesOrItsLog) {
  const std::string code = newCode();
  const std::string plainCode = *exchange::parseCode(code);
  ASSERT_EQ(pair("t", code).status, 0);
  const auto remembered = json::parse(contentOf(folder / "t/sheds.json")).as_object();
  const std::string token = remembered.begin()->value().as_object().at("token").as_string().c_str();
  shed->child().send(SIGTERM);
  const std::string log = shed->child().finish().err;
  std::string all = log;
  for (const auto& entry : std::filesystem::directory_iterator(data)) {
    all += contentOf(entry.path().string());
  }
  const std::string bytes = [&] {
    const auto raw = journal::parseHex<32>(token);
    return std::string(raw->begin(), raw->end());
  }();
  for (const std::string& secret : {code, plainCode, token, bytes}) {
    EXPECT_EQ(all.find(secret), std::string::npos) << secret;
  }
  struct stat about {};
  ASSERT_EQ(::stat((data + "/door.sqlite").c_str(), &about), 0);
  EXPECT_EQ(about.st_mode & 0777U, 0600U);
}

TEST_F(Pairing, WrongUseIsSaidInOneLine) {
  EXPECT_EQ(exchange("t", {"--code", "no code"}).status, 2);
  EXPECT_EQ(runServer({"exchange", "--data", folder / "t", "--with", folder / "stick", "--code",
                       "0000-0000"})
                .status,
            2);
  const Ended nobody = runServer({"shut-out", "--data", data, "nobody"});
  EXPECT_EQ(nobody.status, 1);
  EXPECT_THAT(nobody.err, HasSubstr("there is no such device"));
  EXPECT_EQ(runServer({"pair", "--data", folder / "none"}).status, 1);
}

}  // namespace
}  // namespace swardwalk::server
