#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <boost/json.hpp>

#include "server/shed/router.h"
#include "tests/server/course.h"
#include "tests/server/folder.h"

// A manager decides otherwise on the review page.
namespace swardwalk::server {
namespace {

namespace json = boost::json;
using testing::HasSubstr;

class Choosing : public testing::Test {
 protected:
  Choosing() {
    const std::string data = folder / "data";
    const Printed taken = runHere({"import", "--data", data.c_str(), brindlewater.c_str()});
    EXPECT_EQ(taken.status, 0) << taken.err;
    auto opened = Shed::open(data, [] { return std::int64_t{1807531200000}; });  // 2027-04-12, noon
    EXPECT_TRUE(opened) << opened.error().text();
    shed = std::move(*opened);
    patch = std::string(row(0).at("patch").as_string());
  }

  Response ask(Method method, const std::string& target, const std::string& body) {
    Request request;
    request.method = method;
    request.host = "localhost";
    request.target = target;
    request.contentType = method == Method::post ? "application/json" : "";
    request.body = body;
    const Caller caller{Door::guarded, true, {}, Person{"Ann", role}};
    if (auto refusal = refuseByHeader(request, caller, body.size())) return *refusal;
    return handleRequest(*shed, request, caller);
  }

  Response choose(std::string_view choice, std::string_view more = "") {
    return ask(Method::post, "/api/choose",
               fmt::format(R"({{"patch":"{}","choice":"{}"{}}})", patch, choice, more));
  }

  json::object page() { return json::parse(ask(Method::get, "/api/repairs", "").body).as_object(); }

  /// Of the first green; the patch with its number, whether to do or left alone.
  json::object row(std::size_t number) {
    const json::object green = page().at("greens").at(0).as_object();
    json::array rows = green.at("todo").as_array();
    for (const json::value& left : green.at("left").as_array()) rows.push_back(left);
    return rows.at(number).as_object();
  }

  json::object chosen() {
    for (std::size_t i = 0;; ++i) {
      if (json::object one = row(i); one.at("patch").as_string() == patch) return one;
    }
  }

  json::array options() { return chosen().at("options").as_array(); }

  TestFolder folder;
  std::unique_ptr<Shed> shed;
  Role role = Role::manager;
  std::string patch;
};

TEST_F(Choosing, AManagersChoiceStandsInThePlanWithItsNameItsReasonAndWhoDoesIt) {
  const json::object before = chosen();
  ASSERT_FALSE(before.at("by_person").as_bool());
  ASSERT_EQ(choose("look again", R"(,"why":"The bunker was shaped anew","who":"Tess")").status,
            200U);
  const json::object after = chosen();
  EXPECT_EQ(after.at("choice").as_string(), "Look again");
  EXPECT_EQ(after.at("chosen_by").as_string(), "chosen by Ann");
  EXPECT_EQ(after.at("reason").as_string(), "The bunker was shaped anew.");
  EXPECT_EQ(after.at("who").as_string(), "Tess");
  EXPECT_THAT(json::serialize(page().at("work")), HasSubstr("Tess:"));
  EXPECT_THAT(json::serialize(page().at("crew")), HasSubstr("\"Tess\""));
}

TEST_F(Choosing, WhatIsAdvisedStaysMarkedBesideWhatIsChosen) {
  std::string advised;
  for (const json::value& option : options()) {
    if (option.at("advised").as_bool()) advised = std::string(option.at("word").as_string());
  }
  ASSERT_FALSE(advised.empty());
  ASSERT_NE(advised, "look again");
  ASSERT_EQ(choose("look again").status, 200U);
  for (const json::value& option : options()) {
    const std::string word(option.at("word").as_string());
    EXPECT_EQ(option.at("advised").as_bool(), word == advised) << word;
    EXPECT_EQ(option.at("chosen").as_bool(), word == "look again") << word;
  }
}

TEST_F(Choosing, FollowingThePlanAgainTakesEveryChoiceBack) {
  const json::object before = chosen();
  ASSERT_EQ(choose("look again").status, 200U);
  ASSERT_EQ(choose("mend the cause first").status, 200U);
  ASSERT_EQ(ask(Method::post, "/api/follow-plan", fmt::format(R"({{"patch":"{}"}})", patch)).status,
            200U);
  EXPECT_EQ(chosen(), before);
}

TEST_F(Choosing, WhatIsNotPossibleIsRefusedWithTheReason) {
  for (std::size_t i = 0;; ++i) {
    const json::object one = row(i);
    for (const json::value& option : one.at("options").as_array()) {
      if (option.at("possible").as_bool()) continue;
      patch = std::string(one.at("patch").as_string());
      const Response answer = choose(std::string(option.at("word").as_string()));
      EXPECT_EQ(answer.status, 409U);
      EXPECT_THAT(answer.body, HasSubstr(std::string(option.at("lines").at(0).as_string())));
      EXPECT_FALSE(chosen().at("by_person").as_bool());
      return;
    }
  }
}

TEST_F(Choosing, NonsenseIsRefusedAndWritesNothing) {
  const std::uint64_t before = shed->journal().changeCount();
  EXPECT_EQ(choose("paint it green").status, 400U);
  EXPECT_EQ(choose("leave", fmt::format(R"(,"who":"{}")", std::string(121, 'a'))).status, 400U);
  for (const char* body : {"", "[]", "{", R"({"patch":7})", R"({"patch":"nowhere"})"}) {
    EXPECT_EQ(ask(Method::post, "/api/choose", body).status, 404U) << body;
    EXPECT_EQ(ask(Method::post, "/api/follow-plan", body).status, 404U) << body;
  }
  role = Role::crew;
  EXPECT_EQ(choose("look again").status, 403U);
  EXPECT_EQ(shed->journal().changeCount(), before);
}

}  // namespace
}  // namespace swardwalk::server
