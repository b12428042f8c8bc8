#pragma once

#include "server/door/caller.h"
#include "server/http/message.h"
#include "server/shed/shed.h"

namespace swardwalk::server {

/// POST /api/choose: a manager decides what is done with a patch, and who does it:
/// `{"patch": "…", "choice": "turf", "why": "…", "who": "…"}`; the last two may be missing.
Response answerChoose(Shed& shed, const Request& request, const Caller& caller);

/// POST /api/follow-plan: what people chose for a patch is taken back: `{"patch": "…"}`.
Response answerFollowPlan(Shed& shed, const Request& request, const Caller& caller);

}  // namespace swardwalk::server
