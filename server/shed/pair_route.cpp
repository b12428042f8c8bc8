#include "server/shed/pair_route.h"

#include <spdlog/spdlog.h>

#include <algorithm>

#include "common/course/recorder.h"
#include "common/exchange/pairing.h"

namespace swardwalk::server {
namespace {

Response slowDown(std::chrono::milliseconds wait) {
  Response response = failureResponse(
      429, "too_many_tries", "Too many wrong codes came from here. Wait, and then try again.");
  const auto seconds = std::chrono::ceil<std::chrono::seconds>(wait).count();
  response.fields.emplace_back("Retry-After", std::to_string(seconds));
  return response;
}

}  // namespace

Result<void> vouchFor(Shed& shed, const Device& device) {
  journal::Journal& journal = shed.journal();
  if (device.vouched || device.shutOut || !journal.course()) return {};
  const auto origins = journal.origins();
  const bool accepted = std::any_of(origins.begin(), origins.end(), [&](const auto& info) {
    return info.origin == device.origin && info.accepted;
  });
  if (!accepted) {
    course::Recorder recorder(journal, {}, [&] { return shed.now_ms(); });
    if (auto written = recorder.accept(device.origin); !written) {
      return tl::unexpected(written.error());
    }
  }
  return shed.devices().setVouched(device.origin);
}

Response answerPairing(Shed& shed, const Request& request) {
  const auto question = exchange::parsePairingQuestion(request.body);
  if (!question) return failureResponse(400, "bad_message", question.error().text());
  const auto now = std::chrono::steady_clock::now();
  Slowing& slowing = shed.pairingTries();
  if (const auto wait = slowing.wait(request.remote, now); wait.count() > 0) return slowDown(wait);
  if (!exchange::verifies(*question, shed.fingerprint())) {
    slowing.failed(request.remote, now);
    return failureResponse(403, "bad_signature",
                           "The device does not show that the key is its own, or met another "
                           "certificate. Nothing was paired.");
  }
  const auto token =
      shed.devices().pair(question->code, question->origin, question->device, shed.now_ms());
  if (!token) {
    if (token.error().kind != FailureKind::refused) {
      spdlog::error("{}", token.error().text());
      return failureResponse(500, "door", token.error().text());
    }
    slowing.failed(request.remote, now);
    spdlog::warn("a wrong code was tried from {}", request.remote);
    return failureResponse(403, "wrong_code", token.error().text());
  }
  slowing.succeeded(request.remote);
  const auto device = shed.devices().withOrigin(question->origin);
  if (device && *device) {
    // What fails now is done at its first exchange.
    if (auto vouched = vouchFor(shed, **device); !vouched) {
      spdlog::warn("{}", vouched.error().text());
    }
    spdlog::info("device {} is paired", journal::hex(question->origin.data(), 4));
  }
  Response response;
  response.body = exchange::writePairingAnswer(*token);
  response.fields.emplace_back("Cache-Control", "no-store");
  return response;
}

}  // namespace swardwalk::server
