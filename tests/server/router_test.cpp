#include "server/shed/router.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <boost/json.hpp>

#include "common/exchange/compression.h"
#include "common/exchange/message.h"
#include "server/http/session.h"
#include "server/shed/routes.h"
#include "tests/server/course.h"
#include "tests/server/folder.h"

namespace swardwalk::server {
namespace {

namespace json = boost::json;
using testing::HasSubstr;

std::string field(const Response& response, std::string_view name) {
  for (const auto& [key, value] : response.fields) {
    if (key == name) return value;
  }
  return {};
}

/// As a session and its handler do it.
Response answerAt(Shed& shed, const Request& request, Door door = Door::open) {
  const Caller caller{door, door == Door::guarded, {}, {}};
  if (auto refusal = refuseByHeader(request, caller, request.body.size())) return *refusal;
  if (auto answer = answerWithoutShed(request)) return *answer;
  return handleRequest(shed, request, caller);
}

class Router : public testing::Test {
 protected:
  void open(const std::string& data) {
    auto opened = Shed::open(data, [this] { return now_ms; });
    ASSERT_TRUE(opened) << opened.error().text();
    shed = std::move(*opened);
  }

  void openCourse() {
    const std::string data = folder / "data";
    const Printed taken = runHere({"import", "--data", data.c_str(), brindlewater.c_str()});
    ASSERT_EQ(taken.status, 0) << taken.err;
    open(data);
  }

  Response get(const std::string& target) {
    Request request;
    request.host = "127.0.0.1:8137";
    request.target = target;
    return answerAt(*shed, request);
  }

  json::object object(const std::string& target) {
    const Response response = get(target);
    EXPECT_EQ(response.status, 200U) << target << " " << response.body;
    return json::parse(response.body).as_object();
  }

  Response post(const std::string& body, const std::string& type = exchange::zstdType) {
    Request request;
    request.method = Method::post;
    request.host = "localhost";
    request.target = "/exchange";
    request.contentType = type;
    request.body = body;
    return answerAt(*shed, request);
  }

