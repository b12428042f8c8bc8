#include "server/shed/sign_in_desk.h"

#include <fmt/format.h>
#include <spdlog/spdlog.h>

#include <boost/json.hpp>
#include <exception>

#include "server/door/passwords.h"

namespace swardwalk::server {
namespace {

namespace json = boost::json;

/// Fewer than a hundred wrong tries an hour for one name (OWASP ASVS 4.0.3, 2.2.1).
constexpr SlowingRule nameRule{10, std::chrono::milliseconds(1000),
                               std::chrono::milliseconds(40'000),
                               std::chrono::milliseconds(3'600'000), 4096};

struct Typed {
  std::string name;
  std::string password;
};

std::optional<std::string> textAt(const json::object& object, const char* key) {
  const json::value* value = object.if_contains(key);
  if (!value || !value->is_string()) return std::nullopt;
  return std::string(value->get_string().data(), value->get_string().size());
}

std::optional<Typed> typedIn(const std::string& body) {
  json::error_code error;
  const json::value value = json::parse(body, error);
  if (error || !value.is_object()) return std::nullopt;
  auto name = textAt(value.get_object(), "name");
  auto password = textAt(value.get_object(), "password");
  if (!name || !password) return std::nullopt;
  return Typed{std::move(*name), std::move(*password)};
}

Response waitFirst(std::chrono::milliseconds wait) {
  Response response =
      failureResponse(429, "too_many_tries", "Too many wrong tries. Wait, and then try again.");
  const auto seconds = std::chrono::ceil<std::chrono::seconds>(wait).count();
  response.fields.emplace_back("Retry-After", std::to_string(seconds));
  return response;
}

Response doorFailure(const Failure& failure) {
  spdlog::error("{}", failure.text());
  return failureResponse(500, "door", failure.text());
}

}  // namespace

SignInDesk::SignInDesk(std::unique_ptr<DoorFile> door, Clock clock, Stopwatch stopwatch)
    : door_(std::move(door)),
      people_(*door_),
      sessions_(*door_),
      clock_(std::move(clock)),
      stopwatch_(std::move(stopwatch)),
      byName_(nameRule),
      nobody_(nobodysDigest()) {}

Response SignInDesk::answer(const Request& request) {
  try {
    const auto typed = typedIn(request.body);
    if (!typed) {
      return failureResponse(400, "bad_message", "A name and a password belong here, as JSON.");
    }
    return tryOnce(request, typed->name, typed->password);
  } catch (const std::exception& problem) {
    spdlog::error("signing in: {}", problem.what());
    return busyResponse("The shed has no memory for this now.");
  }
}

Response SignInDesk::tryOnce(const Request& request, const std::string& name,
                             const std::string& password) {
  const auto entry = people_.named(name);
  if (!entry) return doorFailure(entry.error());
  const std::string known = *entry ? (*entry)->person.name : name;
  const auto isAtHome = sessions_.knowsBrowser(request.cookie(browserCookie), known, clock_());
  if (!isAtHome) return doorFailure(isAtHome.error());

  // A browser that is known is counted for itself.
  const std::string place = *isAtHome ? std::string(request.cookie(browserCookie)) : request.remote;
  const Slowing::Moment now = stopwatch_();
  auto wait = byPlace_.wait(place, now);
  if (!*isAtHome) wait = std::max(wait, byName_.wait(known, now));
  if (wait.count() > 0) return waitFirst(wait);

  if (passwordFits(*entry ? (*entry)->digest : nobody_, password) && *entry) {
    byPlace_.succeeded(place);
    return welcome(request, (*entry)->person);
  }
  byPlace_.failed(place, stopwatch_());
  if (!*isAtHome) byName_.failed(known, stopwatch_());
  spdlog::warn("somebody at {} could not sign in", request.remote);
  return failureResponse(403, "wrong_password", "Name and password do not belong together.");
}

Response SignInDesk::welcome(const Request& request, const Person& person) {
  // Whoever was signed in here before is no more: a session never passes from one to another.
  if (const auto old = request.cookie(sessionCookie); !old.empty()) {
    if (auto ended = sessions_.end(old); !ended) return doorFailure(ended.error());
  }
  const auto session = sessions_.begin(person.name, clock_());
  if (!session) return doorFailure(session.error());
  const auto browser = sessions_.rememberBrowser(person.name, clock_());
  if (!browser) return doorFailure(browser.error());
  spdlog::info("a {} signed in at {}", roleName(person.role), request.remote);
  Response response;
  const std::string_view role = roleName(person.role);
  response.body = json::serialize(
      json::object{{"name", person.name}, {"role", json::string_view(role.data(), role.size())}});
  response.fields.emplace_back("Cache-Control", "no-store");
  constexpr const char* rights = "Path=/; Secure; HttpOnly; SameSite=Strict";
  response.fields.emplace_back("Set-Cookie",
                               fmt::format("{}={}; {}", sessionCookie, *session, rights));
  response.fields.emplace_back("Set-Cookie", fmt::format("{}={}; Max-Age={}; {}", browserCookie,
                                                         *browser, browserKnown_ms / 1000, rights));
  return response;
}

}  // namespace swardwalk::server
