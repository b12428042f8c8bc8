#include "server/shed/exchange_route.h"

#include <fmt/format.h>
#include <spdlog/spdlog.h>

#include <boost/json.hpp>
#include <cstdlib>

#include "common/exchange/compression.h"
#include "common/exchange/exchange.h"
#include "common/journal/folder.h"
#include "server/shed/pair_route.h"

namespace swardwalk::server {
namespace {

constexpr const char* deviceName = "Shed";

/// Says which protocol is spoken here, so that a client that knows it can ask again in it.
Response newerProtocol() {
  Response response;
  response.status = 400;
  response.body = boost::json::serialize(boost::json::object{
      {"error", "newer_protocol"},
      {"reason", fmt::format("This shed speaks exchange protocol {}, and the device a newer one. "
                             "Nothing was taken, and nothing is lost. Update the shed's program.",
                             exchange::protocolVersion)},
      {"protocol", exchange::protocolVersion}});
  return response;
}

Response refusalOf(const Failure& failure) {
  const std::string reason = failure.text();
  switch (failure.kind) {
    case FailureKind::refused:
      return failureResponse(409, "other_course", reason);
    case FailureKind::newer:
      return newerProtocol();
    case FailureKind::notFound:
      return failureResponse(409, "no_course", reason);
    case FailureKind::invalid:
    case FailureKind::corrupt:
      return failureResponse(400, "bad_message", reason);
    case FailureKind::busy:
      return busyResponse(reason);
    case FailureKind::full:
      return failureResponse(507, "full", reason);
    default:
      break;
  }
  spdlog::error("{}", reason);
  return failureResponse(500, "journal", reason);
}

Result<exchange::Message> questionOf(const Request& request) {
  if (request.contentType != exchange::zstdType) return exchange::readMessage(request.body);
  const auto lines = exchange::decompress(request.body, exchange::limits::messageBytes);
  if (!lines) return tl::unexpected(lines.error());
  return exchange::readMessage(*lines);
}

/// A token is good for one origin; a message that does not say who sends it is nobody else's.
bool isAnothers(const Caller& caller, const exchange::Hello& hello) {
  return caller.device && hello.origin != journal::OriginKey{} &&
         hello.origin != caller.device->origin;
}

constexpr std::int64_t worthNoting_ms = 60'000;

/// Notes that a device was here, and vouches for it, where that is still to do.
void afterExchange(Shed& shed, const Device& device) {
  if (auto vouched = vouchFor(shed, device); !vouched) spdlog::warn("{}", vouched.error().text());
  if (device.seen_ms && std::abs(shed.now_ms() - *device.seen_ms) < worthNoting_ms) return;
  if (auto seen = shed.devices().setSeen(device.origin, shed.now_ms()); !seen) {
    spdlog::warn("{}", seen.error().text());
  }
}

}  // namespace

Response answerExchange(Shed& shed, const Request& request, const Caller& caller) {
  const auto question = questionOf(request);
  if (!question) return refusalOf(question.error());
  if (isAnothers(caller, question->hello)) {
    return failureResponse(403, "other_origin",
                           "This device writes under another key than when it was paired, because "
                           "it was copied or restored. Ask for a new code at the shed.");
  }
  const auto shutOut = shed.devices().shutOutOrigins();
  if (!shutOut) return refusalOf(shutOut.error());

  journal::Journal& journal = shed.journal();
  if (caller.device) {
    if (auto vouched = vouchFor(shed, *caller.device); !vouched) return refusalOf(vouched.error());
  }
  if (!question->hello.course && !journal.course()) {
    std::array<std::uint8_t, 16> nonce{};
    journal::systemRandom(nonce.data(), nonce.size());
    if (auto founded = journal.found(nonce, shed.now_ms(), deviceName); !founded) {
      return refusalOf(founded.error());
    }
    spdlog::info("a blank tablet met a blank shed: the course begins here");
  }

  exchange::AnswerOptions options;
  options.wall_ms = shed.now_ms();
  options.vouching =
      caller.door == Door::open ? journal::Vouching::accepted : journal::Vouching::waiting;
  options.isShutOut = [&](const journal::OriginKey& origin) { return shutOut->contains(origin); };
  options.missing = [&] {
    const journal::OriginKey asker = caller.device ? caller.device->origin : question->hello.origin;
    auto missing = shed.missingPhotos(asker);
    if (missing) return std::move(*missing);
    spdlog::warn("{}", missing.error().text());
    return std::vector<exchange::MissingPhoto>();  // named at the next exchange
  };
  auto answer = exchange::answer(journal, *question, options);
  if (!answer) return refusalOf(answer.error());
  for (const std::string& alarm : answer->alarms) spdlog::warn("{}", alarm);
  if (caller.device) afterExchange(shed, *caller.device);
  if (answer->received > 0) spdlog::info("{} records came in", answer->received);
  if (answer->ownOriginForked) {
    // The asker learns the new origin's records at its next question.
    spdlog::warn("somebody else writes under this shed's key: it writes on under a new one");
    if (auto renewed = shed.renewOrigin(); !renewed) return refusalOf(renewed.error());
  }

  Response response;
  response.contentType = request.contentType;
  response.body = exchange::write(answer->message);
  if (request.contentType == exchange::zstdType) {
    response.body = exchange::compress(response.body);
  }
  response.forDevices = true;
  return response;
}

}  // namespace swardwalk::server
