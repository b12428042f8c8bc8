#pragma once

#include <array>
#include <string_view>

namespace swardwalk::server {

/// Who may use an address of a shed that stands on a network. On a loopback address
/// without a door everybody is who uses this machine, and may use them all.
enum class Access {
  everybody,  ///< whoever reaches the shed
  device,     ///< a paired device, by its token
  machine,    ///< whoever asks from this machine itself, or a manager who signed in
  crew,       ///< somebody who signed in, crew or manager
  manager     ///< somebody who signed in as manager
};

/// What the server can be asked for.
enum class RouteId {
  page,
  asset,
  health,
  metrics,
  signIn,
  pair,
  exchange,
  sendPhoto,
  photo,
  me,
  signOut,
  signOutEverywhere,
  overview,
  repairs,
  progress,
  plan,
  patch,
  green,
  devices,
  newCode,
  shutOut,
  accept,
  choose,
  followPlan
};

enum class Takes { get, post };

struct Route {
  RouteId id;
  std::string_view path;  ///< ends in '/' where what follows is part of the question
  Takes takes;
  Access access;
};

/// The one table of addresses: what is not in it does not exist.
inline constexpr auto routes = std::to_array<Route>({
    {RouteId::page, "/", Takes::get, Access::everybody},
    {RouteId::asset, "/assets/", Takes::get, Access::everybody},
    {RouteId::health, "/health", Takes::get, Access::everybody},
    {RouteId::metrics, "/metrics", Takes::get, Access::machine},
    {RouteId::signIn, "/sign-in", Takes::post, Access::everybody},
    {RouteId::pair, "/pair", Takes::post, Access::everybody},
    {RouteId::exchange, "/exchange", Takes::post, Access::device},
    {RouteId::sendPhoto, "/photos/", Takes::post, Access::device},
    {RouteId::photo, "/photo/", Takes::get, Access::crew},
    {RouteId::me, "/api/me", Takes::get, Access::crew},
    {RouteId::signOut, "/sign-out", Takes::post, Access::crew},
    {RouteId::signOutEverywhere, "/sign-out-everywhere", Takes::post, Access::crew},
    {RouteId::overview, "/api/overview", Takes::get, Access::crew},
    {RouteId::repairs, "/api/repairs", Takes::get, Access::crew},
    {RouteId::progress, "/api/progress", Takes::get, Access::crew},
    {RouteId::plan, "/api/plan", Takes::get, Access::crew},
    {RouteId::patch, "/api/patch", Takes::get, Access::crew},
    {RouteId::green, "/api/greens/", Takes::get, Access::crew},
    {RouteId::devices, "/api/devices", Takes::get, Access::manager},
    {RouteId::newCode, "/api/pairing", Takes::post, Access::manager},
    {RouteId::shutOut, "/api/shut-out", Takes::post, Access::manager},
    {RouteId::accept, "/api/accept", Takes::post, Access::manager},
    {RouteId::choose, "/api/choose", Takes::post, Access::manager},
    {RouteId::followPlan, "/api/follow-plan", Takes::post, Access::manager},
});

/// The table is found by its order, so that a route that nobody entered cannot be built.
constexpr bool stand(RouteId id) { return routes[static_cast<std::size_t>(id)].id == id; }
static_assert(routes.size() == static_cast<std::size_t>(RouteId::followPlan) + 1,
              "every RouteId has its line in the table");
static_assert(
    [] {
      for (const Route& route : routes) {
        if (!stand(route.id)) return false;
      }
      return true;
    }(),
    "the table stands in the order of RouteId");

/// What a path asks for, or nullptr.
constexpr const Route* routeOf(std::string_view path) {
  for (const Route& route : routes) {
    const bool more = route.path.size() > 1 && route.path.ends_with('/');
    if (more ? path.starts_with(route.path) : path == route.path) return &route;
  }
  return nullptr;
}

}  // namespace swardwalk::server
