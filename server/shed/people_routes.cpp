#include "server/shed/people_routes.h"

#include <fmt/format.h>
#include <spdlog/spdlog.h>

#include <boost/json.hpp>

#include "common/course/recorder.h"
#include "common/exchange/pairing.h"
#include "server/door/known_devices.h"
#include "server/door/qr_picture.h"
#include "server/shed/sign_in_desk.h"

namespace swardwalk::server {
namespace {

namespace json = boost::json;

Response ofDoor(const Failure& failure) {
  if (failure.kind == FailureKind::busy) return busyResponse(failure.text());
  if (failure.kind == FailureKind::refused) return failureResponse(409, "refused", failure.text());
  spdlog::error("{}", failure.text());
  return failureResponse(500, "door", failure.text());
}

Response jsonResponse(const json::value& body) {
  Response response;
  response.body = json::serialize(body);
  response.fields.emplace_back("Cache-Control", "no-store");
  return response;
}

std::string wordsOf(Shed& shed, const std::optional<std::int64_t>& time_ms) {
  const auto present = shed.answers();
  if (!time_ms || !present) return {};
  const auto at = measure::Instant(std::chrono::milliseconds(*time_ms));
  const measure::Zone& zone = (*present)->zone;
  return fmt::format("{}, {}", measure::wordsDate(zone.dateOf(at)), zone.clockTime(at));
}

json::object deviceJson(Shed& shed, const Device& device, bool isAccepted) {
  std::string state = device.paired ? "Paired" : "Never paired";
  if (device.shutOut) {
    state = device.paired ? "Paired again; what it wrote since it was shut out waits"
                          : "Shut out; what it writes waits";
  } else if (!isAccepted && !device.vouched) {
    state = "A stranger: its records wait";
  }
  return {{"origin", journal::hex(device.origin)},
          {"short", journal::hex(device.origin.data(), 4)},
          {"name", device.name.empty() ? "Without a name" : device.name},
          {"state", state},
          {"seen", wordsOf(shed, device.seen_ms)},
          {"waits", device.shutOut || (!isAccepted && !device.vouched)},
          {"may_shut_out", !device.shutOut}};
}

std::optional<journal::OriginKey> originIn(const std::string& body) {
  json::error_code error;
  const json::value value = json::parse(body, error);
  if (error || !value.is_object()) return std::nullopt;
  const json::value* text = value.get_object().if_contains("origin");
  if (!text || !text->is_string()) return std::nullopt;
  return journal::parseHex<32>({text->get_string().data(), text->get_string().size()});
}

Response badOrigin() {
  return failureResponse(400, "bad_message", "The origin of a device belongs here, as JSON.");
}

bool isAccepted(const journal::Journal& journal, const journal::OriginKey& origin) {
  for (const journal::OriginInfo& info : journal.origins()) {
    if (info.origin == origin) return info.accepted;
  }
  return false;
}

std::string endedCookie() {
  return fmt::format("{}=; Max-Age=0; Path=/; Secure; HttpOnly; SameSite=Strict", sessionCookie);
}

}  // namespace

Response answerMe(const Caller& caller) {
  json::object me{{"name", nullptr}, {"role", "manager"}};
  if (caller.person) {
    const std::string_view role = roleName(caller.person->role);
    me["name"] = caller.person->name;
    me["role"] = json::string_view(role.data(), role.size());
  }
  return jsonResponse(me);
}

Response answerSignOut(Shed& shed, const Request& request, const Caller& caller, bool everywhere) {
  const auto ended = everywhere && caller.person
                         ? shed.sessions().endAllOf(caller.person->name)
                         : shed.sessions().end(request.cookie(sessionCookie));
  if (!ended) return ofDoor(ended.error());
  Response response = jsonResponse(json::object{{"signed_out", true}});
  response.fields.emplace_back("Set-Cookie", endedCookie());
  return response;
}

Response answerDevices(Shed& shed) {
  const auto devices = knownDevices(shed.devices(), shed.journal());
  if (!devices) return ofDoor(devices.error());
  json::array listed;
  for (const Device& device : *devices) {
    if (device.origin == shed.journal().origin()) continue;
    listed.push_back(deviceJson(shed, device, isAccepted(shed.journal(), device.origin)));
  }
  return jsonResponse(json::object{{"devices", std::move(listed)}});
}

Response answerNewCode(Shed& shed) {
  const auto code = shed.devices().makeCode(shed.now_ms());
  if (!code) return ofDoor(code.error());
  const auto address = shed.address();
  if (!address) return ofDoor(address.error());
  json::object shown{{"code", exchange::writtenCode(code->code)},
                     {"ends", wordsOf(shed, code->ends_ms)},
                     {"address", *address},
                     {"fingerprint", shed.fingerprint()}};
  if (!shed.fingerprint().empty()) {
    shown["picture"] =
        qrPicture(exchange::write(exchange::PairingCard{*address, shed.fingerprint(), code->code}));
  }
  return jsonResponse(shown);
}

Response answerShutOut(Shed& shed, const Request& request) {
  const auto origin = originIn(request.body);
  if (!origin || *origin == shed.journal().origin()) return badOrigin();
  if (auto done = shed.devices().shutOut(*origin); !done) return ofDoor(done.error());
  spdlog::warn("device {} was shut out", journal::hex(origin->data(), 4));
  return jsonResponse(json::object{{"shut_out", journal::hex(*origin)}});
}

Response answerAccept(Shed& shed, const Request& request, const Caller& caller) {
  const auto origin = originIn(request.body);
  if (!origin) return badOrigin();
  if (!isAccepted(shed.journal(), *origin)) {
    course::Pen pen;
    if (caller.person) pen.authorName = caller.person->name;
    course::Recorder recorder(shed.journal(), pen, [&] { return shed.now_ms(); });
    if (auto accepted = recorder.accept(*origin); !accepted) return ofDoor(accepted.error());
  }
  if (auto let = shed.devices().accept(*origin); !let) return ofDoor(let.error());
  spdlog::info("device {} was accepted", journal::hex(origin->data(), 4));
  return jsonResponse(json::object{{"accepted", journal::hex(*origin)}});
}

}  // namespace swardwalk::server
