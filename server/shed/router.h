#pragma once

#include <cstdint>
#include <optional>

#include "server/http/message.h"
#include "server/shed/shed.h"

namespace swardwalk::server {

/// Whether everybody who reaches the shed is let in. `open` is for this machine alone,
/// where nobody needs to sign in; `guarded` asks everybody who they are.
enum class Door { open, guarded };

/// Says by the header alone what is wrong with a request: an unknown address, a wrong
/// method or type, somebody who may not, a body where none belongs. Nothing: it may go on.
std::optional<Response> refuseByHeader(const Request& request, Door door,
                                       std::optional<std::uint64_t> declaredBytes);

/// Answers what needs no journal: the page, its files, health. Nothing: ask the shed.
std::optional<Response> answerWithoutShed(const Request& request);

/// Answers everything else that was not refused. Call on the store's thread. Does not throw.
Response handleRequest(Shed& shed, const Request& request);

}  // namespace swardwalk::server
