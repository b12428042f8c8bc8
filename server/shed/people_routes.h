#pragma once

#include "server/door/caller.h"
#include "server/http/message.h"
#include "server/shed/shed.h"

namespace swardwalk::server {

/// GET /api/me: who is signed in, and what they may.
Response answerMe(const Caller& caller);
/// POST /sign-out: this session is over; with `everywhere` all of this person's.
Response answerSignOut(Shed& shed, const Request& request, const Caller& caller, bool everywhere);

/// GET /api/devices: who exchanges, and whose records wait.
Response answerDevices(Shed& shed);
/// POST /api/pairing: a code, and the picture that a tablet reads.
Response answerNewCode(Shed& shed);
/// POST /api/shut-out and /api/accept: `{"origin": "<64 digits>"}`.
Response answerShutOut(Shed& shed, const Request& request);
Response answerAccept(Shed& shed, const Request& request, const Caller& caller);

}  // namespace swardwalk::server
