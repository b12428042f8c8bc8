#pragma once

#include "server/door/caller.h"
#include "server/http/message.h"
#include "server/shed/shed.h"

namespace swardwalk::server {

/// POST /exchange: one message in, one out, as PROTOCOL.md says. A blank asker that meets
/// a blank shed makes the shed found the course first. A paired device is vouched for, and
/// nobody else whose records it brings; what a device that was shut out wrote since waits.
Response answerExchange(Shed& shed, const Request& request, const Caller& caller);

}  // namespace swardwalk::server
