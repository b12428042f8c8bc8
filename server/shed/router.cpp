#include "server/shed/router.h"

#include <fmt/format.h>
#include <fmt/ranges.h>
#include <spdlog/spdlog.h>

#include <algorithm>
#include <exception>

#include "common/exchange/message.h"
#include "common/exchange/pairing.h"
#include "common/exchange/photos.h"
#include "server/http/gzip.h"
#include "server/limits.h"
#include "server/page_files.h"
#include "server/review/page_json.h"
#include "server/shed/choice_routes.h"
#include "server/shed/exchange_route.h"
#include "server/shed/pair_route.h"
#include "server/shed/people_routes.h"
#include "server/shed/photo_routes.h"
#include "server/shed/routes.h"

namespace swardwalk::server {
namespace {

constexpr std::string_view jsonType = "application/json";

/// A page of another site could otherwise reach the shed through a name of its own that
/// it lets point to this machine.
bool isOwnHost(std::string_view host) {
  if (host.starts_with("[::1]")) {
    host.remove_prefix(5);
    return host.empty() || host.front() == ':';
  }
  const std::string_view name = host.substr(0, host.find(':'));
  return name == "localhost" || name.starts_with("127.");
}

Response notFound() {
  return failureResponse(404, "not_found", "There is nothing at this address.");
}

Response ofFailure(const Failure& failure) {
  spdlog::error("{}", failure.text());
  if (failure.kind == FailureKind::busy) {
    return busyResponse(failure.text());
  }
  if (failure.kind == FailureKind::full) return failureResponse(507, "full", failure.text());
  return failureResponse(500, "journal", failure.text());
}

using Make = std::function<std::string(const CourseAnswers&)>;

Response apiAnswer(Shed& shed, const Request& request, const Make& make) {
  const auto version = shed.version();
  if (!version) return ofFailure(version.error());
  const std::string etag = '"' + *version + '"';
  Response response;
  response.fields.emplace_back("ETag", etag);
  response.fields.emplace_back("Cache-Control", "no-cache");
  if (request.etagKnown == etag) {
    response.status = 304;
    return response;
  }
  auto body = shed.cached(request.target, make);
  if (!body) return ofFailure(body.error());
  // No answer is empty: what makes none has nothing under this name.
  if (body->empty()) return notFound();
  response.body = std::move(*body);
  zipIfWorthIt(request, response);
  return response;
}

Response answerGreen(Shed& shed, const Request& request) {
  const std::string_view prefix = routes[static_cast<std::size_t>(RouteId::green)].path;
  const auto green = decodePercent(request.path().substr(prefix.size()));
  if (!green) return failureResponse(400, "bad_green", "The green's name is badly written.");
  return apiAnswer(shed, request,
                   [&](const CourseAnswers& all) { return review::greenJson(all, *green); });
}

Response answerPatch(Shed& shed, const Request& request) {
  const auto patch = request.query("patch");
  if (!patch) {
    return failureResponse(400, "bad_patch", "The address needs ?patch= and a patch's name.");
  }
  return apiAnswer(shed, request,
                   [&](const CourseAnswers& all) { return review::patchJson(all, *patch); });
}

/// What a route takes as its body: its types and how much; empty types: no body.
struct BodyRule {
  std::vector<std::string_view> types;
  std::size_t mostBytes = 0;
};

BodyRule bodyOf(const Route& route) {
  switch (route.id) {
    case RouteId::exchange:
      return {{exchange::zstdType, exchange::plainType}, Limits{}.bodyBytes};
    case RouteId::sendPhoto:
      return {{exchange::photoType}, exchange::limits::photoPartBytes};
    case RouteId::pair:
      return {{jsonType}, exchange::limits::pairingBytes};
    case RouteId::signIn:
    case RouteId::signOut:
    case RouteId::signOutEverywhere:
    case RouteId::newCode:
    case RouteId::shutOut:
    case RouteId::accept:
    case RouteId::choose:
    case RouteId::followPlan:
      return {{jsonType}, Limits{}.formBytes};
    default:
      return {};
  }
}

bool isOfThisMachine(std::string_view address) {
  return address.starts_with("127.") || address == "::1";
}

/// Nothing: this one may.
std::optional<Response> refuseCaller(const Request& request, const Caller& caller, Access access) {
  switch (access) {
    case Access::everybody:
      return std::nullopt;
    case Access::device:
      if (caller.device || caller.door == Door::open) return std::nullopt;
      return failureResponse(401, "not_let_in",
                             "The shed does not know who asks: this device is not paired, or was "
                             "shut out. Ask for a code at the shed.");
    case Access::machine:
      if (!caller.needsSignIn || isOfThisMachine(request.remote)) return std::nullopt;
      if (caller.person && caller.person->role == Role::manager) return std::nullopt;
      return failureResponse(401, "not_let_in", "This is for the shed's own machine.");
    case Access::crew:
      if (!caller.needsSignIn || caller.person) return std::nullopt;
      return failureResponse(401, "not_let_in", "The shed does not know who asks.");
    case Access::manager:
      if (!caller.needsSignIn) return std::nullopt;
      if (!caller.person) {
        return failureResponse(401, "not_let_in", "The shed does not know who asks.");
      }
      if (caller.person->role == Role::manager) return std::nullopt;
      return failureResponse(403, "managers_only", "Only a manager may do this.");
  }
  return notFound();
}

/// What the page sends must come from the page: a browser says whose page asks, and one
/// that does not cannot send JSON elsewhere without asking first, which is refused.
std::optional<Response> refuseOtherSite(const Request& request, const Route& route) {
  const bool ofDevices =
      route.id == RouteId::exchange || route.id == RouteId::pair || route.id == RouteId::sendPhoto;
  if (route.takes != Takes::post || ofDevices) return std::nullopt;
  const bool sameSite = request.fetchSite.empty() || request.fetchSite == "same-origin";
  const bool sameOrigin = request.origin.empty() || request.origin == "https://" + request.host ||
                          request.origin == "http://" + request.host;
  if (sameSite && sameOrigin) return std::nullopt;
  return failureResponse(403, "other_site", "This can be asked from the shed's own page only.");
}

std::optional<Response> refuseBody(const Request& request, const Route& route,
                                   std::optional<std::uint64_t> declaredBytes) {
  const BodyRule rule = bodyOf(route);
  if (rule.mostBytes == 0) {
    if (declaredBytes == std::uint64_t{0}) return std::nullopt;
    return failureResponse(413, "too_large", "This address takes no body.");
  }
  const std::string_view type =
      std::string_view(request.contentType).substr(0, request.contentType.find(';'));
  if (std::find(rule.types.begin(), rule.types.end(), type) == rule.types.end()) {
    return failureResponse(415, "wrong_type",
                           fmt::format("This address takes {}.", fmt::join(rule.types, " or ")));
  }
  if (declaredBytes && *declaredBytes > rule.mostBytes) {
    return failureResponse(413, "too_large",
                           "The request's body is too long; send it in smaller parts.");
  }
  return std::nullopt;
}

/// Every route is named here, so that one without an answer does not build.
Response answerRoute(Shed& shed, const Request& request, const Caller& caller, RouteId id) {
  switch (id) {
    case RouteId::page:
    case RouteId::asset:
    case RouteId::health:
    case RouteId::metrics:
    case RouteId::signIn:
      break;  // answered without the shed
    case RouteId::pair:
      return answerPairing(shed, request);
    case RouteId::exchange:
      return answerExchange(shed, request, caller);
    case RouteId::sendPhoto:
      return takePhoto(shed, request);
    case RouteId::photo:
      return givePhoto(shed, request);
    case RouteId::me:
      return answerMe(caller);
    case RouteId::signOut:
      return answerSignOut(shed, request, caller, false);
    case RouteId::signOutEverywhere:
      return answerSignOut(shed, request, caller, true);
    case RouteId::devices:
      return answerDevices(shed);
    case RouteId::newCode:
      return answerNewCode(shed);
    case RouteId::shutOut:
      return answerShutOut(shed, request);
    case RouteId::accept:
      return answerAccept(shed, request, caller);
    case RouteId::choose:
      return answerChoose(shed, request, caller);
    case RouteId::followPlan:
      return answerFollowPlan(shed, request, caller);
    case RouteId::overview:
      return apiAnswer(shed, request, review::overviewJson);
    case RouteId::repairs:
      return apiAnswer(shed, request, review::repairsJson);
    case RouteId::progress:
      return apiAnswer(shed, request, [](const CourseAnswers& all) {
        return answers::progressJson(all.progress, all.zone);
      });
    case RouteId::plan:
      return apiAnswer(shed, request,
                       [](const CourseAnswers& all) { return answers::planJson(all.plan); });
    case RouteId::patch:
      return answerPatch(shed, request);
    case RouteId::green:
      return answerGreen(shed, request);
  }
  return notFound();
}

}  // namespace

std::optional<Response> refuseByHeader(const Request& request, const Caller& caller,
                                       std::optional<std::uint64_t> declaredBytes) {
  if (caller.door == Door::open && !isOwnHost(request.host)) {
    return failureResponse(421, "wrong_host", "The shed answers to this machine's own name only.");
  }
  const Route* route = routeOf(request.path());
  if (!route) return notFound();
  const bool takesPost = route->takes == Takes::post;
  if (takesPost ? request.method != Method::post
                : request.method != Method::get && request.method != Method::head) {
    Response response = failureResponse(
        405, "wrong_method", takesPost ? "This address takes POST." : "This address takes GET.");
    response.fields.emplace_back("Allow", takesPost ? "POST" : "GET, HEAD");
    return response;
  }
  if (auto refusal = refuseOtherSite(request, *route)) return refusal;
  if (auto refusal = refuseCaller(request, caller, route->access)) return refusal;
  return refuseBody(request, *route, declaredBytes);
}

std::uint64_t mostBodyBytes(const Request& request) {
  const Route* route = routeOf(request.path());
  return route ? bodyOf(*route).mostBytes : 0;
}

std::optional<Response> answerWithoutShed(const Request& request) {
  const std::string_view path = request.path();
  const Route* route = routeOf(path);
  if (!route) return notFound();
  Response response;
  const PageFile* file = nullptr;
  if (route->id == RouteId::page) {
    file = pageFile("index.html");
    response.fields.emplace_back("Cache-Control", "no-cache");
  } else if (route->id == RouteId::asset) {
    file = assetFile(path.substr(route->path.size()));
    // The digest in its address changes with its content.
    response.fields.emplace_back("Cache-Control", "public, max-age=31536000, immutable");
  } else {
    return std::nullopt;
  }
  if (!file) return notFound();
  response.contentType = file->contentType;
  if (file->contentType.starts_with("text/")) response.contentType += "; charset=utf-8";
  response.body = file->bytes;
  zipIfWorthIt(request, response);
  return response;
}

Response handleRequest(Shed& shed, const Request& request, const Caller& caller) {
  try {
    const Route* route = routeOf(request.path());
    return route ? answerRoute(shed, request, caller, route->id) : notFound();
  } catch (const std::exception& problem) {
    spdlog::error("{}: {}", request.path(), problem.what());
    return failureResponse(500, "mistake",
                           "The server made a mistake; nothing that was saved is lost.");
  }
}

}  // namespace swardwalk::server