  TestFolder folder;
  std::int64_t now_ms = 1807531200000;  // 2027-04-12, noon
  std::unique_ptr<Shed> shed;
};

TEST_F(Router, RefusesWhatIsNotThereInJson) {
  open(folder / "data");
  for (const char* target : {"/api", "/api/mow", "/assets/0/app.js", "/index.html", "/../etc"}) {
    const Response response = get(target);
    EXPECT_EQ(response.status, 404U) << target;
    const json::object body = json::parse(response.body).as_object();
    EXPECT_EQ(body.at("error"), "not_found");
    EXPECT_TRUE(body.at("reason").is_string());
  }
}

TEST_F(Router, RefusesAnotherMethodAndSaysWhich) {
  open(folder / "data");
  Request request;
  request.host = "localhost";
  request.method = Method::post;
  request.target = "/api/plan";
  const Response onPlan = answerAt(*shed, request);
  EXPECT_EQ(onPlan.status, 405U);
  EXPECT_EQ(field(onPlan, "Allow"), "GET, HEAD");
  const Response onExchange = get("/exchange");
  EXPECT_EQ(onExchange.status, 405U);
  EXPECT_EQ(field(onExchange, "Allow"), "POST");
}

TEST_F(Router, AnswersOnlyToThisMachinesOwnName) {
  open(folder / "data");
  Request request;
  request.target = "/";
  for (const char* host : {"127.0.0.1:8137", "localhost", "[::1]:8137"}) {
    request.host = host;
    EXPECT_EQ(answerAt(*shed, request).status, 200U) << host;
  }
  for (const char* host : {"", "shed.example", "localhost.example", "[::2]"}) {
    request.host = host;
    EXPECT_EQ(answerAt(*shed, request).status, 421U) << host;
  }
}

TEST_F(Router, BehindTheDoorNobodyUnknownGetsMoreThanThePageAndItsFiles) {
  openCourse();
  std::vector<std::string> toAll;
  for (const Route& route : routes) {
    Request request;
    request.host = "shed.example:8137";
    request.method = route.takes == Takes::post ? Method::post : Method::get;
    request.target = std::string(route.path);
    request.contentType = exchange::zstdType;
    const Response response = answerAt(*shed, request, Door::guarded);
    if (response.status != 401U) toAll.emplace_back(route.path);
  }
  EXPECT_THAT(toAll, testing::ElementsAre("/", "/assets/", "/health", "/sign-in", "/pair"));
}

TEST(Routes, MetricsAreForTheMachineItselfAndForManagers) {
  const auto isRefused = [](const std::string& remote, std::optional<Role> role) {
    Request request;
    request.target = "/metrics";
    request.remote = remote;
    Caller caller;
    if (role) caller.person = Person{"Somebody", *role};
    return refuseByHeader(request, caller, 0).has_value();
  };
  EXPECT_FALSE(isRefused("127.0.0.1", std::nullopt));
  EXPECT_FALSE(isRefused("::1", std::nullopt));
  EXPECT_FALSE(isRefused("192.0.2.9", Role::manager));
  EXPECT_TRUE(isRefused("192.0.2.9", Role::crew));
  EXPECT_TRUE(isRefused("192.0.2.9", std::nullopt));
  EXPECT_TRUE(isRefused("", std::nullopt));
}

TEST(Routes, WhoMayUseWhat) {
  std::map<std::string, Access> table;
  for (const Route& route : routes) table[std::string(route.path)] = route.access;
  const Access everybody = Access::everybody;
  const Access manager = Access::manager;
  const Access crew = Access::crew;
  const std::map<std::string, Access> wanted{{"/", everybody},
                                             {"/assets/", everybody},
                                             {"/health", everybody},
                                             {"/metrics", Access::machine},
                                             {"/sign-in", everybody},
                                             {"/pair", everybody},
                                             {"/exchange", Access::device},
                                             {"/photos/", Access::device},
                                             {"/photo/", crew},
                                             {"/api/me", crew},
                                             {"/sign-out", crew},
                                             {"/sign-out-everywhere", crew},
                                             {"/api/overview", crew},
                                             {"/api/repairs", crew},
                                             {"/api/progress", crew},
                                             {"/api/plan", crew},
                                             {"/api/patch", crew},
                                             {"/api/greens/", crew},
                                             {"/api/devices", manager},
                                             {"/api/pairing", manager},
                                             {"/api/shut-out", manager},
                                             {"/api/accept", manager},
                                             {"/api/choose", manager},
                                             {"/api/follow-plan", manager}};
  EXPECT_EQ(table, wanted);
}

TEST(Routes, APathIsTakenAsItStands) {
  for (const char* path : {"/api/overview/", "/API/overview", "//api/overview", "/api/../api/plan",
                           "/api/%6fverview", "/assets", "api/overview", "", "*"}) {
    EXPECT_EQ(routeOf(path), nullptr) << path;
  }
  EXPECT_EQ(routeOf("/api/greens/North")->id, RouteId::green);
}

TEST_F(Router, SaysThatNothingChangedSinceTheLastLook) {
  openCourse();
  const Response first = get("/api/overview");
  Request again;
  again.host = "localhost";
  again.target = "/api/overview";
  again.etagKnown = field(first, "ETag");
  EXPECT_EQ(answerAt(*shed, again).status, 304U);
  now_ms += 86'400'000;
  const Response tomorrow = answerAt(*shed, again);
  EXPECT_EQ(tomorrow.status, 200U);
  EXPECT_NE(field(tomorrow, "ETag"), field(first, "ETag"));
}

TEST_F(Router, ShowsWhatAnotherProcessTookIn) {
  const std::string data = folder / "data";
  open(data);
  EXPECT_TRUE(object("/api/overview").at("greens").as_array().empty());
  ASSERT_EQ(runHere({"import", "--data", data.c_str(), brindlewater.c_str()}).status, 0);
  EXPECT_EQ(object("/api/overview").at("greens").as_array().size(), 2U);
}

TEST_F(Router, GivesTheSameProgressAndPlanAsTheCommands) {
  openCourse();
  const std::string data = folder / "data";
  for (const char* what : {"progress", "plan"}) {
    const Printed printed =
        runHere({what, "--data", data.c_str(), "--format", "json", "--on", lookDay.c_str()});
    EXPECT_EQ(json::parse(get(std::string("/api/") + what).body), json::parse(printed.out)) << what;
  }
}

TEST_F(Router, ShowsAGreenWithItsPlanAndItsPatches) {
  openCourse();
  const json::object page = object("/api/greens/Upper");
  EXPECT_EQ(page.at("patches").as_array().size(), 5U);
  const json::object& plan = page.at("plan").as_object();
  EXPECT_EQ(plan.at("outline").as_array().size(), 1U);
  EXPECT_EQ(plan.at("surrounds").as_array().size(), 1U);
  EXPECT_EQ(plan.at("places").as_array().size(), 5U);
  // The collar of the test course reaches 16 m east of the plane's origin, and a little.
  const json::array& bounds = plan.at("bounds").as_array();
  EXPECT_NEAR(bounds[2].to_number<double>() - bounds[0].to_number<double>(), 33.0, 3.0);
  EXPECT_EQ(get("/api/greens/Nowhere").status, 404U);
  EXPECT_EQ(get("/api/greens/%ff").status, 400U);
}

TEST_F(Router, ShowsAPatchWithItsLifeAndItsRepair) {
  openCourse();
  const json::object patch = object("/api/patch?patch=u2");
  EXPECT_EQ(patch.at("label"), "U2");
  EXPECT_EQ(patch.at("kind"), "washed");
  EXPECT_GE(patch.at("life").as_array().size(), 4U);  // three sightings and a repair
  EXPECT_THAT(patch.at("chart").as_string().c_str(), HasSubstr("<svg"));
  EXPECT_TRUE(patch.at("repair").is_object());
  EXPECT_EQ(get("/api/patch?patch=nobody").status, 404U);
  EXPECT_EQ(get("/api/patch").status, 400U);
}

TEST_F(Router, EveryPatchToMendStandsInTheRepairsOnce) {
  openCourse();
  const json::object page = object("/api/repairs");
  std::size_t rows = 0;
  for (const json::value& green : page.at("greens").as_array()) {
    rows += green.at("todo").as_array().size() + green.at("left").as_array().size();
  }
  EXPECT_EQ(rows, json::parse(get("/api/plan").body).at("patches").as_array().size());
}

TEST_F(Router, RefusesAnExchangeThatIsNone) {
  open(folder / "data");
  EXPECT_EQ(post("not zstd").status, 400U);
  EXPECT_EQ(post(exchange::compress("not a message\n")).status, 400U);
  EXPECT_EQ(post("not a message\n", exchange::plainType).status, 400U);
  EXPECT_EQ(post("{}", "application/json").status, 415U);
  EXPECT_EQ(shed->journal().recordCount(), 0U);
}

TEST_F(Router, FoundsACourseWhenTwoBlankOnesMeet) {
  open(folder / "data");
  ASSERT_FALSE(shed->journal().course());
  exchange::Message question;
  question.hello.origin.fill(1);
  question.hello.heads.emplace();
  question.hello.wall_ms = now_ms;
  const Response response = post(exchange::write(question), exchange::plainType);
  ASSERT_EQ(response.status, 200U) << response.body;
  EXPECT_EQ(response.contentType, exchange::plainType);
  // A device asks every few minutes, perhaps over a weak line: nothing for browsers goes along.
  EXPECT_LT(writeHead(response, true).size(), 120U) << writeHead(response, true);
  EXPECT_TRUE(shed->journal().course());
  const auto answer = exchange::readMessage(response.body);
  ASSERT_TRUE(answer) << answer.error().text();
  EXPECT_EQ(answer->hello.course, shed->journal().course());
}

}  // namespace
}  // namespace swardwalk::server
