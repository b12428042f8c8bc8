#pragma once

#include <cstdint>
#include <optional>

#include "server/door/caller.h"
#include "server/http/message.h"
#include "server/shed/shed.h"

namespace swardwalk::server {

/// Says by the header alone what is wrong with a request: an unknown address, a wrong
/// method or type, somebody who may not, a body where none belongs. Nothing: it may go on.
std::optional<Response> refuseByHeader(const Request& request, const Caller& caller,
                                       std::optional<std::uint64_t> declaredBytes);

/// The longest body that the address of a request takes; 0 where it takes none.
std::uint64_t mostBodyBytes(const Request& request);

/// Answers what needs no journal: the page and its files. Nothing: ask others.
std::optional<Response> answerWithoutShed(const Request& request);

/// Answers everything else that was not refused. Call on the store's thread. Does not throw.
Response handleRequest(Shed& shed, const Request& request, const Caller& caller);

}  // namespace swardwalk::server
