#include "server/shed/photo_routes.h"

#include <spdlog/spdlog.h>

#include "common/exchange/photos.h"
#include "server/shed/routes.h"

namespace swardwalk::server {
namespace {

Response refusalOf(const Failure& failure) {
  const std::string reason = failure.text();
  switch (failure.kind) {
    case FailureKind::invalid:
      return failureResponse(400, "bad_photo", reason);
    case FailureKind::corrupt:
      return failureResponse(400, "wrong_digest", reason);
    case FailureKind::busy:
      return busyResponse(reason);
    case FailureKind::full:
      return failureResponse(507, "full", reason);
    default:
      break;
  }
  spdlog::error("{}", reason);
  return failureResponse(500, "photos", reason);
}

Response notNamed() {
  return failureResponse(404, "not_named", "No record here names this picture.");
}

/// A tablet's camera writes one of these; anything else is given as bytes that no browser
/// shows, whatever it was named.
std::string typeOf(std::string_view picture) {
  if (picture.starts_with("\xFF\xD8\xFF")) return "image/jpeg";
  if (picture.starts_with("\x89PNG\r\n\x1A\n")) return "image/png";
  return "application/octet-stream";
}

}  // namespace

Response takePhoto(Shed& shed, const Request& request) {
  const auto target = exchange::parsePhotoTarget(request.target);
  if (!target) return refusalOf(target.error());
  const auto named = shed.namesPhoto(target->photo);
  if (!named) return refusalOf(named.error());
  if (!*named) return notNamed();
  const auto have = shed.photos().take(target->photo, target->from, target->of, request.body);
  if (!have) return refusalOf(have.error());
  if (*have == target->of) spdlog::info("a photo came in");
  Response response;
  response.body = exchange::writePhotoAnswer(*have);
  response.fields.emplace_back("Cache-Control", "no-store");
  return response;
}

Response givePhoto(Shed& shed, const Request& request) {
  const std::string_view prefix = routes[static_cast<std::size_t>(RouteId::photo)].path;
  const auto photo = journal::parseHex<32>(request.path().substr(prefix.size()));
  if (!photo) return notNamed();
  const auto named = shed.namesPhoto(*photo);
  if (!named) return refusalOf(named.error());
  if (!*named) return notNamed();

  Response response;
  const std::string etag = '"' + journal::hex(*photo) + '"';
  response.fields.emplace_back("ETag", etag);
  // Asked for again each time: an erased picture must not stay in a browser's view.
  response.fields.emplace_back("Cache-Control", "private, no-cache");
  if (request.etagKnown == etag && shed.photos().holds(*photo)) {
    response.status = 304;
    return response;
  }
  auto picture = shed.photos().read(*photo);
  if (!picture && picture.error().kind == FailureKind::notFound) {
    return failureResponse(404, "not_here",
                           "This picture has not come yet: the tablet that took it has it.");
  }
  if (!picture) {
    if (picture.error().kind == FailureKind::corrupt) shed.photos().drop(*photo);
    return refusalOf(picture.error());
  }
  response.contentType = typeOf(*picture);
  response.body = std::move(*picture);
  return response;
}

}  // namespace swardwalk::server
